// Two plans side by side: only what differs, of the whole plant or of one cell.
import { all, ask, seg } from "../ask.js";
import { el, section, titled, word } from "../element.js";
import { num, when } from "../numbers.js";
import { planOf } from "../plan.js";
import { begin } from "../shell.js";
import { empty, show } from "../states.js";
import { table } from "../table.js";
import { t } from "../words.js";
import { nameOf, valueOf } from "./fields.js";
import { plansCrumb, remember } from "./here.js";

/** what is better the less there is of it (-1), or the more (1). */
const better = { "loops-with-all-their-lanes": 1, "containers-without-a-lane": -1, containers: -1, racks: -1, "racks-proposed": -1, frontage: -1, effort: -1, routes: -1, handlers: -1, "way-driven": -1, "containers-moved-against-today": -1, cost: -1 };

begin(async () => {
  const query = new URLSearchParams(location.search);
  const [a, b] = [query.get("a"), query.get("b")];
  const { plan, plant } = await planOf({ named: a ?? undefined, to: (id) => `/plans/${id}` });
  if (!plan) throw Object.assign(new Error(t("plan.none")), { status: 404 });
  const plans = await all(`/plants/${seg(plant.plant)}/plans`);
  titled(t("compare.title"), plan.plant);
  const head = [plansCrumb(plan), el("h1", {}, t("compare.title"))];
  if (!a || !b) return show(head, choose(plans, plan, a ?? String(plan.id), b), empty(el("p", {}, t("compare.choose"))));
  const [comparison, other, settings] = await Promise.all([ask(`/plans/${seg(a)}/compare/${seg(b)}`), ask(`/plans/${seg(b)}/summary`), ask(`/plants/${seg(plan.plant)}/settings?revision=${plan.revision_number}`)]);
  new Comparison(comparison, plan, other, settings.settings, query.get("cell") ?? "").show([...head, choose(plans, plan, a, b)]);
});

/** choose are the two plans, each to be exchanged for another. */
function choose(plans, plan, a, b) {
  const form = el("form", { class: "tools sides", action: "/plans/compare" }, [["a", a, t("compare.before")], ["b", b, t("compare.after")]].map(([name, value, label]) => [
    el("label", { for: "side-" + name }, label), el("select", { id: "side-" + name, name, onchange: () => form.requestSubmit() },
      [...plans].reverse().map((p) => el("option", { value: p.id, selected: String(p.id) === value }, t("pick.older", { id: String(p.id), when: when(p.created, plan.settings.time_zone) }))))]),
  el("button", { type: "submit" }, t("compare.show")));
  return form;
}

class Comparison {
  constructor(c, before, after, settings, cell) {
    Object.assign(this, { c, before, after, settings, cell });
    this.parts = el("div");
  }

  show(head) {
    const { c } = this;
    const cells = [...new Set([...c.cells, ...c.loops, ...c.racks].map((x) => x.cell))].sort();
    const known = cells.includes(this.cell) ? this.cell : "";
    this.cell = known;
    const select = el("select", { id: "cell", onchange: (e) => { this.cell = e.target.value; remember({ cell: this.cell }); this.draw(); } },
      el("option", { value: "" }, t("compare.cell.all")), cells.map((x) => el("option", { value: x, selected: x === known }, x)));
    const same = c.loops.length + c.cells.length + c.racks.length + c.routes.length === 0;
    show(head, this.floor(), this.totals(), this.asked(),
      same ? empty(el("p", {}, t("compare.same"))) : [el("p", { class: "tools filters by-cell" }, el("label", { for: "cell" }, t("word.cell")), select), this.parts]);
    if (!same) this.draw();
  }

  /** floor says what changes on the floor. */
  floor() {
    const f = this.c.floor;
    return el("p", { class: "sub" }, f.lanes + f.loops === 0 ? t("compare.floor.none") : t("compare.floor", { lanes: t("compare.lanes", { n: f.lanes }), racks: t("racks", { n: f.racks }), containers: t("containers", { n: f.containers }) }));
  }

