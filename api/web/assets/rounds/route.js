// One refill route: its timetable and its stops.
import { ask, codeOf, seg } from "../ask.js";
import { crumb, el, figures, section, titled } from "../element.js";
import { amount, clock, nextOf, num, units } from "../numbers.js";
import { thePlan } from "../plan.js";
import { begin } from "../shell.js";
import { show } from "../states.js";
import { table } from "../table.js";
import { t } from "../words.js";

begin(async () => {
  const plan = await thePlan();
  const route = await ask(`/plans/${plan.id}/routes/${seg(codeOf())}`);
  const name = t("route.name", { route: route.route });
  titled(name, plan.plant);
  show(
    crumb("/?" + new URLSearchParams({ plan: plan.id }), plan.plant, t("plan.number", { id: String(plan.id) })),
    el("h1", {}, name),
    el("p", { class: "sub" }, t("route.about", { handler: route.handler, vehicle: route.vehicle_type, market: route.market })),
    keyFigures(plan, route), timetable(plan, route), stops(plan, route));
});

function keyFigures(plan, r) {
  const u = units(plan.settings);
  return figures([
    [t("route.every"), amount(r.interval_min, "min", 1), t("route.every.of")],
    [t("route.takes"), amount(r.round_min, "min", 1), t("route.busy", { share: amount(r.busy * 100, "%") })],
    [t("route.load"), num(r.load_mean, 1), t("route.planned", { load: num(r.load_planned, 1), mass: u.mass(r.mass_planned) })],
    [t("route.way"), amount(r.travel_m, "m"), t("route.way.of")],
    [t("word.stops"), num(r.stops.length), t("loops", { n: r.stops.reduce((n, s) => n + s.loops.length, 0) })],
  ]);
}

function timetable(plan, r) {
  const zone = plan.settings.time_zone;
  const now = clock(zone);
  const [next] = nextOf(r.departures, now, 1);
  return section("timetable", t("timetable.title"), t("timetable.about", { now, zone }),
    r.timetable.map((shift) => el("div", {}, el("h3", {}, t("timetable.shift", { shift: shift.shift })), el("ul", { class: "times" }, shift.departures.map((d) => {
      const short = d.endsWith(":00") ? d.slice(0, 5) : d;
      return el("li", { "aria-current": d.slice(0, 5) === next && "time" }, short);
    })))));
}

/** home is the cell a stop's rack stands at: that of what it carries. */
const home = (s) => s.loops[0]?.cell ?? "";

function stops(plan, r) {
  return section("stops", t("word.stops"), t("stops.about"), table(t("word.stops"), [
    { head: t("word.stop"), value: (s) => s.order },
    { head: t("word.rack"), value: (s) => s.rack, cell: (s) => el("a", { href: `/cells/${seg(home(s))}?plan=${plan.id}#rack-${seg(s.rack)}` }, s.rack) },
    { head: t("word.cell"), value: home },
    { head: t("stops.point"), value: (s) => s.aisle_point },
    { head: t("stops.after"), n: true, unit: "min", decimals: 1, value: (s) => s.arrive_min },
    { head: t("word.containers"), n: true, decimals: 1, value: (s) => s.containers },
    { head: t("stops.empties"), n: true, decimals: 1, value: (s) => s.empties },
    { head: t("word.parts"), wide: true, value: (s) => s.loops.map((l) => l.part).join(", ") },
  ], r.stops));
}
