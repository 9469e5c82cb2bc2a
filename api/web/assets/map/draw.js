// Drawing the floor through a brush: the canvas and the picture file each have
// one. Lengths that a person sees are pixels; places are metres.
import { steps } from "./overlays.js";

const room = { rack: 20, value: 34, cell: 46, station: 26, arrow: 26 }; // pixels from which a text or sign is drawn

/** draw paints a floor: view has px (pixels per metre) and box (what is seen);
 *  look says what is shaded, which route is followed and what is chosen. */
export function draw(brush, floor, view, look) {
  const seen = (b) => b.right >= view.box.left && b.left <= view.box.right && b.top >= view.box.bottom && b.bottom <= view.box.top;
  brush.ground();
  for (const c of floor.cells) if (seen(c.box)) brush.box(c.box, { fill: "sheet", stroke: c === look.chosen ? "accent" : "line", width: c === look.chosen ? 3 : 1, round: 6 });
  for (const a of floor.aisles) aisle(brush, a, view);
  const route = floor.routes.find((r) => r.route === look.route);
  if (route) brush.line(route.points, { stroke: "accent", width: 5, thin: 0.55 });
  for (const p of floor.points) point(brush, p, view);
  for (const s of floor.stations) brush.dot(s, 2.5, { fill: "quiet" });
  const stops = new Map(route?.racks.map((r, i) => [r, i + 1]));
  for (const r of floor.racks) if (seen({ left: r.x - r.w, right: r.x + r.w, bottom: r.y - r.h, top: r.y + r.h })) rack(brush, r, view, look, stops.get(r.rack));
  for (const c of floor.cells) if (seen(c.box)) title(brush, c, view);
}

function aisle(brush, a, view) {
  brush.line([a.from, a.to], { stroke: a.closed ? "bad" : "edge", width: a.single_file ? 1.5 : 3, dash: a.closed ? [2, 5] : a.traffic === "people" ? [5, 4] : null });
  const length = Math.hypot(a.to.x - a.from.x, a.to.y - a.from.y) * view.px;
  if (!a.one_way || length < room.arrow) return;
  brush.arrow(a.from, a.to, 6, { fill: "ink" });
}

function point(brush, p, view) {
  if (p.kind !== "market" && p.kind !== "parking") return;
  const half = 9 / view.px;
  brush.box({ left: p.x - half, right: p.x + half, bottom: p.y - half, top: p.y + half }, { fill: p.kind === "market" ? "accent" : "quiet", stroke: "sheet", width: 1, round: 3 });
  brush.text(p.point, p, { size: 12, weight: 700, fill: "ink", up: 16, halo: true });
}

function rack(brush, r, view, look, stop) {
  const step = look.shades.step(r);
  const chosen = r === look.chosen;
  brush.box({ left: r.x - r.w / 2, right: r.x + r.w / 2, bottom: r.y - r.h / 2, top: r.y + r.h / 2 }, {
    fill: step < 0 ? "hole" : `step${step}`, stroke: chosen || stop ? "accent" : "ink", width: chosen || stop ? 3 : 1, dash: r.proposed ? [4, 3] : null, round: 1.5,
  });
  const ink = step >= steps - 2 ? "onstep" : "ink";
  const wide = r.w * view.px;
  const high = r.h * view.px;
  if (stop) return brush.text(String(stop), r, { size: 13, weight: 700, fill: ink });
  if (wide < room.rack || high < 12) return;
  const text = look.shades.text(r);
  const lines = [wide >= 7 * r.rack.length && high >= 28 && r.rack, wide >= 7 * text.length && text].filter(Boolean);
  lines.forEach((line, i) => brush.text(line, r, { size: wide >= room.value * 2 ? 12 : 11, fill: ink, weight: i === lines.length - 1 ? 650 : 400, up: lines.length === 2 ? 7 - 14 * i : 0 }));
}

function title(brush, c, view) {
  const wide = (c.box.right - c.box.left) * view.px;
  if (wide < room.cell) return;
  brush.text(c.cell, { x: (c.box.left + c.box.right) / 2, y: c.below ? c.box.bottom : c.box.top }, { size: 13, weight: 700, fill: "ink", up: c.below ? -10 : 10, halo: true });
}
