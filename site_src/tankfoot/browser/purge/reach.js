/** The buttons under the thumb: where they would cover the question, as where large text makes them tall, they scroll. */

const MOST = 0.6; // of the screen's height

/** @param {HTMLElement} page */
export function watchReach(page) {
  const observer = new ResizeObserver((seen) => {
    for (const { target } of seen) {
      target.toggleAttribute("data-tall", target.scrollHeight > Math.min(MOST * innerHeight, roomBelow(target)));
      target.scrollTop = target.scrollHeight; // of what stays fixed all the same, Closed and the cards come first
    }
  });
  for (const reach of page.querySelectorAll(".reach")) observer.observe(reach);
}

/** px between the end of the question, while the page stands at its top, and where the buttons would end. */
function roomBelow(reach) {
  const question = reach.parentElement.querySelector("h2");
  if (!question.checkVisibility()) return innerHeight;
  const below = Number.parseFloat(getComputedStyle(reach).bottom) || 0;
  return innerHeight - below - question.getBoundingClientRect().bottom - scrollY;
}
