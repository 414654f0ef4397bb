/** Whole seconds as minutes and seconds: 70 is 1:10. */
export function minutes(seconds) {
  return `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, "0")}`;
}
