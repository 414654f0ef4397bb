/** Two marks on the camera's picture, put where they belong with a finger or with the arrow keys. */

const AT_FIRST = { glass: { x: 0.4, y: 0.5 }, reference: { x: 0.7, y: 0.5 } };
const STEP = 0.02; // of the picture
const KEYS = { ArrowLeft: [-STEP, 0], ArrowRight: [STEP, 0], ArrowUp: [0, -STEP], ArrowDown: [0, STEP] };

/**
 * @typedef {{glass: import("../storage/watching.js").Mark, reference: import("../storage/watching.js").Mark}} Marks
 *
 * @param {HTMLElement} picture what the marks stand on @param {Marks|null} before where they stood last
 * @param {(marks: Marks) => void} moved once a hand has moved one @param {AbortSignal} signal that ends it
 */
export function placeMarks(picture, before, moved, signal) {
  const marks = { ...(before ?? AT_FIRST) };
  const buttons = Object.fromEntries(Object.keys(AT_FIRST).map((name) => [name, picture.querySelector(`[data-mark=${name}]`)]));
  let held = null; // the mark under a finger

  picture.addEventListener("pointerdown", (event) => {
    held = nearest(at(event));
    picture.setPointerCapture(event.pointerId);
    event.preventDefault();
    buttons[held].focus({ preventScroll: true });
    put(held, at(event));
  }, { signal });
  picture.addEventListener("pointermove", (event) => { if (held) put(held, at(event)); }, { signal });
  for (const type of ["pointerup", "pointercancel"]) {
    picture.addEventListener(type, () => {
      if (held) moved(marks);
      held = null;
    }, { signal });
  }
  for (const [name, button] of Object.entries(buttons)) {
    button.addEventListener("keydown", (event) => {
      const way = KEYS[event.key];
      if (!way) return;
      event.preventDefault();
      put(name, { x: marks[name].x + way[0], y: marks[name].y + way[1] });
      moved(marks);
    }, { signal });
    show(name);
  }

  function at({ clientX, clientY }) {
    const { left, top, width, height } = picture.getBoundingClientRect();
    return { x: (clientX - left) / width, y: (clientY - top) / height };
  }

  function nearest({ x, y }) {
    const { width, height } = picture.getBoundingClientRect();
    const far = (name) => Math.hypot((marks[name].x - x) * width, (marks[name].y - y) * height);
    return far("glass") <= far("reference") ? "glass" : "reference";
  }

  function put(name, { x, y }) {
    marks[name] = { x: Math.min(Math.max(x, 0), 1), y: Math.min(Math.max(y, 0), 1) };
    show(name);
  }

  function show(name) {
    buttons[name].style.left = `${100 * marks[name].x}%`;
    buttons[name].style.top = `${100 * marks[name].y}%`;
  }

  return marks;
}
