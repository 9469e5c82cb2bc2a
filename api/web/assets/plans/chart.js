// Charts as SVG: axes, steps, spots. They are drawn in the page's own colours and
// told apart by shape and dash, so that they can be read on paper too.
import { num } from "../numbers.js";

const space = "http://www.w3.org/2000/svg";
/** narrow is a phone: a chart is drawn smaller there, so that its words are not. */
export const narrow = matchMedia("(max-width: 46rem)").matches;
const letter = narrow ? 9 : 7; // width of one, about
const margin = { left: 84, right: 28, top: 16, bottom: 46 };

/** svg builds an SVG element. */
export function svg(name, attributes = {}, ...children) {
  const e = document.createElementNS(space, name);
  for (const [key, value] of Object.entries(attributes)) if (value !== null && value !== undefined) e.setAttribute(key, value);
  e.append(...children.flat(Infinity).filter(Boolean));
  return e;
}

/** Chart is an empty chart: x and y are [least, most, name, write]; write makes the
 *  text of a tick. label tells a person who does not see it what it shows. */
export class Chart {
  constructor({ width = narrow ? 460 : 900, height = narrow ? 340 : 380, x, y, label, ticks }) {
    Object.assign(this, { width, height, xs: span(x), ys: span(y) });
    this.root = svg("svg", { viewBox: `0 0 ${width} ${height}`, class: "chart", role: "img", "aria-label": label });
    this.axes(x, y, ticks);
  }

  x(v) { return margin.left + (v - this.xs[0]) / (this.xs[1] - this.xs[0]) * (this.width - margin.left - margin.right); }
  y(v) { return this.height - margin.bottom - (v - this.ys[0]) / (this.ys[1] - this.ys[0]) * (this.height - margin.top - margin.bottom); }
  get foot() { return this.height - margin.bottom; }
  get head() { return margin.top; }

  add(name, attributes, ...children) {
    const e = svg(name, attributes, ...children);
    this.root.append(e);
    return e;
  }

  text(x, y, text, attributes = {}) { return this.add("text", { x, y, ...attributes }, text); }

  axes([, , across, writeX], [, , up, writeY], ticks = nice(this.xs, narrow ? 4 : 8)) {
    const marks = nice(this.ys, 5);
    writeX ??= writer(ticks);
    writeY ??= writer(marks);
    for (const v of marks) {
      this.add("line", { class: "rule", x1: margin.left, x2: this.width - margin.right, y1: this.y(v), y2: this.y(v) });
      this.text(margin.left - 8, this.y(v) + 4, writeY(v), { class: "tick", "text-anchor": "end" });
    }
    for (const v of ticks) {
      this.add("line", { class: "rule", x1: this.x(v), x2: this.x(v), y1: this.head, y2: this.foot });
      this.text(this.x(v), this.foot + 18, writeX(v), { class: "tick", "text-anchor": "middle" });
    }
    this.add("line", { class: "axis", x1: margin.left, x2: this.width - margin.right, y1: this.foot, y2: this.foot });
    this.text((margin.left + this.width - margin.right) / 2, this.height - 6, across, { class: "name", "text-anchor": "middle" });
    this.add("text", { class: "name", "text-anchor": "middle", transform: `translate(18 ${(this.head + this.foot) / 2}) rotate(-90)` }, up);
  }

  /** stairs draws a value that holds until the next one. */
  stairs(points, kind) {
    const d = points.map(([x, y], i) => i ? `H${this.x(x).toFixed(1)}V${this.y(y).toFixed(1)}` : `M${this.x(x).toFixed(1)} ${this.y(y).toFixed(1)}`).join("");
    return this.add("path", { class: "line " + kind, d });
  }

  /** joined draws a line from spot to spot. */
  joined(points, kind) {
    return this.add("polyline", { class: "line " + kind, points: points.map(([x, y]) => `${this.x(x)},${this.y(y)}`).join(" ") });
  }

  /** spot marks a point, filled or hollow, with its name where there is room beside
   *  the names before. */
  spot(x, y, full, name) {
    const [px, py] = [this.x(x), this.y(y)];
    this.add("circle", { class: full ? "spot" : "spot hollow", cx: px, cy: py, r: 6 }, svg("title", {}, name));
    this.names ??= [];
    const width = 8 + letter * name.length;
    const places = [[10, -8], [10, 18], [-width, -8], [-width, 18]].map(([dx, dy]) => [px + dx, py + dy])
      .filter(([tx, ty]) => tx > margin.left && tx + width < this.width && ty > 12 && ty < this.foot);
    const free = places.find(([tx, ty]) => !this.names.some(([ox, oy, ow]) => tx < ox + ow && ox < tx + width && Math.abs(ty - oy) < 15));
    if (!free) return;
    this.names.push([...free, width]);
    this.text(...free, name, { class: "spot-name" });
  }
}

/** padded is a range with room around its values; from zero where they start near it. */
export function padded(values) {
  const [low, high] = [Math.min(...values), Math.max(...values)];
  const room = (high - low || Math.abs(high) || 1) * 0.12;
  if (low >= 0 && low < (high - low) * 0.6) return [0, high + room];
  return [low >= 0 ? Math.max(0, low - room) : low - room, high + room];
}

/** writer writes ticks with the decimals that tell them apart. */
function writer(ticks) {
  const step = ticks.length > 1 ? ticks[1] - ticks[0] : 1;
  return (v) => num(v, Math.max(0, -Math.floor(Math.log10(step) + 1e-9)));
}

const span = ([low, high]) => low < high ? [low, high] : [low - 1, low + 1];

/** nice are some round values within a range. */
export function nice([low, high], about) {
  const raw = (high - low) / about;
  const power = 10 ** Math.floor(Math.log10(raw));
  const step = [1, 2, 5, 10].map((n) => n * power).find((s) => s >= raw);
  const list = [];
  for (let v = Math.ceil(low / step - 1e-9) * step; v <= high + 1e-9 * step; v += step) list.push(Number(v.toFixed(10)));
  return list;
}
