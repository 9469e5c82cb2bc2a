// The move list: what must be carried to come from one plan to another, in an order that
// can be worked down, on paper too.
import { ask, seg } from "../ask.js";
import { crumb, el, figures, titled } from "../element.js";
import { amount, num } from "../numbers.js";
import { begin } from "../shell.js";
import { empty, show } from "../states.js";
import { table } from "../table.js";
import { t } from "../words.js";
import { thePlan } from "../plan.js";
import { shiftText } from "./publish.js";

begin(async () => {
  const query = new URLSearchParams(location.search);
  const since = query.get("since") ?? "0";
  const draft = query.has("draft") ? await ask(`/drafts/${seg(query.get("draft"))}`) : null;
  const plan = draft ? await ask(`/plans/${draft.plan}/summary`) : await thePlan();
  const list = await ask(`${draft ? `/drafts/${draft.id}/moves` : `/plans/${plan.id}/moves/list`}?since=${seg(since)}`);
  titled(t("draft.moves"), plan.plant);
  const to = draft ? draft.published_plan ? t("plan.number", { id: String(draft.published_plan) }) : t("draft.moves.draft", { name: draft.name }) : t("plan.number", { id: String(plan.id) });
  const from = list.since ? t("plan.number", { id: String(list.since) }) : t("draft.moves.today");
  show(
    draft ? crumb(`/drafts/${draft.id}`, draft.name, plan.plant) : crumb("/drafts?" + new URLSearchParams({ plant: plan.plant }), t("draft.title"), plan.plant),
    el("div", { class: "lead" }, el("div", {}, el("h1", {}, t("draft.moves")), el("p", { class: "sub" }, t("draft.moves.from.to", { from, to }))),
      el("div", { class: "tools" }, el("button", { type: "button", onclick: () => print() }, t("draft.moves.print")))),
    list.steps.length === 0 ? empty(el("p", {}, list.since ? t("draft.moves.none") : t("draft.moves.unknown"))) : body(list));
});

function body(list) {
  let at = 0;
  return [
    figures([[t("word.containers"), num(list.containers), t("draft.moves.carried")], [t("draft.moves.time"), amount(list.minutes, "min"), t("draft.moves.one")],
      [t("cells.title"), num(new Set(list.shifts.map((s) => s.cell)).size), t("draft.moves.cells")], [t("draft.moves.steps"), num(list.steps.length), t("draft.moves.order")]]),
    list.shifts.map((s, i) => shift(s, i, list.steps.slice(at, at += s.steps))),
  ];
}

function shift(s, i, steps) {
  return el("section", { class: "shift", "aria-labelledby": `shift-${i}` },
    el("div", { class: "bar-head" }, el("div", {}, el("h2", { id: `shift-${i}` }, t("cell.name", { cell: s.cell }), " · ", shiftText(s)),
      el("p", {}, t("draft.moves.sum", { containers: t("containers", { n: s.containers }), time: amount(s.minutes, "min") })))),
    table(t("draft.moves.of", { cell: s.cell }), [
      { head: t("draft.moves.step"), value: (m) => m.step },
      { head: t("word.part"), value: (m) => m.part, cell: (m) => [m.part, el("small", {}, t("draft.moves.station", { station: m.station }))] },
      { head: t("word.containers"), n: true, value: (m) => m.containers },
      { head: t("draft.from"), value: (m) => lay(m.from) }, { head: t("draft.to"), value: (m) => lay(m.to) },
      { head: t("draft.moves.what"), wide: true, bare: true, value: (m) => t("draft.moves.kind." + m.kind) },
      { head: t("draft.moves.time"), n: true, unit: "min", decimals: 1, value: (m) => m.minutes },
      { head: t("draft.moves.done"), bare: true, value: () => "", cell: () => el("span", { class: "box", "aria-hidden": "true" }) },
    ], steps));
}

/** lay is where containers lie: a lane, the floor beside a rack, the market. */
function lay(at) {
  if (!at) return t("draft.moves.market");
  return at.level ? `${at.rack}/${at.level}-${at.lane}` : t("draft.moves.floor", { rack: at.rack });
}
