// The start page: three ways in, the plant's key figures, what is short, and
// when routes leave.
import { all, seg } from "../ask.js";
import { byShort, cellLink, isShort, shortWidths, state, stateText } from "../cells/state.js";
import { findings } from "../data/findings.js";
import { el, figures, section, titled, track, word } from "../element.js";
import { amount, clock, nextOf, num, units, when } from "../numbers.js";
import { planOf } from "../plan.js";
import { planAgain } from "../plans/run.js";
import { begin, foot } from "../shell.js";
import { empty, show } from "../states.js";
import { table } from "../table.js";
import { t } from "../words.js";

const few = 8; // short cells shown here

begin(async () => {
  const { plant, plan } = await planOf();
  if (!plan) {
    show(plant ? withoutPlan(plant) : withoutPlant());
    return;
  }
  titled(plan.plant);
  const [cells, routes] = await Promise.all([all(`/plans/${plan.id}/cells`), all(`/plans/${plan.id}/routes`)]);
  show(lead(plan), ways(plan, cells, routes), keyFigures(plan), shortSection(plan, cells), routeSection(plan, routes), findings(plan.id));
  foot(t("foot.plan", { id: String(plan.id), revision: String(plan.revision_number), seed: String(plan.seed), version: plan.version }), t("foot.caution"),
    el("a", { href: "/docs" }, t("foot.docs")));
});

function withoutPlant() {
  return empty(el("h1", {}, t("plant.none")), el("p", {}, el("a", { class: "button", href: "/data" }, t("plant.none.drop"))), el("p", {}, t("plant.none.import")),
    el("pre", {}, "lanewright import FILE.xlsx --plant \"My plant\""),
    el("p", {}, t("plant.none.template", { command: "lanewright template OUT.xlsx" })));
}

function withoutPlan(plant) {
  const place = el("div");
  return el("div", {}, el("h1", {}, plant.plant),
    empty(el("h2", {}, t("plant.unplanned")), el("p", {}, t("plant.unplanned.about", { n: plant.revisions })),
      planAgain(plant.plant, t("plant.plan.first"), place), place));
}

function lead(plan) {
  const place = el("div");
  const made = { id: String(plan.id), revision: String(plan.revision_number), when: when(plan.created, plan.settings.time_zone) };
  return [
    el("div", { class: "lead" },
      el("div", {}, el("h1", {}, plan.plant),
        el("p", { class: "sub" }, plan.stopped === "cancelled" ? t("plant.made.short", made) : t("plant.made", made))),
      el("div", { class: "tools" },
        planAgain(plan.plant, t("plant.plan.again"), place),
        el("a", { class: "button", href: `/api/v1/plans/${plan.id}` }, t("plant.json")))),
    place,
  ];
}

/** ways are the three ways in, one for each person, each with what it is about
 *  now. */
function ways(plan, cells, routes) {
  const short = cells.filter(isShort).length;
  const [next] = nextOf(routes.flatMap((r) => r.departures), clock(plan.settings.time_zone), 1);
  const way = (href, title, about, now) => el("li", {}, el("a", { href }, el("strong", {}, title), el("span", {}, about), now));
  return el("ul", { class: "three-ways" },
    way("/cells?" + new URLSearchParams({ plan: plan.id }), t("ways.cells"), t("ways.cells.about"),
      short ? word("bad", t("ways.cells.short", { n: short })) : word("good", t("ways.cells.fine"))),
    way("/rounds?" + new URLSearchParams({ plant: plan.plant }), t("ways.rounds"), t("ways.rounds.about"), next ? word("", t("ways.rounds.next", { time: next })) : word("", t("ways.rounds.none"))),
    way("/report?" + new URLSearchParams({ plan: plan.id }), t("ways.report"), t("ways.report.about"), word("", t("ways.report.kind"))));
}

