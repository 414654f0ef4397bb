/** What a request of the database finds. */

/** Undefined where the phone has lost a part of it. @returns {Promise<any>} */
export function valueOf(request) {
  return new Promise((resolve, reject) => { whenRead(request, resolve, reject); });
}

/** A value of which the phone has lost a part is undefined; any other trouble goes to `reject`, else the transaction. */
export function whenRead(request, found, reject = null) {
  request.onsuccess = () => found(request.result);
  request.onerror = (event) => {
    const isLost = request.error.name === "NotReadableError";
    if (isLost || reject) event.preventDefault();
    if (isLost) found(undefined);
    else reject?.(request.error);
  };
}
