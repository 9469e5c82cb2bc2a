// The plant at a glance: one plan's cells, routes, racks and findings.
import { all, clock, count, el, failed, figures, foot, nextOf, num, planOf, section, seg, show, table, track, units, when, word } from "./base.js";
import { findings } from "./findings.js";
import { planAgain } from "./run.js";

main().catch(failed);

async function main() {
  const { plants = [], plant, plan } = await planOf();
  if (plants.length) choosePlant(plants, plant);
  if (!plan) {
    show(plant ? withoutPlan(plant) : withoutPlant());
    return;
  }
  document.title = `${plan.plant} · Lanewright`;
  const [cells, routes, racks] = await Promise.all([all(`/plans/${plan.id}/cells`), all(`/plans/${plan.id}/routes`), all(`/plans/${plan.id}/racks`)]);
  show(lead(plan), keyFigures(plan), cellSection(plan, cells), routeSection(plan, routes), rackSection(plan, racks), findings(plan.id));
  foot(`Plan ${plan.id} of revision ${plan.revision_number}, seed ${plan.seed}, planner ${plan.version}. `,
    "Ergonomic and structural figures are a screening only: a qualified person and a licensed engineer decide.");
}

function choosePlant(plants, chosen) {
  if (plants.length < 2) return;
  const select = el("select", { id: "plant", onchange: (e) => { location.search = "?" + new URLSearchParams({ plant: e.target.value }); } },
    plants.map((p) => el("option", { value: p.plant, selected: p === chosen }, p.plant)));
  document.getElementById("pick").replaceChildren(el("label", { for: "plant" }, "Plant "), select);
}

function withoutPlant() {
  return el("div", { class: "note" }, el("h1", {}, "No plant yet"),
    el("p", {}, "Hand in a workbook and this page shows its cells, racks and routes:"),
    el("pre", {}, "lanewright import FILE.xlsx --plant \"My plant\""),
    el("p", {}, "lanewright template OUT.xlsx writes an empty workbook that says what belongs where."));
}

function withoutPlan(plant) {
  const place = el("div");
  return el("div", {}, el("h1", {}, plant.plant),
    el("div", { class: "note" }, el("h2", {}, "No plan yet"),
      el("p", {}, `${count(plant.revisions, "revision")} of the facts stored, none planned so far.`),
      planAgain(plant.plant, "Make the first plan", place), place));
}

function lead(plan) {
  const place = el("div");
  return [
    el("div", { class: "lead" },
      el("div", {}, el("h1", {}, plan.plant),
        el("p", { class: "sub" }, `Plan ${plan.id} of revision ${plan.revision_number}, made ${when(plan.created, plan.settings.time_zone)}`,
          plan.stopped === "cancelled" && " — cut short, a longer search may find better")),
      el("div", { class: "tools" },
        planAgain(plan.plant, "Plan again", place),
        el("a", { class: "button", href: `/api/v1/plans/${plan.id}/report.xlsx` }, "Rack report (xlsx)"),
        el("a", { class: "button", href: `/api/v1/plans/${plan.id}` }, "Plan as JSON"))),
    place,
  ];
}

function keyFigures(plan) {
  const s = plan.summary;
  const missing = s.loops - s.loops_placed;
  return figures([
    ["Loops with a lane", `${num(s.loops_placed)} of ${num(s.loops)}`, missing ? word("bad", `${num(missing)} without`) : word("good", "every loop placed")],
    ["Supply lanes in use", num(s.lanes_used), `${num(s.lanes_free)} free, ${count(s.return_lanes, "return lane")}`],
    ["Racks", num(s.racks), s.racks_proposed ? `${num(s.racks_proposed)} of them proposed` : "all standing today"],
    ["Containers in loops", num(s.containers), `${num(s.containers_per_hour, 1)} refilled per hour`],
    ["Routes", num(s.routes), `${count(s.handlers, "handler")} · at least ${count(plan.route_bounds.routes_bound, "route")} needed`],
    ["Moves", num(s.moves), s.moves ? `${count(s.moved_containers, "container")} against today` : "as it stands today"],
    ["Cells proved best", `${num(plan.cells_optimal)} of ${num(plan.cells)}`, plan.cells_optimal === plan.cells ? "no layout is better" : "each has its bound"],
    ["Findings", num(s.errors + s.warnings + s.notes), `${count(s.errors, "error")}, ${count(s.warnings, "warning")}, ${count(s.notes, "note")}`],
  ]);
}