function keyFigures(plan) {
  const s = plan.summary;
  const missing = s.loops - s.loops_placed;
  return figures([
    [t("loops.placed"), t("of", { part: s.loops_placed, all: s.loops }), missing ? word("bad", t("loops.without", { n: missing })) : word("good", t("loops.all"))],
    [t("plant.lanes"), num(s.lanes_used), t("plant.lanes.more", { free: t("lanes.n.free", { n: s.lanes_free }), returns: t("lanes.return", { n: s.return_lanes }) })],
    [t("word.racks"), num(s.racks), s.racks_proposed ? t("racks.proposed", { n: s.racks_proposed }) : t("racks.standing")],
    [t("plant.containers"), num(s.containers), t("plant.containers.hour", { rate: num(s.containers_per_hour, 1) })],
    [t("word.routes"), num(s.routes), t("plant.routes.more", { handlers: t("handlers", { n: s.handlers }), routes: t("plant.routes.least", { n: plan.route_bounds.routes_bound }) })],
    [t("plant.moves"), num(s.moves), s.moves ? t("plant.moves.more", { n: s.moved_containers }) : t("plant.moves.none")],
    [t("plant.proved"), t("of", { part: plan.cells_optimal, all: plan.cells }), plan.cells_optimal === plan.cells ? t("plant.proved.all") : t("plant.proved.some")],
    [t("findings.title"), num(s.errors + s.warnings + s.notes), ["error", "warning", "note"].map((kind) => t("findings.count." + kind, { n: s[kind + "s"] })).join(", ")],
  ]);
}

/** shortSection lists the cells that lack most, and leads to all of them. */
function shortSection(plan, cells) {
  const u = units(plan.settings);
  const short = byShort(cells.filter(isShort));
  const every = el("div", { class: "tools filters" }, el("a", { class: "button", href: "/cells?" + new URLSearchParams({ plan: plan.id }) }, t("plant.cells.all", { n: cells.length })));
  if (short.length === 0) return section("cells", t("plant.short"), t("cells.fine", { n: cells.length }), every);
  return section("cells", t("plant.short"), t("cells.short", { n: short.length, all: cells.length }), every, table(t("plant.short"), [
    { head: t("word.cell"), value: (c) => c.cell, cell: (c) => cellLink(plan, c) },
    { head: t("lanes.lacking"), bare: true, wide: true, value: (c) => c.lanes_short, words: stateText, cell: state },
    { head: t("cells.width.lacking"), wide: true, value: (c) => shortWidths(c, u) },
    { head: t("word.area"), value: (c) => c.area },
    { head: t("lanes.needed"), n: true, value: (c) => c.lanes_needed },
    { head: t("lanes.there"), n: true, value: (c) => c.lanes_there },
    { head: t("lanes.free"), n: true, value: (c) => c.lanes_free },
    { head: t("cells.unplaced"), n: true, value: (c) => c.containers_unplaced },
  ], short.slice(0, few)));
}

function routeSection(plan, routes) {
  const zone = plan.settings.time_zone;
  const now = clock(zone);
  if (routes.length === 0) return section("routes", t("routes.title"), null, empty(el("p", {}, t("routes.none"))));
  return section("routes", t("routes.title"), t("routes.about", { now, zone }), table(t("routes.title"), [
    { head: t("word.route"), value: (r) => r.route, cell: (r) => el("a", { href: `/routes/${seg(r.route)}?plan=${plan.id}` }, t("route.name", { route: r.route })) },
    { head: t("routes.next"), wide: true, value: (r) => nextOf(r.departures, now, 3).join(" · ") },
    { head: t("word.handler"), value: (r) => r.handler },
    { head: t("word.vehicle"), value: (r) => r.vehicle_type },
    { head: t("routes.every"), n: true, unit: "min", decimals: 1, value: (r) => r.interval_min },
    { head: t("routes.round"), n: true, unit: "min", decimals: 1, value: (r) => r.round_min },
    { head: t("routes.busy"), n: true, unit: "%", value: (r) => r.busy * 100, cell: (r) => [amount(r.busy * 100, "%"), track(r.busy, r.busy > 1)] },
    { head: t("route.load"), n: true, decimals: 1, value: (r) => r.load_mean, cell: (r) => [num(r.load_mean, 1), el("small", {}, t("routes.planned", { load: num(r.load_planned, 1) }))] },
    { head: t("word.stops"), n: true, value: (r) => r.stops.length },
  ], routes));
}
