// How far a plan is from the best there could be, stage by stage, in words.
import { el, section, word } from "../element.js";
import { amount, num } from "../numbers.js";
import { cellLink } from "../cells/state.js";
import { table } from "../table.js";
import { whyButton } from "../why.js";
import { t } from "../words.js";

/** stages sets each result beside its bound. */
export function stages(plan, cells) {
  const s = plan.summary;
  const r = plan.route_bounds;
  const sum = (key) => cells.reduce((n, c) => n + c.bound[key], 0);
  const rows = [
    { stage: "demand", result: t("plans.stage.demand.result", { pieces: num(s.pieces_per_hour, 1), containers: num(s.containers_per_hour, 1) }) },
    { stage: "sizing", result: t("plans.stage.sizing.result", { containers: num(s.containers), loops: t("loops", { n: s.loops }) }) },
    row("lanes", sum("unplaced"), sum("unplaced_bound")), row("racks", sum("added_cost"), sum("added_cost_bound")),
    row("effort", sum("effort"), sum("effort_bound"), (n) => amount(n, "kg/h", 1)),
    row("routes", r.routes, r.routes_bound), row("handlers", r.handlers, r.handlers_bound), row("way", r.travel_m, r.travel_bound_m, (n) => amount(n, "m")),
  ];
  return section("stages", t("plans.stages"), t("plans.stages.about"), table(t("plans.stages"), [
    { head: t("plans.stage"), value: (x) => t("plans.stage." + x.stage) },
    { head: t("plans.result"), value: (x) => x.result },
    { head: t("plans.bound"), value: (x) => x.bound ?? "" },
    { head: t("plans.gap"), wide: true, bare: true, value: (x) => x.gap?.[1] ?? t("plans.gap.rule"), cell: (x) => x.gap ? word(...x.gap) : el("span", { class: "quiet" }, t("plans.gap.rule")) },
  ], rows));
}

function row(stage, value, bound, write = (n) => num(n, 1)) {
  return { stage, result: write(value), bound: write(bound), gap: gap(value, bound) };
}

/** gap says in a word how far a value is above what none can be below. */
function gap(value, bound) {
  if (value - bound < 1e-6) return ["good", t("plans.gap.none")];
  if (bound <= 0) return ["warn", t("plans.gap.open")];
  return ["warn", t("plans.gap.most", { share: amount((value - bound) / bound * 100, "%", 1) })];
}

/** cellStages are the same of each cell, with what ended its search. */
export function cellStages(plan, cells) {
  const shown = cells.filter((c) => c.bound.stopped_by);
  return section("cells", t("plans.cells"), t("plans.cells.about", { n: plan.cells_optimal, all: plan.cells }), table(t("plans.cells"), [
    { head: t("word.cell"), value: (c) => c.cell, cell: (c) => cellLink(plan, c) },
    { head: t("cells.unplaced"), n: true, value: (c) => c.bound.unplaced, cell: (c) => [num(c.bound.unplaced), least(c.bound.unplaced, c.bound.unplaced_bound, num)] },
    { head: t("plans.added"), n: true, value: (c) => c.bound.added_cost, cell: (c) => [num(c.bound.added_cost), least(c.bound.added_cost, c.bound.added_cost_bound, num)] },
    { head: t("word.effort"), n: true, unit: "kg/h", decimals: 1, value: (c) => c.bound.effort, cell: (c) => [amount(c.bound.effort, "kg/h", 1), least(c.bound.effort, c.bound.effort_bound, (n) => num(n, 1))] },
    { head: t("plans.best"), wide: true, bare: true, value: (c) => t("plans.stop." + c.bound.stopped_by), cell: (c) => word(c.bound.optimal ? "good" : "", t("plans.stop." + c.bound.stopped_by)) },
    { head: t("word.why"), value: () => "", cell: (c) => whyButton("cell", { plan: plan.id, cell: c.cell }) },
  ], shown));
}

const least = (value, bound, write) => value - bound > 1e-6 && el("small", {}, t("why.least", { n: write(bound) }));
