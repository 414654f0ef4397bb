/** Writes what has changed and nothing else: a phone draws anew whatever is written, and who watches takes it for news. */

/** @param {Element} place @param {string} text */
export function write(place, text) {
  if (place.textContent !== text) place.textContent = text;
}

/** @param {HTMLElement} place @param {boolean} isHidden */
export function hide(place, isHidden) {
  if (place.hidden !== isHidden) place.hidden = isHidden;
}
