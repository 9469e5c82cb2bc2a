// One plan: what it comes to, how far each stage is from the best there could be,
// what it was asked with, its plays, its loops, its findings.
import { all, ask, seg } from "../ask.js";
import { findings } from "../data/findings.js";
import { el, figures, section, titled, word } from "../element.js";
import { finder } from "../loops/find.js";
import { num, when } from "../numbers.js";
import { begin, foot } from "../shell.js";
import { part, show } from "../states.js";
import { table } from "../table.js";
import { t } from "../words.js";
import { nameOf, valueOf } from "./fields.js";
import { planHere, plansCrumb } from "./here.js";
import { player } from "./player.js";
import { cellStages, stages } from "./stages.js";

begin(async () => {
  const plan = await planHere();
  const at = `/plants/${seg(plan.plant)}`;
  const [cells, plays, settings, published] = await Promise.all([all(`/plans/${plan.id}/cells`), all(`/plans/${plan.id}/simulations`), ask(`${at}/settings?revision=${plan.revision_number}`), ask(at + "/published?limit=1")]);
  const name = t("plans.plan.n", { id: String(plan.id) });
  titled(name, plan.plant);
  show(plansCrumb(plan), lead(plan, name, published.current?.plan === plan.id), links(plan), keyFigures(plan),
    stages(plan, cells), cellStages(plan, cells), playSection(plan, plays, settings.settings),
    section("find", t("loops.find.title"), t("loops.find.about"), finder(plan)),
    settingSection(plan, settings.settings), part(async () => routes(plan, await all(`/plans/${plan.id}/routes`))), findings(plan.id));
  foot(t("foot.plan", { id: String(plan.id), revision: String(plan.revision_number), seed: String(plan.seed), version: plan.version }), t("foot.caution"));
});

function lead(plan, name, published) {
  const made = t(plan.stopped === "cancelled" ? "plans.when.short" : "plans.when.made", { when: when(plan.created, plan.settings.time_zone), revision: String(plan.revision_number) });
  return el("div", { class: "lead" },
    el("div", {}, el("h1", {}, name), el("p", { class: "sub" }, made, plan.edited_from > 0 && [" · ", el("a", { href: `/plans/${plan.edited_from}` }, t("plans.edited", { id: String(plan.edited_from) }))]),
      el("p", { class: "sub" }, published ? word("good", t("plans.published")) : word("", t("plans.unpublished")))),
    el("div", { class: "tools" }, el("a", { class: "button", href: `/plans?again=${plan.id}&plant=${seg(plan.plant)}#again` }, t("plans.again.so"))));
}

/** links lead to what shows this plan in other ways. */
function links(plan) {
  const to = (href, text) => el("a", { class: "button", href }, text);
  const query = "?" + new URLSearchParams({ plan: plan.id });
  return el("nav", { class: "tools links", "aria-label": t("plans.links") },
    to("/cells" + query, t("cells.title")), to("/map" + query, t("map.title")), to(`/plans/${plan.id}/choices`, t("choices.title")),
    plan.edited_from > 0 && to(`/plans/compare?a=${plan.edited_from}&b=${plan.id}`, t("plans.compare.from")),
    to("/rounds?" + new URLSearchParams({ plant: plan.plant }), t("rounds.title")),
    to(`/api/v1/plans/${plan.id}/report.xlsx`, t("plans.report.xlsx")), to(`/api/v1/plans/${plan.id}/report.pdf`, t("plans.report.pdf")), to(`/api/v1/plans/${plan.id}`, t("plant.json")));
}

function keyFigures(plan) {
  const s = plan.summary;
  const missing = s.loops - s.loops_placed;
  return figures([
    [t("loops.placed"), t("of", { part: s.loops_placed, all: s.loops }), missing ? word("bad", t("loops.without", { n: missing })) : word("good", t("loops.all"))],
    [t("plant.lanes"), num(s.lanes_used), t("plant.lanes.more", { free: t("lanes.n.free", { n: s.lanes_free }), returns: t("lanes.return", { n: s.return_lanes }) })],
    [t("word.racks"), num(s.racks), s.racks_proposed ? t("racks.proposed", { n: s.racks_proposed }) : t("racks.standing")],
    [t("plant.containers"), num(s.containers), t("plant.containers.hour", { rate: num(s.containers_per_hour, 1) })],
  ]);
}

function playSection(plan, plays, settings) {
  return section("plays", t("plays.title"), t("plays.about"), plays.length > 0 && table(t("plays.title"), [
    { head: t("plays.play"), value: (p) => p.id, cell: (p) => [el("a", { href: `/plans/${plan.id}/simulation?play=${p.id}` }, t("plays.n", { id: String(p.id) })), p.proof && el("small", {}, t("plays.proof"))] },
    { head: t("plans.when"), value: (p) => p.created, cell: (p) => when(p.created, plan.settings.time_zone) },
    { head: t("plays.kept"), n: true, value: (p) => p.verdicts.proved },
    { head: t("plays.short"), n: true, value: (p) => p.verdicts.short, cell: (p) => p.verdicts.short ? word("bad", num(p.verdicts.short)) : num(0) },
    { head: t("plays.not"), n: true, value: (p) => p.verdicts.not_played },
    { head: t("plays.played"), wide: true, value: (p) => t("plays.settings", { weeks: p.settings.weeks, times: p.settings.replications }) },
  ], [...plays].reverse()), player(plan, settings));
}

function settingSection(plan, settings) {
  const shown = (s) => valueOf(s, String(plan.settings[s.key] ?? ""));
  const rows = (list) => table(t("plans.settings"), [
    { head: t("plans.setting"), value: (s) => nameOf(s.key), words: (s) => s.key },
    { head: t("plans.value"), value: shown },
    { head: t("plans.value.own"), value: (s) => valueOf(s, s.value) },
    { head: t("plans.meaning"), wide: true, value: (s) => t("plans.about." + s.key) },
  ], list);
  const changed = settings.filter((s) => plan.settings_changed.includes(s.key));
  return section("settings", t("plans.settings"), changed.length ? t("plans.settings.changed", { n: changed.length }) : t("plans.settings.own"),
    changed.length > 0 && rows(changed), el("details", { class: "rest" }, el("summary", {}, t("plans.settings.all", { n: settings.length })), rows(settings)));
}

function routes(plan, list) {
  if (list.length === 0) return el("div");
  return section("routes", t("routes.title"), t("plans.routes.about"), table(t("routes.title"), [
    { head: t("word.route"), value: (r) => r.route, cell: (r) => el("a", { href: `/routes/${seg(r.route)}?plan=${plan.id}` }, t("route.name", { route: r.route })) },
    { head: t("word.handler"), value: (r) => r.handler },
    { head: t("routes.every"), n: true, unit: "min", decimals: 1, value: (r) => r.interval_min },
    { head: t("routes.round"), n: true, unit: "min", decimals: 1, value: (r) => r.round_min },
    { head: t("word.stops"), n: true, value: (r) => r.stops.length },
  ], list));
}
