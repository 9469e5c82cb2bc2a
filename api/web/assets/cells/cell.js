// One cell, to be balanced by hand: its racks as they stand, what lies in them and what
// does not, and a draft that takes every edit.
import { ask, codeOf, seg } from "../ask.js";
import { findings } from "../data/findings.js";
import { dialog } from "../dialog.js";
import { crumb, el, figures, section, titled, word } from "../element.js";
import { amount, num, units, when } from "../numbers.js";
import { thePlan } from "../plan.js";
import { say } from "../say.js";
import { begin } from "../shell.js";
import { empty, show } from "../states.js";
import { table } from "../table.js";
import { whyButton } from "../why.js";
import { t } from "../words.js";
import { bar, stepKeys } from "./bar.js";
import { askMerge, tellConflicts } from "./clash.js";
import { keyOf, nameOf, openDesk } from "./desk.js";
import { draggable } from "./drag.js";
import { fitText, fronts, mark } from "./front.js";
import { changes, outcome } from "./outcome.js";
import { lanePanel, loopPanel, tray } from "./panel.js";
import { reliefs } from "./reliefs.js";
import { widthState } from "./state.js";
import { whoAmI } from "../who.js";

begin(async () => {
  const code = codeOf();
  const query = new URLSearchParams(location.search);
  const draft = query.get("draft");
  if (draft && !query.has("plan")) {
    query.set("plan", (await ask(`/drafts/${seg(draft)}`)).plan);
    history.replaceState(null, "", `?${query}`);
  }
  const plan = await thePlan();
  const desk = await openDesk(plan, code, draft);
  titled(t("cell.name", { cell: code }), plan.plant);
  new Page(desk).begin();
});

/** Page keeps what is chosen and draws again what an edit changed. */
class Page {
  constructor(desk) {
    this.desk = desk;
    this.u = units(desk.plan.settings);
    this.open = [];
    this.done = "";
    this.busy = false;
    this.unmark = () => {};
    this.parts = Object.fromEntries(["bar", "figures", "told", "tray", "fronts", "panel", "changes", "balance", "loops"].map((name) => [name, el("div", { id: "part-" + name })]));
    this.parts.told.setAttribute("role", "status");
  }

  begin() {
    const { desk, parts } = this;
    const on = { edit: (edits, done) => this.edit(edits, done) };
    show(lead(desk.plan, desk.data.cell), parts.figures, parts.bar,
      el("div", { class: "desk" },
        el("section", { class: "stand", id: "racks", "aria-labelledby": "racks-title" }, el("div", { class: "bar-head" }, el("div", {}, el("h2", { id: "racks-title" }, t("word.racks")), el("p", {}, t("edit.about")))),
          desk.data.racks.length === 0 ? empty(el("p", {}, t("cell.racks.none"))) : parts.fronts),
        el("aside", { class: "side", "aria-label": t("edit.side") }, parts.told, parts.panel,
          el("section", { id: "unplaced", "aria-labelledby": "tray-title" }, el("h2", { id: "tray-title" }, t("unplaced.title")), parts.tray), parts.changes, reliefs(desk, on))),
      parts.balance, parts.loops, findings(desk.plan.id, desk.code));
    draggable(parts.fronts.closest(".desk") ?? document.getElementById("content"), {
      begin: (key, at) => { this.close(false); this.marks(this.held = this.desk.hand(this.loopOf(key), at)); },
      drop: (shelf) => this.drop(this.held, shelf.dataset.rack, Number(shelf.dataset.level)),
      end: () => { if (!this.chosen) this.unmark(); },
    });
    stepKeys({ undo: () => this.step("undo"), redo: () => this.step("redo") });
    addEventListener("keydown", (e) => { if (e.key === "Escape" && !e.defaultPrevented && !document.querySelector("dialog[open]") && this.chosen) this.close(true); });
    this.draw();
    desk.drafts().then((list) => { this.open = list; this.drawBar(); }).catch(console.debug);
  }

  loopOf(key) { return this.desk.data.loops.find((l) => keyOf(l) === key); }

  draw() {
    const { desk, parts, u } = this;
    this.unmark();
    this.drawBar();
    parts.figures.replaceChildren(keyFigures(desk.data));
    parts.tray.replaceChildren(tray(desk, { pick: (loop) => this.choose(loop, null, desk.hand(loop)) }));
    const scrolled = [...parts.fronts.querySelectorAll(".front-frame")].map((f) => f.scrollLeft);
    parts.fronts.replaceChildren(fronts(desk, u, { lane: (l) => l.part ? this.choose(desk.loop(l), l, desk.hand(desk.loop(l), l)) : this.choose(null, l) }));
    parts.fronts.querySelectorAll(".front-frame").forEach((f, i) => { f.scrollLeft = scrolled[i] ?? 0; });
    parts.changes.replaceChildren(...[desk.draft && changes(desk)].filter(Boolean));
    parts.balance.replaceChildren(balance(desk.plan, desk.data.cell));
    parts.loops.replaceChildren(loopSection(desk, (l) => this.choose(l, null, desk.whole(l))));
  }

