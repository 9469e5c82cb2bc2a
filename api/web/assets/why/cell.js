// Why a cell has the lanes it has, and how good it could be.
import { all, ask, seg } from "../ask.js";
import { unplaced } from "../data/findings.js";
import { el } from "../element.js";
import { amount, num, units } from "../numbers.js";
import { t } from "../words.js";
import { stepList } from "./steps.js";

/** tell explains a cell. */
export async function tell({ plan, cell: code }) {
  const [cell, without, summary] = await Promise.all([ask(`/plans/${plan}/cells/${seg(code)}`), all(`/plans/${plan}/unplaced?cell=${seg(code)}`), ask(`/plans/${plan}/summary`)]);
  const u = units(summary.settings);
  return el("div", {}, stepList([
    ...cell.balance.map((b) => [t("why.width", { width: u.length(b.width_mm) }), t("why.width.how", { needed: b.needed, placed: b.placed }), num(Math.max(0, b.needed - b.placed))]),
    [t("lanes.lacking"), null, num(cell.lanes_short)],
    [t("cells.unplaced"), t("why.least", { n: num(cell.bound.unplaced_bound) }), num(cell.containers_unplaced)],
    [t("why.effort"), t("why.least", { n: num(cell.bound.effort_bound, 1) }), amount(cell.bound.effort, "kg/h", 1)],
    [t("why.ended"), null, t("plans.stop." + cell.bound.stopped_by)],
  ]), without.length > 0 && [el("h3", {}, t("unplaced.title")), unplaced(without)]);
}
