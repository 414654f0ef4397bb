/** Work that is done one after the other. */

/** @returns {(work: () => Promise) => Promise} resolves or fails as `work` does, which begins once all before it has ended */
export function newQueue() {
  let last = Promise.resolve();
  return (work) => {
    const next = () => work();
    last = last.then(next, next);
    return last;
  };
}
