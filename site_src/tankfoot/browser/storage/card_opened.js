/** When an emergency card was last opened on this phone: a check made before that is asked again. */

const KEY = "tankfoot-card-opened";

/** Notes that one is open now; false where the phone refuses. */
export function noteCard() {
  try {
    if (!localStorage) return false;
    localStorage.setItem(KEY, new Date().toISOString());
    return true;
  } catch (error) {
    if (error instanceof DOMException) return false;
    throw error;
  }
}

/** @returns {string|null} the instant, null where none is known */
export function cardOpened() {
  try {
    return localStorage?.getItem(KEY) ?? null;
  } catch (error) {
    if (error instanceof DOMException) return null;
    throw error;
  }
}
