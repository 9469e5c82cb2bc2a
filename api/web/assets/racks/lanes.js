// A rack's levels, its lanes and the rounds that stop at it.
import { seg } from "../ask.js";
import { el, section } from "../element.js";
import { num } from "../numbers.js";
import { table } from "../table.js";
import { t } from "../words.js";

/** levels lists them as built where a kit is known, else as the rack type has them. */
export function levels(rack, built, u) {
  const list = (built.levels.length ? built.levels : rack.levels).map((l) => ({ ...l, limit: rack.levels.find((r) => r.level === l.level)?.mass_limit_kg ?? 0 }));
  const fall = (l) => Math.abs(l.load_height_mm - l.pick_height_mm) / l.lane_length_mm;
  return section("levels", t("report.levels"), t("rack.levels.about"), table(t("report.levels"), [
    { head: t("rack.level"), value: (l) => l.level },
    { head: t("rack.kind"), value: (l) => t("rack.kind." + l.kind) },
    { head: t("rack.pick"), ...u.tapeOf((l) => l.pick_height_mm) }, { head: t("rack.load"), ...u.tapeOf((l) => l.load_height_mm) },
    { head: t("rack.slope"), n: true, value: fall, cell: (l) => fall(l) < 1e-4 ? t("rack.flat") : t("rack.slope.one", { n: num(1 / fall(l), 1) }) },
    { head: t("rack.lane-length"), ...u.tapeOf((l) => l.lane_length_mm) },
    { head: t("rack.clear"), ...u.tapeOf((l) => l.clear_mm ?? l.clear_height_mm), cell: (l) => (l.clear_mm ?? l.clear_height_mm) ? u.tape(l.clear_mm ?? l.clear_height_mm) : t("rack.open") },
    ...built.levels.length ? [{ head: t("rack.pitch"), ...u.tapeOf((l) => l.roller_pitch_mm) }] : [],
    { head: t("rack.limit"), ...u.massOf((l) => l.limit), cell: (l) => l.limit ? u.mass(l.limit) : t("rack.limit.none") },
  ], list));
}

/** lanes lists what each lane carries. */
export function lanes(plan, rack, loops, u) {
  const loop = (l) => loops.find((x) => x.part === l.part && x.cell === l.cell && x.station === l.station);
  const here = (l) => l.part || (l.kind === "return" ? t("lane.return") : t("lane.free"));
  return section("lanes", t("word.lanes"), t("rack.lanes.about"), table(t("word.lanes"), [
    { head: t("rack.lane"), value: (l) => `${l.level}-${l.lane}` },
    { head: t("word.part"), value: here, cell: (l) => l.part ? el("a", { href: `/loops?${new URLSearchParams({ plan: plan.id, find: l.part })}` }, l.part) : el("span", { class: "quiet" }, here(l)) },
    { head: t("word.station"), value: (l) => l.station && (l.cell === rack.cell ? l.station : `${l.cell}, ${l.station}`) },
    { head: t("word.container"), value: (l) => loop(l)?.container ?? "" },
    { head: t("rack.number"), n: true, value: (l) => l.part ? l.containers : null, cell: (l) => l.part ? t("of", { part: num(l.containers), all: num(l.capacity) }) : "—" },
    { head: t("rack.from"), ...u.tapeOf((l) => l.offset_mm) }, { head: t("word.width"), ...u.tapeOf((l) => l.width_mm) },
  ], rack.lanes));
}

/** stops lists the rounds that come by. */
export function stops(plan, rack) {
  return section("stops", t("rack.stops"), rack.stops.length ? null : t("rack.stops.none"), rack.stops.length > 0 && table(t("rack.stops"), [
    { head: t("word.route"), value: (s) => s.route, cell: (s) => el("a", { href: `/routes/${seg(s.route)}?plan=${plan.id}` }, t("route.name", { route: s.route })) },
    { head: t("word.stop"), n: true, value: (s) => s.order },
    { head: t("stops.after"), n: true, unit: "min", decimals: 1, value: (s) => s.arrive_min },
    { head: t("word.containers"), n: true, decimals: 1, value: (s) => s.containers },
    { head: t("stops.empties"), n: true, decimals: 1, value: (s) => s.empties },
    { head: t("stops.point"), value: (s) => s.aisle_point },
  ], rack.stops));
}