  heads() { return [t("plans.plan.n", { id: String(this.c.before.id) }), t("plans.plan.n", { id: String(this.c.after.id) })]; }

  /** both is a column of what was and what is; null is none. It is sorted by the
   *  difference and copied as two columns. */
  both(head, was, is, { unit, decimals = 0 } = {}) {
    const [a, b] = this.heads();
    return {
      head, n: true, unit, decimals, value: (x) => (is(x) ?? 0) - (was(x) ?? 0),
      cell: (x) => was(x) === null || is(x) === null ? num(is(x) ?? was(x), decimals) : change(was(x), is(x), decimals),
      copied: [{ head: `${head}, ${a}`, unit, value: was }, { head: `${head}, ${b}`, unit, value: is }],
    };
  }

  totals() {
    const [a, b] = this.heads();
    const rows = this.c.totals.map((x) => ({ ...x, key: x.name.replaceAll(" ", "-") }));
    const differ = rows.filter((x) => Math.abs(x.after - x.before) > 1e-9);
    const unknown = rows.filter((x) => !x.known && x.after - x.before);
    return section("totals", t("compare.totals"), t("compare.equal", { n: rows.length - differ.length }), table(t("compare.totals"), [
      { head: t("compare.what"), value: (x) => t("compare.total." + x.key) + (x.unit ? ` (${unit(x.unit)})` : "") },
      { head: a, n: true, decimals: 1, value: (x) => x.before }, { head: b, n: true, decimals: 1, value: (x) => x.after },
      { head: t("compare.difference"), n: true, decimals: 1, value: (x) => x.after - x.before, cell: (x) => signed(x.after - x.before) },
      { head: t("compare.is"), bare: true, value: (x) => verdict(x)?.[1] ?? "", cell: (x) => verdict(x) ? word(...verdict(x)) : "" },
    ], differ, { empty: t("compare.totals.same") }), unknown.length > 0 && el("p", { class: "quiet" }, t("compare.cost.partial")));
  }

  /** asked are the settings and facts that differ. */
  asked() {
    const keys = this.settings.filter((s) => String(this.before.settings[s.key]) !== String(this.after.settings[s.key]));
    const [a, b] = this.heads();
    const rows = keys.map((s) => [nameOf(s.key), valueOf(s, String(this.before.settings[s.key])), valueOf(s, String(this.after.settings[s.key]))]);
    if (this.before.revision_number !== this.after.revision_number) rows.unshift([t("data.revision"), String(this.before.revision_number), String(this.after.revision_number)]);
    if (this.before.version !== this.after.version) rows.push([t("compare.version"), this.before.version, this.after.version]);
    if (rows.length === 0) return null;
    return section("asked", t("compare.asked"), null, table(t("compare.asked"), [
      { head: t("plans.setting"), value: (r) => r[0] }, { head: a, value: (r) => r[1] }, { head: b, value: (r) => r[2] }], rows));
  }

  draw() {
    const here = (list) => list.filter((x) => !this.cell || x.cell === this.cell);
    const { c } = this;
    this.parts.replaceChildren(...[this.cells(here(c.cells)), this.loops(here(c.loops)), this.racks(here(c.racks)), !this.cell && this.routes(c.routes)].filter(Boolean));
  }

  cells(list) {
    if (!list.length) return null;
    const both = (head, key, decimals = 0) => this.both(head, (x) => x.before[key], (x) => x.after[key], { decimals });
    return section("cells", t("cells.title"), t("compare.change.about"), table(t("cells.title"), [
      { head: t("word.cell"), value: (x) => x.cell, cell: (x) => el("a", { href: `/cells/${seg(x.cell)}?plan=${this.c.after.id}` }, x.cell) },
      both(t("word.containers"), "containers"), both(t("cells.unplaced"), "containers_unplaced"), both(t("racks.used"), "lanes_used"), both(t("lanes.free"), "lanes_free"),
      both(t("word.racks"), "racks"), both(t("word.effort"), "effort", 1), both(t("plans.added"), "added_cost"),
    ], list));
  }

