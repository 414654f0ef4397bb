/** What stands behind the # of this page's address, by name. */
export function inAddress() {
  return new URLSearchParams(location.hash.slice(1));
}
