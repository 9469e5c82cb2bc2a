// A play of a plan: which loops kept their service level, which ran short and why,
// how full rounds and return lanes got, and what one loop lived through.
import { all, ask, seg } from "../ask.js";
import { findingsAt } from "../data/findings.js";
import { el, figures, section, titled, word } from "../element.js";
import { amount, num, when } from "../numbers.js";
import { begin, foot } from "../shell.js";
import { empty, show } from "../states.js";
import { table } from "../table.js";
import { whyButton } from "../why.js";
import { t } from "../words.js";
import { planCrumb, planHere, remember } from "./here.js";
import { player } from "./player.js";
import { traceOf } from "./trace.js";

const order = { short: 0, "not-played": 1, proved: 2 };
const marks = { short: "bad", "not-played": "warn", proved: "good" };

begin(async () => {
  const plan = await planHere("/simulation");
  const query = new URLSearchParams(location.search);
  const [plays, settings] = await Promise.all([all(`/plans/${plan.id}/simulations`), ask(`/plants/${seg(plan.plant)}/settings?revision=${plan.revision_number}`)]);
  titled(t("plays.title"), plan.plant);
  const head = [planCrumb(plan), el("h1", {}, t("plays.title"))];
  const named = query.get("play");
  const play = named ? await ask(`/simulations/${seg(named)}`) : plays.at(-1);
  if (!play) return show(head, empty(el("p", {}, t("plays.none"))), player(plan, settings.settings));
  if (play.plan !== plan.id) throw Object.assign(new Error(t("plays.other", { id: String(play.id), plan: String(play.plan) })), { status: 404 });
  const at = `/simulations/${play.id}`;
  const [loops, routes, racks] = await Promise.all([all(at + "/loops"), all(at + "/routes"), all(at + "/racks")]);
  const traced = el("div", { id: "trace" });
  const look = (loop, weeks) => {
    remember({ play: play.id, part: loop.part, cell: loop.cell, station: loop.station });
    traceOf(plan, loop, traced, weeks);
  };
  show(head, lead(plan, play, plays), keyFigures(play), traced, loopSection(plan, loops, (loop) => { look(loop); traced.scrollIntoView({ block: "start" }); }), routeSection(plan, routes), rackSection(racks), findingsAt(at + "/findings"), player(plan, settings.settings));
  foot(t("plays.foot", { seed: String(play.seed), events: num(play.events), pieces: num(play.pieces) }));
  const chosen = loops.find((l) => ["part", "cell", "station"].every((k) => l[k] === query.get(k)));
  if (chosen) look(chosen);
});

function lead(plan, play, plays) {
  const s = play.settings;
  const about = t("plays.about.one", { when: when(play.created, plan.settings.time_zone), weeks: t("plays.weeks", { n: s.weeks }), warm: t("plays.weeks", { n: s.warm_up_weeks }), times: t("plays.times", { n: s.replications }), use: t("plans.option." + s.use) });
  return el("div", { class: "lead" }, el("p", { class: "sub" }, about),
    plays.length > 1 && el("div", { class: "tools" }, el("label", { for: "which-play" }, t("plays.play")),
      el("select", { id: "which-play", onchange: (e) => location.assign("?" + new URLSearchParams({ play: e.target.value })) },
        [...plays].reverse().map((p) => el("option", { value: p.id, selected: p.id === play.id }, t("pick.older", { id: String(p.id), when: when(p.created, plan.settings.time_zone) }))))));
}

function keyFigures(play) {
  const v = play.verdicts;
  return figures([
    [t("plays.kept"), num(v.proved), t("plays.kept.about")],
    [t("plays.short"), num(v.short), v.short ? word("bad", t("plays.short.some")) : word("good", t("plays.short.none"))],
    [t("plays.not"), num(v.not_played), v.not_played ? t("plays.not.about") : t("plays.not.none")],
    [t("plays.time"), amount(play.played_min / 60, "h"), t("plays.time.about")],
  ]);
}

const verdict = (l) => t("plays.verdict." + l.verdict);