  drawBar() {
    const held = document.activeElement?.id;
    this.parts.bar.replaceChildren(bar(this.desk, this.open, { undo: () => this.step("undo"), redo: () => this.step("redo"), use: (id) => this.use(id) }));
    if (held && this.parts.bar.querySelector("#" + CSS.escape(held))) document.getElementById(held).focus();
  }

  /** choose opens the panel of a loop, of which something is taken in the hand, or of a lane
   *  that no loop has. */
  choose(loop, lane, hand) {
    this.close(false);
    const on = { close: () => this.close(true), edit: (edits, done) => this.edit(edits, done), fits: (h) => this.marks(h), drop: (h, f) => this.drop(h, f.rack, f.level) };
    this.chosen = { key: loop ? keyOf(loop) : "", lane };
    this.parts.panel.replaceChildren(loop ? loopPanel(this.desk, this.u, hand, lane, on) : lanePanel(this.desk, this.u, lane, on));
    this.light(true);
    document.getElementById("panel-title").focus({ preventScroll: matchMedia("(min-width: 64rem)").matches });
  }

  /** close takes the panel away and gives the focus back. */
  close(focus) {
    if (!this.chosen) return;
    this.light(false);
    const { key, lane } = this.chosen;
    this.chosen = null;
    this.unmark();
    this.parts.panel.replaceChildren();
    if (focus) this.focusOn(key, lane);
  }

  focusOn(key, lane) {
    const button = key ? document.querySelector(`[data-key="${CSS.escape(key)}"]`)
      : lane && [...document.querySelectorAll(`.shelf[data-rack="${CSS.escape(lane.rack)}"][data-level="${lane.level}"] .lane`)][lane.lane - 1];
    (button ?? document.getElementById("panel-title"))?.focus();
  }

  light(is) {
    if (!this.chosen?.key) return;
    for (const b of document.querySelectorAll(`[data-key="${CSS.escape(this.chosen.key)}"]`)) b.classList.toggle("chosen", is);
  }

  /** marks shows where what is in the hand fits and returns the levels. */
  async marks(hand) {
    this.unmark();
    if (this.desk.closed) return [];
    const wanted = this.wanted = {};
    const fits = await this.desk.fits(hand);
    if (this.wanted !== wanted) return fits;
    this.fits = { hand, list: fits };
    const off = mark(this.parts.fronts, fits, this.u, (f) => this.drop(hand, f.rack, f.level));
    this.unmark = () => { off(); this.wanted = null; this.fits = null; this.unmark = () => {}; };
    return fits;
  }

  /** drop lays what is in the hand on a level; where a rule would be broken it asks first. */
  async drop(hand, rack, level) {
    if (this.desk.closed) return;
    const fits = this.fits?.hand === hand ? this.fits.list : await this.desk.fits(hand).catch(() => []);
    const fit = fits.find((f) => f.rack === rack && f.level === level);
    if (fit?.here) return;
    if (fit && !fit.fits) {
      const answer = await dialog(t("edit.breaks"), [el("p", {}, fitText(fit, this.u)), el("ul", {}, fit.why_not.map((w) => el("li", { lang: "en" }, w.summary)))],
        [["", t("dialog.cancel"), "main"], ["move", t("edit.breaks.move"), ""]]);
      if (answer !== "move") return;
    }
    const { loop, from, containers, n } = hand;
    const told = t(from || containers ? "edit.done.move.part" : "edit.done.move", { n, part: loop.part, to: `${rack}/${level}` });
    await this.edit([{ kind: "move", loop: nameOf(loop), to: { rack, level }, from, containers, ...fit && { flow_side: fit.flow_side } }], told);
  }

  /** edit makes edits in the draft, which the first ones begin, and tells what came of it. */
  async edit(edits, done) {
    await this.change(done, async (who) => {
      if (!this.desk.draft) {
        await this.desk.begin(t("edit.draft.name", { cell: this.desk.code, when: when(Date.now(), this.desk.plan.settings.time_zone) }), who);
        this.address();
      }
      try {
        await this.desk.make(edits, who);
      } catch (error) {
        if (error.status !== 412) throw error;
        const merge = await askMerge(error.problem, edits);
        if (!merge) return this.desk.again();
        const conflicts = await this.desk.make(edits, who, true);
        if (conflicts.length) await tellConflicts(conflicts);
      }
    });
  }

  async step(kind) {
    const d = this.desk.draft;
    if (!d || this.desk.closed || (kind === "undo" ? d.steps : d.undone).length === 0) return;
    await this.change(t("edit.done." + kind), async (who) => {
      try {
        await this.desk.step(kind, who);
      } catch (error) {
        if (error.status !== 412) throw error;
        say(t("edit.clash.step"), { bad: true });
        await this.desk.again();
      }
    });
  }

