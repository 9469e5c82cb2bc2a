// What a cell's racks come to when their levels may be filled less: room against
// the effort of the work on them.
import { ask, seg } from "../ask.js";
import { el, section, word } from "../element.js";
import { amount, num } from "../numbers.js";
import { table } from "../table.js";
import { t } from "../words.js";
import { Chart, padded } from "./chart.js";
import { remember } from "./here.js";
import { planIt } from "./planit.js";
import { waiting } from "./waiting.js";

/** tradeSection lets a cell be chosen and shows its trade; chosen is begun with. */
export function tradeSection(plan, cells, chosen) {
  const place = el("div");
  const select = el("select", { id: "trade-cell" }, cells.map((c) => el("option", { value: c.cell, selected: c.cell === chosen }, c.cell)));
  const draw = () => {
    remember({ cell: select.value });
    waiting(place, t("trade.waiting", { cell: select.value }), (signal) => ask(`/plans/${plan.id}/cells/${seg(select.value)}/trade`, { signal }), (found) => drawn(plan, found.trade));
  };
  if (cells.some((c) => c.cell === chosen)) draw();
  return section("trade", t("trade.title"), t("trade.about"), el("div", { class: "tools filters" }, el("label", { for: "trade-cell" }, t("word.cell")), select, el("button", { type: "button", onclick: draw }, t("choices.try"))), place);
}

function drawn(plan, list) {
  const chart = new Chart({
    x: [...padded(list.map((x) => x.frontage_m)), t("trade.across")], y: [...padded(list.map((x) => x.effort)), t("trade.up")],
    label: t("choices.label", { up: t("trade.up"), points: list.filter((x) => x.undominated).map((x) => `${limit(x)}: ${num(x.frontage_m, 1)} m, ${num(x.effort, 1)} kg/h`).join("; ") }),
  });
  chart.joined(list.filter((x) => x.undominated).map((x) => [x.frontage_m, x.effort]).sort((a, b) => a[0] - b[0]), "series0");
  for (const x of list) chart.spot(x.frontage_m, x.effort, x.undominated, limit(x));
  return el("div", { class: "beside" }, el("div", { class: "frame picture" }, el("figure", {}, chart.root, el("figcaption", {}, t("choices.legend")))), table(t("trade.title"), [
    { head: t("trade.limit"), value: (x) => x.fill_limit, cell: limit },
    { head: t("choices.is"), bare: true, value: (x) => t(x.undominated ? "choices.good" : "choices.beaten"), cell: (x) => word(x.undominated ? "good" : "", t(x.undominated ? "choices.good" : "choices.beaten")) },
    { head: t("choices.frontage"), n: true, unit: "m", decimals: 2, value: (x) => x.frontage_m },
    { head: t("word.effort"), n: true, unit: "kg/h", decimals: 1, value: (x) => x.effort },
    { head: t("word.racks"), n: true, value: (x) => x.racks },
    { head: t("cells.unplaced"), n: true, value: (x) => x.containers_unplaced },
    { head: t("plans.added"), n: true, value: (x) => x.added_cost },
    { head: t("choices.act"), bare: true, wide: true, value: () => "", cell: (x) => x.priced ? "" : planIt(plan, { fill_limit: String(x.fill_limit) }, t("trade.plan.of", { limit: limit(x) }), x.undominated) },
  ], list));
}

const limit = (x) => x.priced ? t("trade.priced") : amount(x.fill_limit, "%", 1);
