// One cell: lanes by width, its racks as they stand, its loops and findings.
import { all, ask, codeOf, seg } from "../ask.js";
import { findings, unplaced } from "../data/findings.js";
import { crumb, el, figures, section, titled, track, word } from "../element.js";
import { amount, num, units } from "../numbers.js";
import { thePlan } from "../plan.js";
import { begin } from "../shell.js";
import { empty, show } from "../states.js";
import { table } from "../table.js";
import { t } from "../words.js";
import { widthState } from "./state.js";

begin(async () => {
  const code = codeOf();
  const plan = await thePlan();
  const at = `/plans/${plan.id}`;
  const [cell, lanes, racks, loops, without] = await Promise.all([
    ask(`${at}/cells/${seg(code)}`), all(`${at}/cells/${seg(code)}/lanes`), all(`${at}/racks?cell=${seg(code)}`),
    all(`${at}/loops?cell=${seg(code)}`), all(`${at}/unplaced?cell=${seg(code)}`),
  ]);
  titled(t("cell.name", { cell: cell.cell }), plan.plant);
  show(lead(plan, cell), keyFigures(cell),
    without.length > 0 && section("unplaced", t("unplaced.title"), t("unplaced.about"), unplaced(without)),
    balance(plan, cell), rackSection(plan, racks, lanes), loopSection(plan, loops), findings(plan.id, cell.cell));
});

function lead(plan, cell) {
  const routes = cell.routes.length ? t("cell.routes", { n: cell.routes.length, list: cell.routes.join(", ") }) : t("cell.routes.none");
  return [
    crumb("/cells?" + new URLSearchParams({ plan: plan.id }), t("cells.title"), t("plan.number", { id: String(plan.id) })),
    el("h1", {}, t("cell.name", { cell: cell.cell })),
    el("p", { class: "sub" }, [cell.name, cell.area, t("stations", { n: cell.stations }), routes].filter(Boolean).join(" · ")),
  ];
}

function keyFigures(c) {
  const gap = c.bound.effort > 0 ? (c.bound.effort - c.bound.effort_bound) / c.bound.effort : 0;
  return figures([
    [t("lanes.needed"), num(c.lanes_needed), c.lanes_short ? word("bad", t("lanes.short", { n: c.lanes_short })) : word("good", t("cell.given"))],
    [t("lanes.there"), num(c.lanes_there), t("lanes.used.free", { used: c.lanes_used, free: c.lanes_free })],
    [t("loops.placed"), t("of", { part: c.loops_placed, all: c.loops }), c.containers_unplaced ? word("bad", t("containers.unplaced", { n: c.containers_unplaced })) : t("containers", { n: c.containers })],
    [t("word.racks"), num(c.racks), c.racks_proposed ? t("racks.proposed", { n: c.racks_proposed }) : t("racks.standing")],
    [t("word.effort"), amount(c.bound.effort, "kg/h", 1), c.bound.optimal ? t("cell.proved") : t("cell.gap", { share: amount(gap * 100, "%", 1) })],
  ]);
}

/** balance says for each lane width what is needed, given and possible. */
function balance(plan, cell) {
  const u = units(plan.settings);
  return section("balance", t("balance.title"), t("balance.about"), table(t("balance.title"), [
    { head: t("balance.width"), ...u.lengthOf((b) => b.width_mm), n: false },
    { head: t("word.state"), bare: true, value: widthState, cell: (b) => word(b.needed > b.placed ? "bad" : "good", widthState(b)) },
    { head: t("lanes.needed"), n: true, value: (b) => b.needed },
    { head: t("lanes.given"), n: true, value: (b) => b.placed },
    { head: t("lanes.room"), n: true, value: (b) => b.room },
  ], cell.balance));
}

function rackSection(plan, racks, lanes) {
  return section("racks", t("word.racks"), t("cell.racks.about"),
    racks.length === 0 ? empty(el("p", {}, t("cell.racks.none"))) :
      el("div", { class: "racks" }, racks.map((r) => rack(plan, r, lanes.filter((l) => l.rack === r.rack)))));
}

function rack(plan, r, lanes) {
  const u = units(plan.settings);
  return el("article", { class: "rack", id: "rack-" + r.rack },
    el("header", {}, el("h3", {}, t("rack.name", { rack: r.rack })), r.proposed ? word("warn", t("rack.proposed")) : word("", t("rack.standing")),
      el("span", { class: "quiet" }, t("rack.about", { type: r.rack_type, width: u.length(r.width_mm), stations: r.stations.join(", ") || t("rack.nobody") }))),
    [...r.levels].reverse().map((level) => drawLevel(r, level, lanes.filter((l) => l.level === level.level), u)));
}

function drawLevel(r, level, lanes, u) {
  const used = lanes.reduce((sum, l) => Math.max(sum, l.offset_mm + l.width_mm), 0);
  const rest = el("li", { class: "rest", "aria-hidden": "true" });
  rest.style.flexGrow = Math.max(0, level.usable_width_mm - used);
  return el("div", { class: "level" },
    el("p", {}, t("level." + level.kind, { level: level.level, height: u.length(level.pick_height_mm) })),
    el("div", { class: "lanes-frame", tabindex: "0", role: "group", "aria-label": t("level.lanes", { rack: r.rack, level: level.level }) },
      el("ul", { class: "lanes" }, lanes.map((l) => lane(l, u)), rest)));
}

function lane(l, u) {
  const kind = l.kind === "return" ? "return" : l.part === "" ? "free" : "";
  const box = el("li", { class: `lane ${kind}`, title: t("lane.title", { lane: l.lane, width: u.length(l.width_mm) }) },
    kind ? [el("b", {}, kind === "return" ? t("lane.return") : t("lane.free")), el("span", {}, u.length(l.width_mm))] :
      [el("b", {}, l.part), el("span", {}, t("of", { part: l.containers, all: l.capacity })), track(l.containers / l.capacity)]);
  box.style.flexGrow = l.width_mm;
  return box;
}

function loopSection(plan, loops) {
  return section("loops", t("loops.title"), t("loops.about", { n: loops.length }), table(t("loops.title"), [
    { head: t("word.part"), value: (l) => l.part },
    { head: t("word.station"), value: (l) => l.station },
    { head: t("word.container"), value: (l) => l.container, cell: (l) => [l.container, el("small", {}, t("pieces", { n: l.pack }))] },
    { head: t("loops.pieces"), n: true, decimals: 1, value: (l) => l.pieces_per_hour },
    { head: t("loops.every"), n: true, unit: "min", decimals: 1, value: (l) => l.interval_min },
    { head: t("word.containers"), n: true, value: (l) => l.containers, cell: (l) => [num(l.containers), l.demand_model === "fixed" && el("small", {}, t("loops.fixed", { n: l.rule_containers }))] },
    { head: t("word.lanes"), n: true, value: (l) => l.lanes, cell: (l) => l.lanes ? num(l.lanes) : word("bad", t("word.none")) },
    { head: t("word.route"), value: (l) => l.route, cell: (l) => l.route ? el("a", { href: `/routes/${seg(l.route)}?plan=${plan.id}` }, l.route) : "—" },
  ], loops));
}
