/**
 * Where the journal's files lie: in the origin's private file system, else in Cache storage. A file is written by one
 * window alone, only ever at its end, and locked by its name as long as it is written.
 *
 * @typedef {object} Folder
 * @property {() => Promise<string[]>} names in order
 * @property {(name: string) => AsyncIterable<string>} read the text, piece by piece
 * @property {(name: string) => Promise<(text: string) => Promise<void>>} writer adds to the end of a new file
 * @property {(name: string) => Promise<number>} size bytes
 * @property {((name: string, to: string) => Promise<void>)|null} rename null where files keep their names
 * @property {(name: string) => Promise<void>} remove
 */

const NAME = "tankfoot-journal";
const CACHE = "journal-of-tankfoot"; // not among the caches of the app's files, which each new version clears
const PIECE = 2 ** 20; // bytes read at a time

/** @returns {Promise<Folder|null>} null where this browser has room for neither */
export async function openFolder() {
  for (const open of [privateFiles, cachedFiles]) {
    try {
      const folder = await open();
      if (folder) return folder;
    } catch (error) {
      if (!(error instanceof DOMException) && !(error instanceof TypeError)) throw error;
      console.info("no journal there:", error.message);
    }
  }
  return null;
}

async function privateFiles() {
  if (!globalThis.FileSystemFileHandle?.prototype.createSyncAccessHandle) return null;
  const folder = await (await navigator.storage.getDirectory()).getDirectoryHandle(NAME, { create: true });
  return {
    async names() {
      const found = [];
      for await (const name of folder.keys()) found.push(name);
      return found.sort();
    },
    async* read(name) {
      const file = await (await folder.getFileHandle(name)).getFile();
      const decoder = new TextDecoder();
      for (let at = 0; at < file.size; at += PIECE) {
        yield decoder.decode(await file.slice(at, at + PIECE).arrayBuffer(), { stream: true });
      }
    },
    async writer(name) {
      const file = await (await folder.getFileHandle(name, { create: true })).createSyncAccessHandle();
      let end = file.getSize();
      return async (text) => {
        end += file.write(new TextEncoder().encode(text), { at: end });
      };
    },
    size: async (name) => (await (await folder.getFileHandle(name)).getFile()).size,
    rename: "move" in FileSystemFileHandle.prototype
      ? async (name, to) => /** @type {any} */ (await folder.getFileHandle(name)).move(to) : null,
    remove: (name) => folder.removeEntry(name),
  };
}

async function cachedFiles() {
  if (!globalThis.caches) return null;
  const cache = await caches.open(CACHE);
  const parts = async () => (await cache.keys()).map(({ url }) => url.split("/").slice(-2));
  const address = (name, part) => new URL(`/${NAME}/${name}/${String(part).padStart(9, "0")}`, location.href);
  const partsOf = async (name) => (await parts()).filter(([of]) => of === name).map(([, part]) => part).sort();
  return {
    names: async () => [...new Set((await parts()).map(([name]) => name))].sort(),
    async* read(name) {
      for (const part of await partsOf(name)) yield (await cache.match(address(name, part))).text();
    },
    async writer(name) {
      let part = 0;
      return async (text) => {
        part += 1;
        await cache.put(address(name, part), new Response(text));
      };
    },
    rename: null,
    async size(name) {
      const parts = await partsOf(name);
      const sizes = parts.map(async (part) => (await (await cache.match(address(name, part))).blob()).size);
      return (await Promise.all(sizes)).reduce((all, size) => all + size, 0);
    },
    async remove(name) {
      for (const part of await partsOf(name)) await cache.delete(address(name, part));
    },
  };
}
