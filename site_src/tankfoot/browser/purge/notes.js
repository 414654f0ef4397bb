/** The notes of a purge: kept when the field is left, and when the phone is locked with the field still in use. */

/** @param {(said: string) => Promise<boolean>} keep tells whether it is kept */
export function openNotes(field, keep) {
  let isTyped = false; // and not kept yet

  async function keepTyped() {
    if (!isTyped) return;
    isTyped = false;
    const isKept = await keep(field.value.trim());
    isTyped ||= !isKept;
  }

  field.addEventListener("input", () => { isTyped = true; });
  field.addEventListener("change", keepTyped);
  addEventListener("pagehide", keepTyped);
  document.addEventListener("visibilitychange", () => { if (document.hidden) keepTyped(); });
  return {
    said: () => field.value.trim(),
    show(noted) { if (!isTyped) field.value = noted; },
  };
}
