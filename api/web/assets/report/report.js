// The plant rack report as a page: what stands, what is to be built, what lacks, what
// changed; and every paper of it.
import { all, ask, seg } from "../ask.js";
import { state, byShort } from "../cells/state.js";
import { crumb, el, figures, section, titled, word } from "../element.js";
import { amount, num, units, when } from "../numbers.js";
import { planOf } from "../plan.js";
import { begin, foot } from "../shell.js";
import { empty, show } from "../states.js";
import { table } from "../table.js";
import { t } from "../words.js";
import { changedSince } from "./since.js";
import { chosen } from "./chosen.js";
import { papers } from "./papers.js";

begin(async () => {
  const { plant, plan } = await planOf();
  titled(t("report.title"), plant?.plant ?? "");
  if (!plan) return show(el("h1", {}, t("report.title")), empty(el("p", {}, t("plan.none"))));
  const at = `/plans/${plan.id}`;
  const [cells, racks, plans, published] = await Promise.all([all(`${at}/cells`), all(`${at}/racks`), all(`/plants/${seg(plan.plant)}/plans`), ask(`/plants/${seg(plan.plant)}/published?limit=1`)]);
  new Report(plan, cells, racks, plans, published.current).begin();
});

class Report {
  constructor(plan, cells, racks, plans, published) {
    const query = new URLSearchParams(location.search);
    Object.assign(this, { plan, cells: byShort(cells), racks, plans, published, picked: query.getAll("cells") });
    const usual = published && published.plan !== plan.id ? String(published.plan) : "";
    this.since = query.get("since") ?? usual;
    if (!plans.some((p) => String(p.id) === this.since)) this.since = "";
    this.body = el("div");
  }

  begin() {
    const { plan, published } = this;
    const zone = plan.settings.time_zone;
    const state = !published ? t("report.never") : published.plan === plan.id ? t("report.published", { when: when(published.created, zone) }) : t("report.other", { plan: String(published.plan) });
    show(crumb("/?" + new URLSearchParams({ plan: plan.id }), plan.plant, t("plan.number", { id: String(plan.id) })),
      el("div", { class: "lead" }, el("div", {}, el("h1", {}, t("report.title")), el("p", { class: "sub" }, `${t("report.made", { plan: String(plan.id), when: when(plan.created, zone) })} · ${state}`)),
        el("div", { class: "tools" }, el("button", { type: "button", id: "print", onclick: () => print() }, t("report.print")))),
      chosen([...this.cells].sort((a, b) => a.cell.localeCompare(b.cell)), this.picked, (list) => { this.picked = list; this.remember(); this.draw(); }), this.body);
    foot(t("report.caution"));
    this.draw();
  }

  remember() {
    const q = new URLSearchParams({ plan: this.plan.id });
    if (this.since) q.set("since", this.since);
    for (const c of this.picked) q.append("cells", c);
    history.replaceState(null, "", `?${q}`);
  }

  has(cell) { return this.picked.length === 0 || this.picked.includes(cell); }

  draw() {
    const cells = this.cells.filter((c) => this.has(c.cell));
    const racks = this.racks.filter((r) => this.has(r.cell));
    const proposed = racks.filter((r) => r.proposed);
    this.body.replaceChildren(...[this.sums(cells, racks), this.papers(proposed.length > 0), this.compared(), this.byCell(cells), this.build(proposed)].filter(Boolean));
  }

  sums(cells, racks) {
    const sum = (key) => cells.reduce((n, c) => n + c[key], 0);
    const short = sum("lanes_short");
    const unplaced = sum("containers_unplaced");
    const effort = cells.reduce((n, c) => n + c.bound.effort, 0);
    const bound = cells.reduce((n, c) => n + c.bound.effort_bound, 0);
    const proposed = racks.filter((r) => r.proposed);
    const cost = proposed.every((r) => r.cost > 0) ? proposed.reduce((n, r) => n + r.cost, 0) : null;
    const routes = new Set(cells.flatMap((c) => c.routes));
    return figures([
      [t("word.racks"), num(racks.length), proposed.length ? t("racks.proposed", { n: proposed.length }) : t("racks.standing")],
      [t("loops.placed"), t("of", { part: sum("loops_placed"), all: sum("loops") }), unplaced ? word("bad", t("containers.unplaced", { n: unplaced })) : word("good", t("loops.all"))],
      [t("lanes.needed"), num(sum("lanes_needed")), short ? word("bad", t("lanes.short", { n: short })) : t("lanes.n.free", { n: sum("lanes_free") })],
      [t("report.cost"), proposed.length === 0 ? num(0) : cost === null ? "—" : num(cost), cost === null ? t("report.cost.partial") : t("report.cost.about")],
      [t("word.effort"), amount(effort, "kg/h", 0), bound > 0 ? t("cell.gap", { share: amount((effort / bound - 1) * 100, "%", 1) }) : ""],
      [t("word.routes"), num(routes.size), this.picked.length ? t("report.routes.here") : t("handlers", { n: this.plan.summary.handlers })],
      [t("report.findings"), num(sum("errors") + sum("warnings") + sum("notes")), t("report.findings.of", { errors: sum("errors"), warnings: sum("warnings") })],
      [t("report.moves"), num(this.plan.summary.moved_containers), t("report.moves.about")],
    ]);
  }

