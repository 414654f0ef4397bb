/** The buttons under the thumb: where large text makes them taller than what they may cover, they scroll with the page. */

const MOST = 0.6; // of the screen's height

/** @param {HTMLElement} page */
export function watchReach(page) {
  const observer = new ResizeObserver((seen) => {
    for (const { target } of seen) {
      target.toggleAttribute("data-tall", target.scrollHeight > MOST * innerHeight);
      target.scrollTop = target.scrollHeight; // of what stays fixed all the same, Closed and the cards come first
    }
  });
  for (const reach of page.querySelectorAll(".reach")) observer.observe(reach);
}
