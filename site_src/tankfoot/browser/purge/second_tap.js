/**
 * A tap that lands where the last button was, just after the screen has changed, is no tap: it was meant for the button
 * that is gone. Closed and the way to the cards are always taken where they stood before the screen changed; where
 * they come to stand on the spot of another button, the second tap was still meant for that one.
 */

const JUST_NOW = 700; // ms. Common practice, no source
const SAME_SPOT = 48; // px: a wet glove's second tap is not on the same pixel
const ALWAYS = "[data-event=closed], [data-event-link], .trouble";

/** @param {(isNot: boolean) => void} tell that a tap was not taken, or that one was */
export function guardSecondTaps(tell) {
  let changed = -Infinity; // when the screen changed last, ms
  let last = null; // the tap that changed it: its spot, and the places that Closed and the cards had then

  addEventListener("click", (event) => {
    const isTap = event.detail > 0; // a key's click has no place
    if (isTap && isSecond(event) && !isAlwaysTaken(event)) {
      event.preventDefault();
      event.stopImmediatePropagation();
      tell(true);
      return;
    }
    if (isTap) last = { x: event.clientX, y: event.clientY, places: placesNow() };
    tell(false);
  }, { capture: true });

  function isSecond({ clientX, clientY, timeStamp }) {
    return last !== null && timeStamp - changed < JUST_NOW && Math.hypot(clientX - last.x, clientY - last.y) < SAME_SPOT;
  }

  function isAlwaysTaken({ target, clientX, clientY }) {
    return target.closest(ALWAYS) !== null && last.places.some(({ left, right, top, bottom }) => (
      left <= clientX && clientX <= right && top <= clientY && clientY <= bottom
    ));
  }

  /** The screen has changed: by a tap at the spot, or of itself. */
  return () => { changed = performance.now(); };
}

function placesNow() {
  const shown = [...document.querySelectorAll(ALWAYS)].filter((each) => each.checkVisibility());
  return shown.map((each) => each.getBoundingClientRect());
}
