// One cell: lanes by width, its racks as they stand, its loops and findings.
import { all, ask, count, el, failed, figures, num, planOf, section, seg, show, table, track, units, word } from "./base.js";
import { findings, unplaced } from "./findings.js";

main().catch(failed);

async function main() {
  const code = decodeURIComponent(location.pathname.split("/").slice(2).join("/"));
  const { plan } = await planOf();
  if (!plan) throw new Error("There is no plan to show this cell of.");
  const at = `/plans/${plan.id}`;
  const [cell, lanes, racks, loops, without] = await Promise.all([
    ask(`${at}/cells/${seg(code)}`), all(`${at}/cells/${seg(code)}/lanes`), all(`${at}/racks?cell=${seg(code)}`),
    all(`${at}/loops?cell=${seg(code)}`), all(`${at}/unplaced?cell=${seg(code)}`),
  ]);
  document.title = `Cell ${cell.cell} · ${plan.plant} · Lanewright`;
  show(lead(plan, cell), keyFigures(cell),
    without.length > 0 && section("unplaced", "Without a lane", "Loops, or parts of them, for which no lane was found, and why.", unplaced(without)),
    balance(plan, cell), rackSection(plan, racks, lanes), loopSection(plan, loops), findings(plan.id, cell.cell));
}

function lead(plan, cell) {
  return [
    el("p", { class: "crumb" }, el("a", { href: "/?" + new URLSearchParams({ plan: plan.id }) }, plan.plant), ` · plan ${plan.id}`),
    el("h1", {}, `Cell ${cell.cell}`),
    el("p", { class: "sub" }, [cell.name, cell.area, count(cell.stations, "station"), cell.routes.length ? `refilled by ${cell.routes.length > 1 ? "routes" : "route"} ${cell.routes.join(", ")}` : "on no route"].filter(Boolean).join(" · ")),
  ];
}

function keyFigures(c) {
  const gap = c.bound.effort > 0 ? (c.bound.effort - c.bound.effort_bound) / c.bound.effort : 0;
  return figures([
    ["Lanes needed", num(c.lanes_needed), c.lanes_short ? word("bad", `${count(c.lanes_short, "lane")} short`) : word("good", "all given")],
    ["Lanes there", num(c.lanes_there), `${num(c.lanes_used)} in use, ${num(c.lanes_free)} free`],
    ["Loops with a lane", `${num(c.loops_placed)} of ${num(c.loops)}`, c.containers_unplaced ? word("bad", `${count(c.containers_unplaced, "container")} without a lane`) : `${count(c.containers, "container")}`],
    ["Racks", num(c.racks), c.racks_proposed ? `${num(c.racks_proposed)} of them proposed` : "all standing today"],
    ["Effort", `${num(c.bound.effort, 1)} kg/h`, c.bound.optimal ? "proved: no layout is better" : `at most ${num(gap * 100, 1)} % above the least possible`],
  ]);
}

/** balance says for each lane width what is needed, given and possible. */
function balance(plan, cell) {
  const u = units(plan.settings);
  return section("balance", "Lanes by width", "A lane of one width class serves containers that need that width.",
    el("div", { class: "frame" }, table("Lanes by width", [
      { head: "Lane width", cell: (b) => u.length(b.width_mm) },
      { head: "State", bare: true, cell: (b) => b.needed > b.placed ? word("bad", `${count(b.needed - b.placed, "lane")} short`) : word("good", "enough") },
      { head: "Needed", n: true, cell: (b) => num(b.needed) },
      { head: "Given", n: true, cell: (b) => num(b.placed) },
      { head: "Room for more", n: true, cell: (b) => num(b.room) },
    ], cell.balance)));
}

function rackSection(plan, racks, lanes) {
  return section("racks", "Racks", "Seen from the pick side, the highest level on top, lanes at their widths.",
    racks.length === 0 ? el("p", { class: "note" }, "No rack stands here and none was proposed.") :
      el("div", { class: "racks" }, racks.map((r) => rack(plan, r, lanes.filter((l) => l.rack === r.rack)))));
}

function rack(plan, r, lanes) {
  const u = units(plan.settings);
  return el("article", { class: "rack", id: "rack-" + r.rack },
    el("header", {}, el("h3", {}, `Rack ${r.rack}`), r.proposed ? word("warn", "proposed") : word("", "standing"),
      el("span", { class: "quiet" }, `${r.rack_type}, ${u.length(r.width_mm)} wide, serves ${r.stations.join(", ") || "nobody"}`)),
    [...r.levels].reverse().map((level) => drawLevel(level, lanes.filter((l) => l.level === level.level), u)));
}

function drawLevel(level, lanes, u) {
  const used = lanes.reduce((sum, l) => Math.max(sum, l.offset_mm + l.width_mm), 0);
  const rest = el("li", { class: "rest", "aria-hidden": "true" });
  rest.style.flexGrow = Math.max(0, level.usable_width_mm - used);
  return el("div", { class: "level" },
    el("p", {}, `Level ${level.level} · ${level.kind === "return" ? "return of empties" : "supply"} · pick edge at ${u.length(level.pick_height_mm)}`),
    el("ul", { class: "lanes", tabindex: "0", "aria-label": `Lanes of level ${level.level}` }, lanes.map((l) => lane(l, u)), rest));
}

function lane(l, u) {
  const what = l.kind === "return" ? "return" : l.part === "" ? "free" : "";
  const box = el("li", { class: `lane ${what}`, title: `Lane ${l.lane}, ${u.length(l.width_mm)} wide` },
    what ? [el("b", {}, what), el("span", {}, u.length(l.width_mm))] :
      [el("b", {}, l.part), el("span", {}, `${num(l.containers)} of ${num(l.capacity)}`), track(l.containers / l.capacity)]);
  box.style.flexGrow = l.width_mm;
  return box;
}

function loopSection(plan, loops) {
  return section("loops", "Loops", `${count(loops.length, "point")} of use, and the containers each needs between two refills.`,
    el("div", { class: "frame" }, table("Loops", [
      { head: "Part", cell: (l) => l.part },
      { head: "Station", cell: (l) => l.station },
      { head: "Container", cell: (l) => [l.container, el("small", {}, `${num(l.pack)} pieces`)] },
      { head: "Pieces an hour", n: true, cell: (l) => num(l.pieces_per_hour, 1) },
      { head: "Refilled every", n: true, cell: (l) => `${num(l.interval_min, 1)} min` },
      { head: "Containers", n: true, cell: (l) => [num(l.containers), l.demand_model === "fixed" && el("small", {}, `fixed; rule ${num(l.rule_containers)}`)] },
      { head: "Lanes", n: true, cell: (l) => l.lanes ? num(l.lanes) : word("bad", "none") },
      { head: "Route", cell: (l) => l.route ? el("a", { href: `/routes/${seg(l.route)}?plan=${plan.id}` }, l.route) : "—" },
    ], loops)));
}