  /** change does something to the draft, one thing at a time, and draws what came of it. */
  async change(done, act) {
    if (this.busy) return;
    this.busy = true;
    try {
      const who = await whoAmI();
      if (!who) return;
      const before = this.desk.data;
      const { key, lane } = this.chosen ?? { key: document.activeElement?.dataset.key };
      await act(who);
      this.close(false);
      this.draw();
      this.parts.told.replaceChildren(outcome(before, this.desk.data, done));
      if (key !== undefined) this.focusOn(key, lane);
    } catch (error) {
      say(error.message, { bad: true });
    } finally {
      this.busy = false;
    }
  }

  /** use lays another draft on the desk, "" for the plan as it is. */
  use(id) {
    const query = new URLSearchParams({ plan: this.desk.plan.id, ...id && { draft: id } });
    location.search = query;
  }

  address() {
    history.replaceState(null, "", `${location.pathname}?` + new URLSearchParams({ plan: this.desk.plan.id, draft: this.desk.draft.id }));
  }
}

function lead(plan, cell) {
  const routes = cell.routes.length ? t("cell.routes", { n: cell.routes.length, list: cell.routes.join(", ") }) : t("cell.routes.none");
  return [
    crumb("/cells?" + new URLSearchParams({ plan: plan.id }), t("cells.title"), t("plan.number", { id: String(plan.id) })),
    el("h1", {}, t("cell.name", { cell: cell.cell })),
    el("p", { class: "sub" }, [cell.name, cell.area, t("stations", { n: cell.stations }), routes].filter(Boolean).join(" · ")),
  ];
}

function keyFigures({ cell: c, after }) {
  const gap = c.bound.effort > 0 ? (c.bound.effort - c.bound.effort_bound) / c.bound.effort : 0;
  return figures([
    [t("lanes.needed"), num(c.lanes_needed), c.lanes_short ? word("bad", t("lanes.short", { n: c.lanes_short })) : word("good", t("cell.given"))],
    [t("lanes.there"), num(c.lanes_there), t("lanes.used.free", { used: c.lanes_used, free: c.lanes_free })],
    [t("loops.placed"), t("of", { part: c.loops_placed, all: c.loops }), c.containers_unplaced ? word("bad", t("containers.unplaced", { n: c.containers_unplaced })) : t("containers", { n: c.containers })],
    [t("word.racks"), num(c.racks), c.racks_proposed ? t("racks.proposed", { n: c.racks_proposed }) : t("racks.standing")],
    [t("word.effort"), amount(after.effort || c.bound.effort, "kg/h", 1), c.bound.optimal ? t("cell.proved") : c.bound.effort_bound <= 0 && c.bound.effort > 0 ? t("cell.unproved") : t("cell.gap", { share: amount(gap * 100, "%", 1) })],
  ]);
}

/** balance says for each lane width what is needed, given and possible. */
function balance(plan, cell) {
  const u = units(plan.settings);
  return section("balance", t("balance.title"), t("balance.about"), table(t("balance.title"), [
    { head: t("balance.width"), ...u.lengthOf((b) => b.width_mm), n: false },
    { head: t("word.state"), bare: true, value: widthState, cell: (b) => word(b.needed > b.placed ? "bad" : "good", widthState(b)) },
    { head: t("lanes.needed"), n: true, value: (b) => b.needed },
    { head: t("lanes.given"), n: true, value: (b) => b.placed },
    { head: t("lanes.room"), n: true, value: (b) => b.room },
  ], cell.balance));
}

function loopSection(desk, choose) {
  const { loops } = desk.data;
  return section("loops", t("loops.title"), t("loops.about", { n: loops.length }), table(t("loops.title"), [
    { head: t("word.part"), value: (l) => l.part, cell: (l) => el("button", { type: "button", class: "small", onclick: () => choose(l) }, l.part) },
    { head: t("word.station"), value: (l) => l.station },
    { head: t("word.container"), value: (l) => l.container, cell: (l) => [l.container, el("small", {}, t("pieces", { n: l.pack }))] },
    { head: t("loops.pieces"), n: true, decimals: 1, value: (l) => l.pieces_per_hour },
    { head: t("loops.every"), n: true, unit: "min", decimals: 1, value: (l) => l.interval_min },
    { head: t("word.containers"), n: true, value: (l) => l.containers, cell: (l) => [num(l.containers), l.demand_model === "fixed" && el("small", {}, t("loops.fixed", { n: l.rule_containers }))] },
    { head: t("word.lanes"), n: true, value: (l) => l.lanes, cell: (l) => l.lanes ? num(l.lanes) : word("bad", t("word.none")) },
    { head: t("word.why"), bare: true, value: () => "", cell: (l) => whyButton("loop", { plan: desk.plan.id, part: l.part, cell: l.cell, station: l.station }) },
    { head: t("word.route"), value: (l) => l.route, cell: (l) => l.route ? el("a", { href: `/routes/${seg(l.route)}?plan=${desk.plan.id}` }, l.route) : "—" },
  ], loops));
}
