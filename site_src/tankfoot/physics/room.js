/** CO2 let out in a room: how its share of the air rises, and how it falls again. Twin of room.py. */

import { CO2_MOLAR_MASS, GAS_CONSTANT } from "./gas.js";
import { brentRoot } from "./roots.js";

export function releasedVolume(mass, temperature, pressure) {
  return mass * GAS_CONSTANT * temperature / (pressure * CO2_MOLAR_MASS);
}

/**
 * One release into one room: outdoor share, volume of gas over volume of room, duration, changes of air a second.
 * @typedef {{outdoor: number, ratio: number, duration: number, air_rate: number}} Release
 */

/** @param {Release} release */
function rateOf(release) {
  return release.air_rate + release.ratio / release.duration;
}

/** @param {Release} release */
function levelOf(release) {
  return (release.air_rate * release.outdoor + release.ratio / release.duration) / rateOf(release);
}

export function shareDuring(release, time) {
  const level = levelOf(release);
  return level + (release.outdoor - level) * Math.exp(-rateOf(release) * time);
}

export function peakShare(release) {
  if (release.duration > 0.0) return shareDuring(release, release.duration);
  return 1.0 - (1.0 - release.outdoor) * Math.exp(-release.ratio);
}

export function shareAt(release, time) {
  if (time < release.duration) return shareDuring(release, time);
  const fading = Math.exp(-release.air_rate * (time - release.duration));
  return release.outdoor + (peakShare(release) - release.outdoor) * fading;
}

export function timeAbove(release, limit) {
  const peak = peakShare(release);
  if (peak <= limit) return 0.0;
  const falling = Math.log((peak - release.outdoor) / (limit - release.outdoor)) / release.air_rate;
  if (!(release.duration > 0.0)) return falling;
  const level = levelOf(release);
  const rising = Math.log((level - release.outdoor) / (level - limit)) / rateOf(release);
  return release.duration - rising + falling;
}

export function meanShare(release, start, window) {
  let total = 0.0;
  if (release.duration > start) {
    const [rate, level, duration] = [rateOf(release), levelOf(release), release.duration];
    const swing = (Math.exp(-rate * start) - Math.exp(-rate * duration)) / rate;
    total = level * (duration - start) + (release.outdoor - level) * swing;
  }
  const rest = start + window - Math.max(release.duration, 0.0);
  const faded = (1.0 - Math.exp(-release.air_rate * rest)) / release.air_rate;
  return (total + release.outdoor * rest + (peakShare(release) - release.outdoor) * faded) / window;
}

export function worstMeanShare(release, window) {
  const difference = (start) => shareAt(release, start) - shareAt(release, start + window);
  const earliest = Math.max(0.0, release.duration - window);
  if (difference(earliest) >= 0.0) return meanShare(release, earliest, window);
  return meanShare(release, brentRoot(difference, earliest, release.duration), window);
}
