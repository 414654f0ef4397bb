/** A photo made small enough to keep in the record. */

import { words } from "../../wording/words.js";
import { orShowTrouble } from "../parts/trouble.js";
import { RecordTrouble } from "../storage/database.js";
import { newEntry, put } from "../storage/record.js";

const LONGEST_SIDE = 1024; // px
const QUALITY = 0.7;

/**
 * @param {HTMLElement} page @param {() => object} current the purge under way
 * @param {(work: Promise<boolean>) => Promise<boolean>} kept says on the screen what is on the disk
 */
export function listenToPhoto(page, current, kept) {
  page.querySelector("[data-photo]").addEventListener("change", async ({ target }) => {
    const [file] = target.files;
    const photo = file && await orShowTrouble(keepPhoto(file, current().demo));
    if (!photo || !await kept(current().keep({ photo: photo.id }))) return;
    page.querySelector("[data-photo-kept]").textContent = words("purge.photo_saved");
  });
}

/** Scales an image file down and writes it as an entry; returns the entry. Throws a RecordTrouble where it is none. */
async function keepPhoto(file, demo) {
  const image = await pictureIn(file);
  const scale = Math.min(1, LONGEST_SIDE / Math.max(image.width, image.height));
  const canvas = document.createElement("canvas");
  canvas.width = Math.round(image.width * scale);
  canvas.height = Math.round(image.height * scale);
  canvas.getContext("2d").drawImage(image, 0, 0, canvas.width, canvas.height);
  const address = canvas.toDataURL("image/jpeg", QUALITY);
  const entry = { ...newEntry("photo", { type: "image/jpeg", data: address.split(",")[1] }), demo };
  await put(entry);
  return entry;
}

/** A browser reads the kinds of pictures that it knows, of a file that is still there. */
async function pictureIn(file) {
  try {
    return await createImageBitmap(file);
  } catch (error) {
    if (!(error instanceof DOMException)) throw error;
    throw new RecordTrouble("photo", { cause: error });
  }
}
