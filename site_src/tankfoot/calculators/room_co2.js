/** What CO2 let out or leaked does to the air of the cellar. Twin of room_co2.py. */

import { peakShare, releasedVolume, shareAt, timeAbove, worstMeanShare } from "../physics/room.js";

const [SHIFT_LIMIT, SHORT_TERM_LIMIT, DANGEROUS] = [0.005, 0.03, 0.04];
const SHIFT = 8.0 * 3600.0;

export function refusals(x) {
  if (x.released_mass === null && x.release_rate === null) return [["released_mass", "mass-or-rate"]];
  if (x.released_mass !== null && x.release_rate !== null) return [["release_rate", "mass-or-rate"]];
  if (x.release_rate !== null && x.release_time <= 0.0) return [["release_time", "rate-without-time"]];
  return [];
}

function releaseOf(x) {
  const mass = x.released_mass === null ? x.release_rate * x.release_time : x.released_mass;
  const gas = releasedVolume(mass, x.temperature, x.air_pressure);
  return { outdoor: x.outdoor_co2, ratio: gas / x.room_volume, duration: x.release_time, air_rate: x.air_changes };
}

export function compute(x) {
  const release = releaseOf(x);
  return {
    peak: peakShare(release),
    eight_hour_mean: worstMeanShare(release, SHIFT),
    time_above_40000: timeAbove(release, DANGEROUS),
    time_above_30000: timeAbove(release, SHORT_TERM_LIMIT),
    time_above_5000: timeAbove(release, SHIFT_LIMIT),
  };
}

export function curve(x, at) {
  return shareAt(releaseOf(x), at);
}

export function remarks(x, y) {
  const said = [];
  if (y.peak > DANGEROUS) said.push("immediately-dangerous");
  else if (y.peak > SHORT_TERM_LIMIT) said.push("above-short-term-limit");
  if (y.eight_hour_mean > SHIFT_LIMIT) said.push("above-shift-limit");
  return said;
}
