/** The shape of an upright tank: a cone below, a straight side, a head on top. Twin of vessel.py. */

export function coneHeight(diameter, angle) {
  return 0.5 * diameter / Math.tan(0.5 * angle);
}

export function coneAngle(diameter, height) {
  return 2.0 * Math.atan(0.5 * diameter / height);
}

export function crossSection(diameter) {
  return Math.PI * diameter * diameter / 4.0;
}

export function coneVolume(diameter, height) {
  return crossSection(diameter) * height / 3.0;
}

export function headVolume(diameter, depth) {
  return headVolumeUpTo(depth, diameter, depth);
}

export function headVolumeUpTo(height, diameter, depth) {
  if (depth === 0.0) return 0.0;
  const [a2, y] = [0.25 * diameter * diameter, height];
  const c = (a2 - depth * depth) / (2.0 * depth);
  return Math.PI * y * (a2 - y * (c + y / 3.0));
}

export function volumeAtLevel(level, diameter, cone, straight, depth = 0.0) {
  if (level <= cone) {
    const part = level / cone;
    return coneVolume(diameter, cone) * part * part * part;
  }
  if (level <= cone + straight) return coneVolume(diameter, cone) + crossSection(diameter) * (level - cone);
  const inHead = Math.min(level - cone - straight, depth);
  return straightVolume(diameter, cone, straight) + headVolumeUpTo(inHead, diameter, depth);
}

export function straightVolume(diameter, cone, straight) {
  return coneVolume(diameter, cone) + crossSection(diameter) * straight;
}

/** NaN where Python raises: below nothing and above the straight side. */
export function levelAtVolume(volume, diameter, cone, straight) {
  if (!(volume >= 0.0 && volume <= straightVolume(diameter, cone, straight))) return NaN;
  const inCone = coneVolume(diameter, cone);
  if (volume <= inCone) return cone * Math.pow(volume / inCone, 1.0 / 3.0);
  return cone + (volume - inCone) / crossSection(diameter);
}

export function radiusAtLevel(level, diameter, cone, straight, depth = 0.0) {
  if (level <= cone) return 0.5 * diameter * level / cone;
  const y = level - cone - straight;
  if (y <= 0.0) return 0.5 * diameter;
  if (y >= depth) return 0.0;
  const a2 = 0.25 * diameter * diameter;
  return Math.sqrt(Math.max(0.0, a2 - y * ((a2 - depth * depth) / depth + y)));
}
