// What differs from the plan that the floor works to, or from another one.
import { ask, seg } from "../ask.js";
import { el, word } from "../element.js";
import { num } from "../numbers.js";
import { part } from "../states.js";
import { table } from "../table.js";
import { t } from "../words.js";

/** changedSince tells what differs between an older plan and this one, in the chosen cells. */
export function changedSince(plan, older, cells) {
  if (!older) return el("p", {}, t("report.since.nothing"));
  return part(async () => {
    const c = await ask(`/plans/${seg(older)}/compare/${plan.id}`);
    const here = (list) => list.filter((x) => cells.length === 0 || cells.includes(x.cell));
    const [loops, racks, differing] = [here(c.loops), here(c.racks), here(c.cells)];
    const carried = loops.reduce((sum, l) => sum + l.carried, 0);
    const said = loops.length + racks.length + differing.length === 0 ? t("report.since.same", { plan: String(older) })
      : t("report.since.sum", { loops: t("report.since.loops", { n: loops.length }), racks: t("report.since.racks", { n: racks.length }), containers: t("report.since.carried", { n: carried }) });
    const both = (head, key, decimals = 0) => ({
      head, n: true, decimals, value: (x) => x.after[key] - x.before[key],
      cell: (x) => x.before[key] === x.after[key] ? num(x.after[key], decimals) : `${num(x.before[key], decimals)} → ${num(x.after[key], decimals)}`,
    });
    const fresh = racks.filter((r) => !r.type_before);
    const gone = racks.filter((r) => !r.type_after);
    return el("div", {}, el("p", {}, said, " ", el("a", { class: "screen", href: `/plans/compare?a=${older}&b=${plan.id}` }, t("report.since.all"))),
      fresh.length > 0 && el("p", {}, word("warn", t("report.since.new", { n: fresh.length })), " ", fresh.map((r) => `${r.rack} (${r.type_after})`).join(", ")),
      gone.length > 0 && el("p", {}, word("warn", t("report.since.gone", { n: gone.length })), " ", gone.map((r) => r.rack).join(", ")),
      differing.length > 0 && table(t("report.since"), [
        { head: t("word.cell"), value: (x) => x.cell, cell: (x) => el("a", { href: `/cells/${seg(x.cell)}?plan=${plan.id}` }, x.cell) },
        both(t("word.containers"), "containers"), both(t("cells.unplaced"), "containers_unplaced"), both(t("racks.used"), "lanes_used"), both(t("lanes.free"), "lanes_free"),
        both(t("word.racks"), "racks"), both(t("word.effort"), "effort", 1),
      ], differing));
  });
}
