// What racks can be shaded by, one at a time. A value is written on the rack as
// well, so that the shade only helps.
import { num } from "../numbers.js";
import { t } from "../words.js";

/** overlays has, for each way to shade: value of a rack (null where there is
 *  none), text of a value, unit of a column. */
export const overlays = [
  { name: "use", value: (r) => lanes(r) ? 100 * r.lanes_used / lanes(r) : null, text: (v) => `${num(v)}\u00a0%`, unit: "%", most: 100 },
  { name: "free", value: (r) => r.lanes_free, text: (v) => num(v) },
  { name: "brought", value: (r) => r.brought_per_hour, text: (v) => num(v, 1), decimals: 1 },
  { name: "effort", value: (r) => r.effort, text: (v) => num(v), unit: "kg/h" },
  { name: "lifts", value: (r) => r.not_to_be_lifted ? Infinity : r.lifting_index, text: (v) => v === Infinity ? t("map.no-lift") : num(v, 2), decimals: 2 },
  { name: "short", value: (r, cell) => cell?.containers_unplaced ?? 0, text: (v) => num(v) },
];

const lanes = (r) => r.lanes_used + r.lanes_free;
export const steps = 5;

/** shadesOf shades racks by an overlay: five steps of equal width from 0 to the
 *  greatest value; step(rack) is -1 where there is no value. */
export function shadesOf(floor, overlay) {
  const cells = new Map(floor.cells.map((c) => [c.cell, c]));
  const value = (r) => overlay.value(r, cells.get(r.cell));
  const finite = floor.racks.map(value).filter(Number.isFinite);
  const most = overlay.most ?? Math.max(1e-9, ...finite);
  const step = (v) => v === null ? -1 : v === 0 ? 0 : Math.min(steps - 1, Math.max(0, Math.ceil(v / most * steps) - 1));
  return {
    value, step: (r) => step(value(r)), text: (r) => value(r) === null ? "" : overlay.text(value(r)),
    ranges: Array.from({ length: steps }, (_, i) => t("map.to", { from: overlay.text(most * i / steps), to: overlay.text(most * (i + 1) / steps) })),
  };
}
