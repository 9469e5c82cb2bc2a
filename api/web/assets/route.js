// One refill route: its timetable and its stops.
import { ask, clock, count, el, failed, figures, nextOf, num, planOf, section, seg, show, table, units } from "./base.js";

main().catch(failed);

async function main() {
  const name = decodeURIComponent(location.pathname.split("/").slice(2).join("/"));
  const { plan } = await planOf();
  if (!plan) throw new Error("There is no plan to show this route of.");
  const route = await ask(`/plans/${plan.id}/routes/${seg(name)}`);
  document.title = `Route ${route.route} · ${plan.plant} · Lanewright`;
  show(
    el("p", { class: "crumb" }, el("a", { href: "/?" + new URLSearchParams({ plan: plan.id }) }, plan.plant), ` · plan ${plan.id}`),
    el("h1", {}, `Route ${route.route}`),
    el("p", { class: "sub" }, `Handler ${route.handler} with ${route.vehicle_type}, from ${route.market}`),
    keyFigures(plan, route), timetable(plan, route), stops(plan, route));
}

function keyFigures(plan, r) {
  const u = units(plan.settings);
  return figures([
    ["Leaves every", `${num(r.interval_min, 1)} min`, "of working time"],
    ["Round takes", `${num(r.round_min, 1)} min`, `busy ${num(r.busy * 100)} % of the interval`],
    ["Containers a round", num(r.load_mean, 1), `planned for ${num(r.load_planned, 1)}, ${u.mass(r.mass_planned)}`],
    ["Way", `${num(r.travel_m)} m`, "market to market"],
    ["Stops", num(r.stops.length), count(r.stops.reduce((n, s) => n + s.loops.length, 0), "loop")],
  ]);
}

function timetable(plan, r) {
  const zone = plan.settings.time_zone;
  const now = clock(zone);
  const [next] = nextOf(r.departures, now, 1);
  return section("timetable", "Timetable", `It is ${now} at the plant (${zone}). The next departure of a working day is marked.`,
    r.timetable.map((t) => el("div", {}, el("h3", {}, `Shift ${t.shift}`), el("ul", { class: "times" }, t.departures.map((d) => {
      const short = d.endsWith(":00") ? d.slice(0, 5) : d;
      return el("li", { "aria-current": d.slice(0, 5) === next && "time" }, short);
    })))));
}

/** home is the cell a stop's rack stands at: that of what it carries. */
const home = (s) => s.loops[0]?.cell ?? "";

function stops(plan, r) {
  return section("stops", "Stops", "In the order of the round.", el("div", { class: "frame" }, table("Stops", [
    { head: "Stop", cell: (s) => num(s.order) },
    { head: "Rack", cell: (s) => el("a", { href: `/cells/${seg(home(s))}?plan=${plan.id}#rack-${seg(s.rack)}` }, s.rack) },
    { head: "Cell", cell: (s) => home(s) },
    { head: "Aisle point", cell: (s) => s.aisle_point },
    { head: "After leaving", n: true, cell: (s) => `${num(s.arrive_min, 1)} min` },
    { head: "Containers", n: true, cell: (s) => num(s.containers, 1) },
    { head: "Empties back", n: true, cell: (s) => num(s.empties, 1) },
    { head: "Parts", wide: true, cell: (s) => s.loops.map((l) => l.part).join(", ") || "—" },
  ], r.stops)));
}
