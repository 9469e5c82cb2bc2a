// What other refill intervals and service levels would come to: whole plans, tried
// on the facts of a plan; and what room a cell's racks could save.
import { all, ask, seg } from "../ask.js";
import { el, section, titled, word } from "../element.js";
import { amount, num } from "../numbers.js";
import { begin } from "../shell.js";
import { show } from "../states.js";
import { table } from "../table.js";
import { t } from "../words.js";
import { Chart, padded } from "./chart.js";
import { planCrumb, planHere, remember } from "./here.js";
import { planIt } from "./planit.js";
import { tradeSection } from "./trade.js";
import { waiting } from "./waiting.js";

/** what the chart can show of a choice. */
const axes = {
  cost: (c) => c.cost.total, containers: (c) => c.containers, racks: (c) => c.racks, handlers: (c) => c.handlers, frontage: (c) => c.frontage_m, stock: (c) => c.stock_value,
};

begin(async () => {
  const plan = await planHere("/choices");
  const at = `/plants/${seg(plan.plant)}`;
  const [settings, cells] = await Promise.all([ask(`${at}/settings?revision=${plan.revision_number}`), all(`/plans/${plan.id}/cells`)]);
  titled(t("choices.title"), plan.plant);
  const place = el("div", { id: "choices" });
  const query = new URLSearchParams(location.search);
  const own = (key) => settings.settings.find((s) => s.key === key).value;
  const field = (id, label, value, about) => el("p", { class: "choose" }, el("label", { for: id }, label), el("input", { id, name: id, value, autocomplete: "off", inputmode: "text", "aria-describedby": id + "-about" }), el("small", { id: id + "-about" }, about));
  const form = el("form", { onsubmit: (e) => { e.preventDefault(); tryThem(); } },
    field("intervals", t("choices.intervals"), query.get("intervals") ?? own("interval_choices_min"), t("choices.intervals.about")),
    field("levels", t("choices.levels"), query.get("levels") ?? own("service_level"), t("choices.levels.about")),
    el("p", { class: "tools" }, el("button", { type: "submit", class: "main" }, t("choices.try"))));
  show(planCrumb(plan), el("h1", {}, t("choices.title")), el("p", { class: "sub" }, t("choices.about", { revision: String(plan.revision_number) })), form, place, tradeSection(plan, cells, query.get("cell") ?? ""));
  if (query.has("intervals")) tryThem();

  function tryThem() {
    const clean = (id) => form.elements[id].value.split(/[;,\s]+/).filter(Boolean).join(",");
    const asked = { intervals: clean("intervals"), levels: clean("levels") };
    remember(asked);
    // Where the plant's own level is asked for alone, nothing needs saying of levels.
    const levels = asked.levels === own("service_level") ? {} : { service_levels: asked.levels };
    waiting(place, t("choices.waiting", { n: asked.intervals.split(",").length * Math.max(1, asked.levels.split(",").length) }), (signal) =>
      ask(`${at}/choices?${new URLSearchParams({ revision: plan.revision_number, intervals: asked.intervals, ...levels })}`, { signal }), (found) => drawn(plan, found.choices));
  }
});

function drawn(plan, choices) {
  const names = Object.keys(axes).filter((n) => n !== "cost" && n !== "stock" || choices.every((c) => axes[n](c) > 0));
  const picture = el("div", { class: "frame picture" });
  const draw = (name) => picture.replaceChildren(curve(choices, name));
  draw(names[0]);
  const partial = choices.some((c) => c.cost.partial);
  return section("curve", t("choices.found", { n: choices.length }), t("choices.found.about", { n: choices.filter((c) => c.undominated).length }),
    el("div", { class: "tools filters" }, el("label", { for: "axis" }, t("choices.up")), el("select", { id: "axis", onchange: (e) => draw(e.target.value) }, names.map((n) => el("option", { value: n }, t("choices.axis." + n))))),
    el("div", { class: "beside" }, picture, points(plan, choices)), partial && el("p", { class: "quiet" }, t("choices.partial")));
}

/** name is a choice's interval, with its service level where there are several. */
const name = (c, choices) => choices.some((x) => x.service_level !== c.service_level) ? `${amount(c.interval_min, "min", 1)}, ${amount(c.service_level, "%", 3)}` : amount(c.interval_min, "min", 1);

function curve(choices, axis) {
  const up = axes[axis];
  const chart = new Chart({
    x: [...padded(choices.map((c) => c.interval_min)), t("choices.across")], y: [...padded(choices.map(up)), t("choices.axis." + axis)],
    label: t("choices.label", { up: t("choices.axis." + axis), points: choices.filter((c) => c.undominated).map((c) => `${name(c, choices)}: ${num(up(c), 1)}`).join("; ") }),
  });
  const levels = [...new Set(choices.map((c) => c.service_level))];
  levels.forEach((level, i) => chart.joined(choices.filter((c) => c.service_level === level && c.undominated).map((c) => [c.interval_min, up(c)]), "series" + i % 3));
  for (const c of choices) chart.spot(c.interval_min, up(c), c.undominated, name(c, choices));
  return el("figure", {}, chart.root, el("figcaption", {}, t("choices.legend")));
}

function points(plan, choices) {
  const costly = choices.some((c) => c.cost.total > 0);
  return table(t("choices.title"), [
    { head: t("choices.choice"), value: (c) => c.interval_min, cell: (c) => name(c, choices) },
    { head: t("choices.is"), bare: true, value: (c) => t(c.undominated ? "choices.good" : "choices.beaten"), cell: (c) => word(c.undominated ? "good" : "", t(c.undominated ? "choices.good" : "choices.beaten")) },
    costly && { head: t("choices.axis.cost"), n: true, value: (c) => c.cost.total, cell: (c) => [num(c.cost.total), c.cost.partial && el("small", {}, t("choices.more"))] },
    { head: t("word.containers"), n: true, value: (c) => c.containers, cell: (c) => [num(c.containers), c.containers_unplaced > 0 && el("small", {}, t("choices.unplaced", { n: c.containers_unplaced }))] },
    { head: t("word.racks"), n: true, value: (c) => c.racks },
    { head: t("plans.handlers"), n: true, value: (c) => c.handlers },
    { head: t("choices.frontage"), n: true, unit: "m", decimals: 1, value: (c) => c.frontage_m },
    { head: t("choices.act"), bare: true, wide: true, value: () => "", cell: (c) => planIt(plan, { refill_interval_min: String(c.interval_min), service_level: String(c.service_level) }, t("choices.plan.of", { choice: name(c, choices) }), c.undominated) },
  ].filter(Boolean), choices);
}
