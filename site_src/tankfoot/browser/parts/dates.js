/** Instants as the page's language writes them. */

import { locale } from "../../quantities/locale.js";

const STYLES = {
  dayAndTime: { dateStyle: "medium", timeStyle: "short" },
  timeOfDay: { timeStyle: "medium" },
  weekday: { weekday: "long", day: "numeric", month: "long", hour: "numeric", minute: "2-digit" },
  soon: { weekday: "short", day: "numeric", month: "short", hour: "numeric", minute: "2-digit" },
  soonDay: { weekday: "short", day: "numeric", month: "short" },
  shortDay: { day: "numeric", month: "short" },
  shortDayAndTime: { day: "numeric", month: "short", hour: "numeric", minute: "2-digit" },
  wholeDay: { dateStyle: "long" },
  month: { month: "short", year: "numeric" },
};
const formats = new Map(); // one takes long to make, and a page of the record has fifty dates

/** @param {string|number|Date} instant @param {keyof typeof STYLES} style */
export function written(instant, style = "dayAndTime") {
  if (!formats.has(style)) formats.set(style, new Intl.DateTimeFormat(locale(), STYLES[style]));
  return formats.get(style).format(new Date(instant));
}
