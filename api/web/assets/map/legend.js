// What the signs of the map mean.
import { t } from "../words.js";

const svg = "http://www.w3.org/2000/svg";

/** legend lists the shades of an overlay, then the signs that the floor has. */
export function legend(shades, floor) {
  const list = document.createElement("ul");
  list.className = "legend";
  const way = (kind = "", dash) => [["path", { class: `way ${kind}`, d: "M1 8H33", ...(dash && { "stroke-dasharray": dash }) }]];
  const has = (things, key, value) => things.some((x) => value === undefined ? x[key] : x[key] === value);
  list.append(...[
    ...shades.ranges.map((text, i) => item(text, [["rect", { class: `step${i}`, x: 1, y: 2, width: 20, height: 12, rx: 2 }]], 22)),
    has(floor.racks, "proposed") && item(t("map.proposed"), [["rect", { class: "hole", x: 1, y: 2, width: 20, height: 12, rx: 2, "stroke-dasharray": "4 3" }]], 22),
    has(floor.points, "kind", "market") && item(t("map.market"), [["rect", { class: "market", x: 1, y: 1, width: 14, height: 14, rx: 3 }]], 16),
    floor.stations.length > 0 && item(t("word.station"), [["circle", { class: "dot", cx: 4, cy: 8, r: 3 }]], 8),
    has(floor.aisles, "one_way") && item(t("map.one-way"), [...way(), ["path", { class: "tip", d: "M23 8L11 3V13Z" }]], 34),
    has(floor.aisles, "single_file") && item(t("map.single-file"), way("thin"), 34),
    has(floor.aisles, "traffic", "people") && item(t("map.people"), way("", "5 4"), 34),
    has(floor.aisles, "closed") && item(t("map.closed"), way("shut", "2 5"), 34),
  ].filter(Boolean));
  return list;
}

function item(text, shapes, width) {
  const li = document.createElement("li");
  const picture = document.createElementNS(svg, "svg");
  for (const [key, value] of Object.entries({ width, height: 16, "aria-hidden": "true" })) picture.setAttribute(key, value);
  for (const [name, attributes] of shapes) {
    const e = document.createElementNS(svg, name);
    for (const [key, value] of Object.entries(attributes)) e.setAttribute(key, value);
    picture.append(e);
  }
  li.append(picture, text);
  return li;
}
