/** Yeast: the extract it lives on, how many cells a batch wants, and how many a counting chamber saw. Twin of yeast.py. */

export function platoFromGravity(gravity) {
  return -616.868 + gravity * (1111.14 + gravity * (-630.272 + gravity * 135.997));
}

export function platoPerGravity(gravity) {
  return 1111.14 + gravity * (-1260.544 + gravity * 407.991);
}

export function cellsToPitch(pitchRate, volume, plato) {
  return pitchRate * volume * plato;
}

export function slurryVolume(cells, density, viability) {
  return cells / (density * viability);
}

export function cellDensity(cells, squares, squareVolume, dilution) {
  return cells / (squares * squareVolume) * dilution;
}

export function liveShare(live, dead) {
  return live / (live + dead);
}