function loopSection(plan, loops, look) {
  const rows = [...loops].sort((a, b) => order[a.verdict] - order[b.verdict] || b.short_rate - a.short_rate);
  const played = (l) => l.verdict !== "not-played";
  return section("loops", t("loops.title"), t("plays.loops.about"), table(t("loops.title"), [
    { head: t("word.part"), value: (l) => l.part },
    { head: t("word.cell"), value: (l) => l.cell, cell: (l) => el("a", { href: `/cells/${seg(l.cell)}?plan=${plan.id}` }, l.cell) },
    { head: t("word.station"), value: (l) => l.station },
    { head: t("word.state"), bare: true, wide: true, value: verdict, cell: (l) => [word(marks[l.verdict], verdict(l)), l.ideal && el("small", {}, t("plays.ideal"))] },
    { head: t("plays.rate"), n: true, unit: "%", decimals: 2, value: (l) => played(l) ? l.short_rate : null, cell: (l) => played(l) ? [amount(l.short_rate, "%", 2), el("small", {}, t("plays.rate.allowed", { share: amount(l.short_rate_allowed, "%", 2) }))] : "—" },
    { head: t("plays.cause"), wide: true, value: (l) => l.cause ? t("plays.cause." + l.cause) : "", cell: (l) => l.cause ? [t("plays.cause." + l.cause), l.enough > 0 && l.verdict === "short" && el("small", {}, t("plays.enough", { n: l.enough }))] : "—" },
    { head: t("plays.shortages"), n: true, value: (l) => l.shortages },
    { head: t("plays.longest"), n: true, unit: "min", decimals: 1, value: (l) => l.short_longest_min },
    { head: t("plays.waits"), n: true, unit: "min", decimals: 1, value: (l) => played(l) ? l.signal_wait_min : null },
    { head: t("plays.hand"), n: true, decimals: 1, value: (l) => played(l) ? l.on_hand_mean : null },
    { head: t("plays.look"), bare: true, value: () => "", cell: (l) => [played(l) && el("button", { type: "button", class: "small", "aria-label": t("plays.look.of", l), onclick: () => look(l) }, t("plays.look.it")), " ", whyButton("loop", { plan: plan.id, part: l.part, cell: l.cell, station: l.station })] },
  ], rows));
}

function routeSection(plan, routes) {
  if (!routes.length) return null;
  return section("routes", t("routes.title"), t("plays.routes.about"), table(t("routes.title"), [
    { head: t("word.route"), value: (r) => r.route, cell: (r) => el("a", { href: `/routes/${seg(r.route)}?plan=${plan.id}` }, t("route.name", { route: r.route })) },
    { head: t("plays.rounds"), n: true, value: (r) => r.rounds },
    { head: t("plays.late"), n: true, value: (r) => r.late, cell: (r) => [num(r.late), r.late > 0 && el("small", {}, t("plays.late.most", { time: amount(r.late_most_min, "min", 1) }))] },
    { head: t("plays.dropped"), n: true, value: (r) => r.dropped, cell: (r) => r.dropped ? word("bad", num(r.dropped)) : num(0) },
    { head: t("routes.round"), n: true, unit: "min", decimals: 1, value: (r) => r.round_mean_min, cell: (r) => [amount(r.round_mean_min, "min", 1), el("small", {}, t("plays.most", { n: amount(r.round_most_min, "min", 1) }))] },
    { head: t("route.load"), n: true, decimals: 1, value: (r) => r.load_mean, cell: (r) => [num(r.load_mean, 1), el("small", {}, t("plays.load", { most: num(r.load_most), capacity: num(r.capacity) }))] },
    { head: t("plays.full"), n: true, value: (r) => r.full_rounds },
    { head: t("plays.left"), n: true, value: (r) => r.left_behind },
    { head: t("word.why"), bare: true, value: () => "", cell: (r) => whyButton("route", { plan: plan.id, route: r.route }) },
  ], routes));
}

/** rackSection lists racks whose return lanes were too short at times. */
function rackSection(racks) {
  const over = racks.filter((r) => r.overfull > 0);
  if (!over.length) return section("racks", t("plays.racks"), t("plays.racks.fine"));
  return section("racks", t("plays.racks"), t("plays.racks.about"), table(t("plays.racks"), [
    { head: t("word.rack"), value: (r) => r.rack },
    { head: t("plays.overfull"), n: true, value: (r) => r.overfull, cell: (r) => t("of", { part: r.overfull, all: r.visits }) },
    { head: t("plays.empties.most"), n: true, unit: "mm", value: (r) => r.most_mm },
    { head: t("plays.empties.room"), n: true, unit: "mm", value: (r) => r.room_mm },
  ], over));
}
