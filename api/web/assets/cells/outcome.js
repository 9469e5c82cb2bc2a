// What an edit changed, and what of the whole draft differs from its plan.
import { el, word } from "../element.js";
import { num } from "../numbers.js";
import { t } from "../words.js";
import { address, keyOf } from "./desk.js";
import { gain } from "./front.js";
import { numberText } from "./panel.js";

/** outcome tells what became of the cell between two looks at it. */
export function outcome(was, now, done) {
  const lines = compared(was.cell, was.after, now.cell, now.after);
  const lifts = now.lifting.length - was.lifting.length - (now.eased.length - was.eased.length);
  if (lifts) lines.push(lifts > 0 ? word("warn", t("edit.lifts.more", { n: lifts })) : word("good", t("edit.lifts.less", { n: -lifts })));
  const routes = now.routes.filter((r) => JSON.stringify(r) !== JSON.stringify(was.routes.find((o) => o.route === r.route)));
  if (routes.length) lines.push(t("edit.routes", { n: routes.length, list: routes.map((r) => r.route).join(", ") }));
  const before = new Set(was.broken.map((f) => f.code + f.summary));
  const broken = now.broken.filter((f) => !before.has(f.code + f.summary));
  const refused = broken.some((f) => f.code === "edit.not-possible");
  return el("div", { class: "outcome" }, el("strong", {}, refused ? t("edit.refused") : done), el("ul", {}, lines.map((l) => el("li", {}, l)),
    broken.map((f) => el("li", {}, word("bad", t("edit.rule")), " ", el("span", { lang: "en" }, f.summary)))));
}

function compared(cell, a, now, b) {
  const lines = [];
  const better = (kind, from, to, text) => { if (from !== to) lines.push(word(kind(to - from), text)); };
  const less = (d) => d > 0 ? "bad" : "good";
  better(less, a.unplaced, b.unplaced, t("edit.unplaced", { change: numberText(a.unplaced, b.unplaced) }));
  better(() => "", a.lanes_used, b.lanes_used, t("edit.lanes.used", { change: numberText(a.lanes_used, b.lanes_used) }));
  better(() => "", a.lanes_needed, b.lanes_needed, t("edit.lanes.needed", { change: numberText(a.lanes_needed, b.lanes_needed) }));
  better(less, a.splits, b.splits, t("edit.splits", { change: numberText(a.splits, b.splits) }));
  if (Math.abs(b.effort - a.effort) > 0.005) lines.push(word(b.effort > a.effort ? "warn" : "good", t("edit.effort", { change: numberText(a.effort, b.effort, 1), by: gain(b.effort - a.effort) })));
  if (b.moved !== a.moved) lines.push(t("edit.moves", { change: numberText(a.moved, b.moved) }));
  if (cell.lanes_free !== now.lanes_free) lines.push(t("edit.free", { change: numberText(cell.lanes_free, now.lanes_free) }));
  if (lines.length === 0) lines.push(t("edit.same"));
  return lines;
}

/** changes lists the loops that lie elsewhere than in the plan, and the rules that are
 *  broken now. */
export function changes(desk) {
  const { data } = desk;
  const where = (lanes) => lanes.length ? lanes.map(address).join(", ") : t("edit.nowhere.short");
  const moved = data.changes.filter((c) => !c.slid);
  if (moved.length + data.broken.length + data.lifting.length === 0) return null;
  return el("div", { class: "all-changes" },
    data.broken.length > 0 && [el("h3", {}, t("edit.broken")), el("ul", { class: "broken" }, data.broken.map((f) => el("li", { lang: "en" }, [f.summary, f.remedy].filter(Boolean).join(". "))))],
    data.lifting.length > 0 && [el("h3", {}, t("edit.lifting")), el("ul", {}, data.lifting.map((f) => el("li", { lang: "en" }, f.summary)))],
    moved.length > 0 && el("details", { open: moved.length <= 8 }, el("summary", {}, t("edit.changed", { n: moved.length })),
      el("ul", {}, moved.map((c) => el("li", {}, el("b", {}, c.part), ` ${where(c.before)} → ${where(c.after)}`,
        c.containers_before !== c.containers_after && ` · ${t("edit.containers", { change: `${num(c.containers_before)} → ${num(c.containers_after)}` })}`)))));
}

/** isChanged reports whether a loop differs from the plan. */
export const isChanged = (desk, loop) => desk.data.changes.some((c) => keyOf(c) === keyOf(loop));