  loops(list) {
    if (!list.length) return null;
    const [a, b] = this.heads();
    const side = (of, write) => (x) => x[of] ? write(x[of]) : "—";
    const lies = (s) => s.lanes.map((l) => `${l.rack}/${l.level}-${l.lane}`).join(" · ") || t("compare.nowhere");
    const size = (s) => t("compare.size", { containers: t("containers", { n: s.containers }), every: num(s.interval_min, 1) });
    return section("loops", t("loops.title"), t("compare.loops", { n: list.length }), table(t("loops.title"), [
      { head: t("word.part"), value: (x) => x.part }, { head: t("word.cell"), value: (x) => x.cell }, { head: t("word.station"), value: (x) => x.station },
      { head: t("compare.what"), bare: true, wide: true, value: kind, cell: (x) => word("", kind(x)) },
      { head: t("compare.size.of", { plan: a }), value: side("before", size) }, { head: t("compare.size.of", { plan: b }), value: side("after", size) },
      { head: t("compare.lies", { plan: a }), value: side("before", lies) }, { head: t("compare.lies", { plan: b }), value: side("after", lies) },
      { head: t("compare.carried"), n: true, value: (x) => x.carried },
    ], list));
  }

  racks(list) {
    if (!list.length) return null;
    const kind = (x) => !x.type_before ? t("compare.new") : !x.type_after ? t("compare.gone") : x.type_before === x.type_after ? x.type_after : `${x.type_before} → ${x.type_after}`;
    return section("racks", t("word.racks"), null, table(t("word.racks"), [
      { head: t("word.rack"), value: (x) => x.rack }, { head: t("word.cell"), value: (x) => x.cell }, { head: t("word.type"), value: kind },
      this.both(t("racks.used"), (x) => x.lanes_used_before, (x) => x.lanes_used_after),
      { head: t("compare.lanes.changed"), n: true, value: (x) => x.lanes_changed },
    ], list));
  }

  routes(list) {
    if (!list.length) return null;
    const [a, b] = this.heads();
    const name = (s) => s ? s.route : "—";
    const both = (head, key, unit) => this.both(head, (x) => x.before?.[key] ?? null, (x) => x.after?.[key] ?? null, { unit, decimals: 1 });
    return section("routes", t("routes.title"), t("compare.routes.about"), table(t("routes.title"), [
      { head: a, value: (x) => name(x.before) }, { head: b, value: (x) => name(x.after) },
      both(t("routes.round"), "round_min", "min"), both(t("route.way"), "travel_m", "m"), both(t("route.load"), "load_mean"), both(t("word.stops"), "stops"),
      { head: t("compare.came"), wide: true, value: (x) => x.racks_came.join(", ") }, { head: t("compare.went"), wide: true, value: (x) => x.racks_gone.join(", ") },
    ], list));
  }
}

/** kind says in a word how a loop differs. */
function kind(x) {
  if (!x.before) return t("compare.new");
  if (!x.after) return t("compare.gone");
  const sized = x.before.containers !== x.after.containers || x.before.interval_min !== x.after.interval_min || x.before.container !== x.after.container;
  if (sized && x.moved) return t("compare.both");
  return x.moved ? t("compare.moved") : t("compare.sized");
}

const unit = (u) => u === "a year" ? t("compare.year") : u;
const signed = (n) => (n > 0 ? "+" : "") + num(n, 1);
const change = (before, after, decimals = 0) => before === after ? num(after, decimals) : [`${num(before, decimals)} → ${num(after, decimals)}`, el("small", {}, signed(after - before))];

/** verdict says whether a total got better, where that can be said. */
function verdict(x) {
  const way = better[x.key];
  if (!way) return null;
  return Math.sign(x.after - x.before) === way ? ["good", t("compare.better")] : ["warn", t("compare.worse")];
}
