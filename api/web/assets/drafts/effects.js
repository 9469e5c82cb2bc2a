// What a draft makes, against the plan that it stands on or the one the floor works to.
import { ask } from "../ask.js";
import { gravity } from "../data/findings.js";
import { el, section, word } from "../element.js";
import { amount, num } from "../numbers.js";
import { part } from "../states.js";
import { table } from "../table.js";
import { t } from "../words.js";
import { counted, routeText } from "./publish.js";
import { address, cellLink } from "./tell.js";

/** totals that are shown, by their name in the API: decimals, and whether more (1) or less (-1)
 *  is better. */
const shown = {
  "loops with all their lanes": [0, 1], "containers without a lane": [0, -1], "lanes used": [0, 0], "lanes free": [0, 0], "racks": [0, -1],
  "effort": [1, -1], "routes": [0, 0], "handlers": [0, -1], "way driven": [0, -1], "cost": [0, -1],
};

/** effects shows them; which plan it is compared with stands in the address. */
export function effects(draft, floor) {
  const plans = [...new Set([draft.plan, floor.published?.plan, floor.latest].filter(Boolean))].filter((p) => p !== draft.published_plan);
  const wanted = Number(new URLSearchParams(location.search).get("against"));
  const place = el("div");
  const draw = (against) => place.replaceChildren(part(async () => body(draft, await ask(`/drafts/${draft.id}/compare/${against}`))));
  const select = el("select", { id: "against", onchange: (e) => {
    const query = new URLSearchParams(location.search);
    query.set("against", e.target.value);
    history.replaceState(null, "", "?" + query);
    draw(e.target.value);
  } }, plans.map((p) => el("option", { value: p, selected: p === wanted },
    t(p === floor.published?.plan ? "draft.on.published" : p === draft.plan ? "draft.on.own" : "draft.on.latest", { id: String(p) }))));
  draw(select.value);
  return section("effects", t("draft.effects"), t("draft.effects.about"), el("div", { class: "tools filters" }, el("label", { for: "against" }, t("draft.against")), select), place);
}

function body(draft, c) {
  const parts = [totals(c), cells(draft, c.cells), findings(draft, c.findings), routes(c), racks(draft, c.racks), loops(draft, c.loops)].filter(Boolean);
  return el("div", {}, parts.length ? parts : el("p", { class: "note" }, t("draft.effects.none")));
}

const head = (id, title) => el("h3", { id: "effects-" + id }, title);
const change = (a, b, decimals = 0, unit = "") => a === b ? num(b, decimals) : `${num(a, decimals)} → ${unit ? amount(b, unit, decimals) : num(b, decimals)}`;

function totals(c) {
  const rows = c.totals.filter((x) => shown[x.name] && x.known && Math.abs(x.after - x.before) > 1e-9);
  if (rows.length === 0) return null;
  return [head("totals", t("draft.totals")), el("ul", { class: "plain totals" }, rows.map((x) => {
    const [decimals, way] = shown[x.name];
    const better = way && (Math.sign(x.after - x.before) === way ? word("good", t("compare.better")) : word("warn", t("compare.worse")));
    return el("li", {}, el("span", {}, t("compare.total." + x.name.replaceAll(" ", "-"))), " ", el("strong", {}, change(x.before, x.after, decimals, x.unit === "a year" ? "" : x.unit)), " ", better || "");
  }))];
}

function cells(draft, list) {
  if (list.length === 0) return null;
  const both = (name, key, decimals) => ({ head: name, n: true, decimals, value: (x) => x.after[key] - x.before[key], cell: (x) => change(x.before[key], x.after[key], decimals) });
  return [head("cells", t("cells.title")), table(t("cells.title"), [
    { head: t("word.cell"), value: (x) => x.cell, cell: (x) => cellLink(draft, x.cell) },
    both(t("cells.unplaced"), "containers_unplaced"), both(t("racks.used"), "lanes_used"), both(t("lanes.free"), "lanes_free"), both(t("word.containers"), "containers"), both(t("word.effort"), "effort", 1),
  ], list)];
}

function findings(draft, list) {
  if (list.length === 0) return null;
  const { came, changed, gone } = counted(list);
  const state = (f) => t(f.gone ? "compare.gone" : f.was ? "compare.changed" : "compare.new");
  return [head("findings", t("findings.title")), el("p", {}, [
    came && t("draft.findings.came", { n: came }), changed && t("draft.findings.changed", { n: changed }), gone && t("draft.findings.gone", { n: gone })].filter(Boolean).join(" · ")),
    table(t("findings.title"), [
      { head: t("draft.finding"), wide: true, value: (f) => f.summary, words: (f) => f.code, cell: (f) => [el("span", { lang: "en" }, f.summary), f.was && el("small", { lang: "en" }, t("draft.findings.was", { text: f.was })), el("small", {}, el("code", {}, f.code))] },
      { head: t("word.state"), bare: true, value: state, cell: (f) => word(f.gone ? "good" : f.was ? "" : "warn", state(f)) },
      { head: t("draft.gravity"), bare: true, value: (f) => f.severity, cell: (f) => gravity(f.severity) },
      { head: t("word.cell"), value: (f) => f.cell, cell: (f) => f.cell ? cellLink(draft, f.cell) : "—" },
    ], list)];
}

const routes = (c) => c.routes.length === 0 ? null : [head("routes", t("routes.title")), el("ul", { class: "plain" }, c.routes.map((r) => el("li", {}, routeText(r))))];

function racks(draft, list) {
  if (list.length === 0) return null;
  return [head("racks", t("word.racks")), table(t("word.racks"), [
    { head: t("word.rack"), value: (x) => x.rack }, { head: t("word.cell"), value: (x) => x.cell, cell: (x) => cellLink(draft, x.cell) },
    { head: t("racks.used"), n: true, value: (x) => x.lanes_used_after, cell: (x) => change(x.lanes_used_before, x.lanes_used_after) },
    { head: t("compare.lanes.changed"), n: true, value: (x) => x.lanes_changed },
  ], list)];
}

function loops(draft, all) {
  const lies = (s) => !s ? "—" : s.lanes.map(address).join(", ") || t("draft.nowhere");
  const sized = (s) => s && [s.containers, s.container, s.pack, s.interval_min].join();
  const list = all.filter((x) => lies(x.before) !== lies(x.after) || sized(x.before) !== sized(x.after)); // others slid a little on their level
  if (list.length === 0) return null;
  return [head("loops", t("loops.title")), table(t("loops.title"), [
    { head: t("word.part"), value: (x) => x.part }, { head: t("word.cell"), value: (x) => x.cell, cell: (x) => cellLink(draft, x.cell) }, { head: t("word.station"), value: (x) => x.station },
    { head: t("draft.from"), value: (x) => lies(x.before) }, { head: t("draft.to"), value: (x) => lies(x.after) },
    { head: t("word.containers"), n: true, value: (x) => x.after?.containers ?? 0, cell: (x) => change(x.before?.containers ?? 0, x.after?.containers ?? 0) },
    { head: t("loops.every"), n: true, unit: "min", decimals: 1, value: (x) => x.after?.interval_min ?? 0, cell: (x) => change(x.before?.interval_min ?? 0, x.after?.interval_min ?? 0, 1, "min") },
    { head: t("draft.carry"), n: true, value: (x) => x.carried },
  ], list)];
}