  papers(build) {
    return section("papers", t("report.papers"), t("report.papers.about"), papers(this.plan, this.picked, this.since, build));
  }

  compared() {
    const others = this.plans.filter((p) => p.id !== this.plan.id).reverse();
    const select = el("select", { id: "since", onchange: () => { this.since = select.value; this.remember(); this.draw(); } },
      el("option", { value: "" }, t("report.since.none")),
      others.map((p) => el("option", { value: p.id, selected: String(p.id) === this.since }, t(p.id === this.published?.plan ? "report.since.published" : "pick.older", { id: String(p.id), when: when(p.created, this.plan.settings.time_zone) }))));
    return section("since-part", t("report.since"), null, others.length > 0 && el("p", { class: "tools filters" }, el("label", { for: "since" }, t("report.since.against")), select), changedSince(this.plan, this.since, this.picked));
  }

  byCell(cells) {
    const { plan } = this;
    const gap = (c) => c.bound.effort_bound > 0 ? (c.bound.effort / c.bound.effort_bound - 1) * 100 : null;
    return section("by-cell", t("report.by-cell"), null, table(t("report.by-cell"), [
      { head: t("word.cell"), value: (c) => c.cell, cell: (c) => [el("a", { href: `/cells/${seg(c.cell)}?plan=${plan.id}` }, c.cell), c.name !== c.cell && el("small", {}, c.name)] },
      { head: t("word.state"), bare: true, value: (c) => c.lanes_short, cell: state },
      { head: t("word.racks"), n: true, value: (c) => c.racks, cell: (c) => [num(c.racks), c.racks_proposed > 0 && el("small", {}, t("racks.new", { n: c.racks_proposed }))] },
      { head: t("lanes.needed"), n: true, value: (c) => c.lanes_needed }, { head: t("lanes.there"), n: true, value: (c) => c.lanes_there }, { head: t("lanes.free"), n: true, value: (c) => c.lanes_free },
      { head: t("word.loops"), n: true, value: (c) => c.loops }, { head: t("cells.unplaced"), n: true, value: (c) => c.containers_unplaced },
      { head: t("word.effort"), n: true, unit: "kg/h", decimals: 1, value: (c) => c.bound.effort, cell: (c) => [num(c.bound.effort, 1), el("small", {}, c.bound.optimal ? t("report.proved") : gap(c) === null ? "—" : t("report.gap", { share: amount(gap(c), "%", 1) }))] },
      { head: t("report.findings"), n: true, value: (c) => c.errors + c.warnings },
    ], cells));
  }

  build(racks) {
    if (racks.length === 0) return null;
    const u = units(this.plan.settings);
    return section("to-build", t("report.build"), t("report.build.about"), table(t("report.build"), [
      { head: t("word.rack"), value: (r) => r.rack, cell: (r) => el("a", { href: `/racks/${seg(r.rack)}?plan=${this.plan.id}` }, r.rack) }, { head: t("word.type"), value: (r) => r.rack_type }, { head: t("word.cell"), value: (r) => r.cell },
      { head: t("word.width"), ...u.lengthOf((r) => r.width_mm) }, { head: t("report.levels"), n: true, value: (r) => r.levels.length },
      { head: t("report.price"), n: true, value: (r) => r.cost, cell: (r) => r.cost ? num(r.cost) : "—" },
      { head: t("report.sheet"), value: (r) => r.rack, cell: (r) => el("a", { href: `/api/v1/plans/${this.plan.id}/racks/${seg(r.rack)}.pdf`, target: "_blank", "aria-label": `${t("report.pdf")}: ${t("report.sheet")} ${r.rack}` }, t("report.pdf")) },
    ], racks));
  }
}
