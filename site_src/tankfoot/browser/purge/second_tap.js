/**
 * A tap that lands where the last button was, just after the screen has changed, is no tap: it was meant for the button
 * that is gone. Closed and the way to the cards have places of their own and are always taken.
 */

const JUST_NOW = 700; // ms. Common practice, no source
const SAME_SPOT = 48; // px: a wet glove's second tap is not on the same pixel
const ALWAYS = "[data-event=closed], [data-event-link], .trouble";

/** @param {(isNot: boolean) => void} tell that a tap was not taken, or that one was */
export function guardSecondTaps(tell) {
  let changed = -Infinity; // when the screen changed last, ms
  let spot = null; // of the tap that changed it

  addEventListener("click", (event) => {
    const isTap = event.detail > 0; // a key's click has no place
    if (isTap && isSecond(event) && !event.target.closest(ALWAYS)) {
      event.preventDefault();
      event.stopImmediatePropagation();
      tell(true);
      return;
    }
    if (isTap) spot = { x: event.clientX, y: event.clientY };
    tell(false);
  }, { capture: true });

  function isSecond({ clientX, clientY, timeStamp }) {
    return spot !== null && timeStamp - changed < JUST_NOW && Math.hypot(clientX - spot.x, clientY - spot.y) < SAME_SPOT;
  }

  /** The screen has changed: by a tap at the spot, or of itself. */
  return () => { changed = performance.now(); };
}