/** cellSection lists cells, those short of lanes first. */
function cellSection(plan, cells) {
  const short = cells.filter((c) => c.containers_unplaced > 0 || c.lanes_short > 0);
  const order = [...cells].sort((a, b) => b.lanes_short - a.lanes_short || b.containers_unplaced - a.containers_unplaced);
  return section("cells", "Cells",
    short.length ? `${count(short.length, "cell")} of ${num(cells.length)} short of lanes, listed first.` : `All ${num(cells.length)} cells have the lanes they need.`,
    el("div", { class: "frame" }, table("Cells", [
      { head: "Cell", cell: (c) => [el("a", { href: `/cells/${seg(c.cell)}?plan=${plan.id}` }, c.cell), c.name && c.name !== c.cell && el("small", {}, [c.name, c.area].filter(Boolean).join(", "))] },
      { head: "State", bare: true, wide: true, cell: state },
      { head: "Lanes needed", n: true, cell: (c) => num(c.lanes_needed) },
      { head: "Lanes there", n: true, cell: (c) => num(c.lanes_there) },
      { head: "Free", n: true, cell: (c) => num(c.lanes_free) },
      { head: "Left over", n: true, cell: (c) => num(c.containers_unplaced) },
      { head: "Racks", n: true, cell: (c) => c.racks_proposed ? `${num(c.racks)} (${num(c.racks_proposed)} new)` : num(c.racks) },
      { head: "In use", wide: true, cell: (c) => [`${num(c.lanes_used)} of ${num(c.lanes_there)}`, track(c.lanes_there ? c.lanes_used / c.lanes_there : 0)] },
    ], order)));
}

/** state says in a word how a cell stands. */
function state(c) {
  if (c.lanes_short > 0) return word("bad", `${count(c.lanes_short, "lane")} short`);
  if (c.containers_unplaced > 0) return word("bad", `${count(c.containers_unplaced, "container")} unplaced`);
  if (c.lanes_free === 0) return word("warn", "full");
  return word("good", "enough lanes");
}

function routeSection(plan, routes) {
  const zone = plan.settings.time_zone;
  const now = clock(zone);
  return section("routes", "Refill routes", `It is ${now} at the plant (${zone}). Departures are those of a working day.`,
    routes.length === 0 ? el("p", { class: "note" }, "This plan has no routes: the plant has no aisles, vehicles or racks to serve. The findings say which.") :
      el("div", { class: "frame" }, table("Refill routes", [
        { head: "Route", cell: (r) => el("a", { href: `/routes/${seg(r.route)}?plan=${plan.id}` }, `Route ${r.route}`) },
        { head: "Handler", cell: (r) => r.handler },
        { head: "Vehicle", cell: (r) => r.vehicle_type },
        { head: "Every", n: true, cell: (r) => `${num(r.interval_min, 1)} min` },
        { head: "Round", n: true, cell: (r) => `${num(r.round_min, 1)} min` },
        { head: "Busy", cell: (r) => [`${num(r.busy * 100)} %`, track(r.busy, r.busy > 1)] },
        { head: "Containers a round", n: true, cell: (r) => [num(r.load_mean, 1), el("small", {}, `planned ${num(r.load_planned, 1)}`)] },
        { head: "Stops", n: true, cell: (r) => num(r.stops.length) },
        { head: "Next departures", wide: true, cell: (r) => nextOf(r.departures, now, 3).join(" · ") || "none" },
      ], routes)));
}

/** rackSection lists racks, a few at a time, the proposed ones first. */
function rackSection(plan, racks) {
  const few = 15;
  const u = units(plan.settings);
  const order = [...racks].sort((a, b) => Number(b.proposed) - Number(a.proposed));
  const frame = el("div", { class: "frame" });
  const draw = (n) => {
    const rows = order.slice(0, n);
    frame.replaceChildren(table("Racks", [
      { head: "Rack", cell: (r) => el("a", { href: `/cells/${seg(r.cell)}?plan=${plan.id}#rack-${seg(r.rack)}` }, r.rack) },
      { head: "State", bare: true, cell: (r) => r.proposed ? word("warn", "proposed") : word("", "standing") },
      { head: "Type", cell: (r) => r.rack_type },
      { head: "Cell", cell: (r) => r.cell },
      { head: "Serves", cell: (r) => r.stations.join(", ") || "—" },
      { head: "Width", n: true, cell: (r) => u.length(r.width_mm) },
      { head: "Lanes in use", n: true, cell: (r) => num(r.lanes_used) },
      { head: "Free", n: true, cell: (r) => num(r.lanes_free) },
      { head: "Containers", n: true, cell: (r) => num(r.containers) },
    ], rows), el("div", { class: "more-row" }, el("span", { class: "quiet" }, `${num(rows.length)} of ${num(racks.length)} shown`),
      n < racks.length && el("button", { onclick: () => draw(n + 10 * few) }, "Show more")));
  };
  draw(few);
  const added = racks.filter((r) => r.proposed).length;
  return section("racks", "Racks", added ? `${count(added, "rack")} proposed, listed first; the others stand today.` : "All of them stand today.", frame);
}
