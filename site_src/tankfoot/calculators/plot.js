/** The curve beside a sum, as the parts of a drawing. Twin of plot.py, which declares what is drawn. */

import { roundStep } from "../quantities/axis.js";
import { formatNumber, formatPlain, withUnit } from "../quantities/format.js";
import { withinReach } from "../quantities/propagate.js";
import { units } from "../quantities/declared.js";

const PIECES = 40;
const [LEFT, RIGHT, TOP, BOTTOM] = [68.0, 318.0, 50.0, 190.0];

export function figure(plot, module, inputs, results, symbols) {
  const known = { ...inputs, ...results };
  const reaches = Object.entries(plot.to).map(([name, times]) => (known[name] ?? 0.0) * times);
  const end = Math.min(plot.at_most, Math.max(plot.at_least, ...reaches));
  const sampled = sampler(plot, module, inputs, symbols);
  const here = sampled(known[plot.across]);
  const taken = Array.from({ length: PIECES + 1 }, (_, i) => sampled(end * i / PIECES));
  const samples = [...taken, here].filter((sample) => sample).sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  if (!here || !(end > 0.0) || samples.length <= PIECES) return null;
  const across = axis(0.0, samples.at(-1)[0], LEFT, RIGHT);
  const lines = linesOf(plot, known, symbols);
  const up = upward(samples.map(([, height]) => height), lines.filter(([, way]) => way === "up").map(([, , what]) => what));
  const point = ([x, y]) => `${across.at(x)} ${up.at(y)}`;
  const ends = { "": here, 0: samples[0], 1: samples.at(-1), h: taken[PIECES / 2] ?? here };
  return {
    path: `M${samples.map(point).join("L")}`,
    point: [across.at(here[0]), up.at(here[1])],
    across: across.ticks,
    up: up.ticks,
    floor: up.at(0.0),
    marks: lines.flatMap(([name, way, what]) => (
      drawn(way, what, across, up).map((line) => ({ name, ends: line, label: label(way, line, samples, what) }))
    )),
    says: Object.fromEntries(Object.entries(ends).flatMap(([suffix, [x, y]]) => [
      [`x${suffix}`, withUnit(formatNumber(x), symbols.across)],
      [`y${suffix}`, withUnit(formatNumber(y), symbols.up)],
    ])),
  };
}

function sampler(plot, module, inputs, symbols) {
  const value = (x) => (
    module.curve ? { [plot.up]: module.curve(x, x.at) } : module.compute({ ...x, [plot.across]: x.at })
  );
  return (at) => {
    const reached = withinReach(value, { ...inputs, at });
    return reached && [shown(at, symbols.across), shown(reached[plot.up], symbols.up)];
  };
}

function shown(si, symbol) {
  return (si - units[symbol].offset) / units[symbol].factor;
}

function linesOf(plot, known, symbols) {
  return plot.marks
    .map(([name, way, what]) => [name, way, typeof what === "string" ? known[what] : what])
    .filter(([, way, what]) => way === "even" || what !== null)
    .map(([name, way, what]) => [name, way, way === "even" ? null : shown(what, symbols[way])]);
}

function axis(low, high, start, finish) {
  const step = roundStep(high - low);
  const at = (value) => formatPlain(start + (value - low) / (high - low) * (finish - start), 4);
  const ticks = [];
  for (let i = Math.ceil(low / step); i <= Math.floor(high / step); i += 1) {
    ticks.push([at(i * step), formatPlain(i * step)]);
  }
  return { low, high, at, ticks };
}

function upward(heights, limits) {
  const [low, highest] = [Math.min(0.0, ...heights), Math.max(0.0, ...heights)];
  const above = limits.filter((limit) => limit >= highest);
  const high = above.length ? Math.min(...above) : highest;
  const step = roundStep(high - low);
  return axis(Math.floor(low / step) * step, Math.ceil(high / step) * step, BOTTOM, TOP);
}

function drawn(way, what, across, up) {
  if (way === "even") {
    const end = Math.min(across.high, up.high);
    return end > 0.0 ? [[across.at(0.0), up.at(0.0), across.at(end), up.at(end)]] : [];
  }
  if (way === "up" && what <= up.high) return [[across.at(across.low), up.at(what), across.at(across.high), up.at(what)]];
  if (way === "across" && what <= across.high) {
    return [[across.at(what), up.at(up.low), across.at(what), up.at(up.high)]];
  }
  return [];
}

function label(way, line, samples, what) {
  const [x0, y0, x, y] = line.map(Number);
  if (way === "even") return ["start", formatPlain(x0 + 0.4 * (x - x0) + 10.0), formatPlain(y0 + 0.4 * (y - y0) + 8.0)];
  if (way === "across") {
    const [side, aside] = x > 0.5 * (LEFT + RIGHT) ? ["end", -7.0] : ["start", 7.0];
    return [side, formatPlain(x + aside), formatPlain(y + 12.0)];
  }
  const [first, second] = [samples.slice(0, PIECES / 2), samples.slice(PIECES / 2)].map((half) => (
    Math.min(...half.map(([, height]) => Math.abs(height - what)))
  ));
  if (first > second) {
    return ["start", formatPlain(x0 + 5.0), formatPlain(y - 5.0)];
  }
  return ["end", formatPlain(x), formatPlain(y - 5.0)];
}

export function caption(drawn, words, dashed) {
  const says = fill(words.says, drawn.says);
  const marks = drawn.marks.map(({ name }) => words.marks[name]).join(", ");
  return marks ? `${says} ${fill(dashed, { marks })}` : says;
}

function fill(template, texts) {
  return template.replace(/\{(\w+)\}/g, (_, name) => texts[name]);
}
