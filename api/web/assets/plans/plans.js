// All plans of a plant: asking for another, what is being made, what became of it,
// and two of them compared.
import { all, ask, seg } from "../ask.js";
import { el, section, titled, word } from "../element.js";
import { num, when } from "../numbers.js";
import { planOf } from "../plan.js";
import { say } from "../say.js";
import { begin } from "../shell.js";
import { empty, loading, show } from "../states.js";
import { table } from "../table.js";
import { t } from "../words.js";
import { asked, Form } from "./fields.js";
import { elapsed, failedText, follow, hasEnded, makePlan } from "./run.js";

const few = 10; // runs shown that made nothing

begin(async () => {
  const { plant, plan } = await planOf();
  if (!plant) return show(empty(el("h1", {}, t("plant.none")), el("p", {}, el("a", { class: "button", href: "/data" }, t("plant.none.drop")))));
  const at = `/plants/${seg(plant.plant)}`;
  const [settings, given] = await Promise.all([ask(at + "/settings"), before()]);
  titled(t("plans.title"), plant.plant);
  new PlansPage(plant.plant, at, plan?.settings.time_zone, settings, given).show(plan);
});

/** before are the settings of the plan that the address asks to be made again. */
async function before() {
  const again = new URLSearchParams(location.search).get("again");
  if (!again || again === "new") return null;
  const plan = await ask(`/plans/${seg(again)}/summary`);
  return Object.fromEntries(plan.settings_changed.map((key) => [key, String(plan.settings[key])]));
}

class PlansPage {
  constructor(plant, at, zone, settings, given) {
    Object.assign(this, { plant, at, zone, settings: settings.settings, revision: settings.revision_number, given });
    this.ticked = [];
    this.running = el("div", { id: "running" });
    this.followed = new Map();
    this.list = el("div", {}, loading());
    this.ended = el("div");
  }

  async show() {
    const wanted = new URLSearchParams(location.search).has("again");
    show(el("h1", {}, t("plans.title")), el("p", { class: "sub" }, t("plans.about", { plant: this.plant, revision: String(this.revision) })),
      this.again(wanted), this.running, this.list, this.ended);
    await this.draw();
  }

  /** again is the form that asks for another plan. */
  again(open) {
    this.form = new Form(this.settings, this.given ?? {});
    const refused = el("p", { class: "refused", role: "alert" });
    const send = el("button", { type: "submit", class: "main" }, t("plans.make"));
    return el("details", { class: "again", id: "again", open },
      el("summary", {}, t("plans.again")),
      el("form", { novalidate: true, onsubmit: async (e) => {
        e.preventDefault();
        refused.textContent = "";
        send.disabled = true;
        try {
          this.form.refuse([]);
          this.watch(await makePlan(this.plant, { revision: this.revision, settings: this.form.changes() }));
          e.target.closest("details").open = false;
          this.running.querySelector("button")?.focus();
        } catch (error) {
          refused.textContent = error.errors?.length ? [t("plans.refused"), ...this.form.refuse(error.errors)].join(" ") : error.message;
        }
        send.disabled = false;
      } }, el("p", { class: "quiet" }, t("plans.again.about", { revision: String(this.revision) })), this.form.element, refused,
      el("p", { class: "tools" }, send, el("button", { type: "button", onclick: () => this.form.reset() }, t("plans.reset")))));
  }

  /** watch follows a run; where it made a plan, the list has it. */
  watch(run) {
    if (this.followed.has(run.id)) return;
    const place = el("div");
    const box = el("section", { class: "frame going", "aria-label": t("plans.run") }, el("h2", {}, t(run.kind === "simulation" ? "plans.playing" : "plans.making", { id: String(run.played_plan) })),
      Object.keys(run.settings).length > 0 && el("p", { class: "quiet" }, asked(this.settings, run.settings)), place);
    this.followed.set(run.id, box);
    this.running.append(box);
    follow(run, place, (ended) => {
      box.remove();
      if (ended.state === "failed") say(failedText(ended), { bad: true });
      if (ended.state === "done") {
        const [text, href] = ended.plan ? [t("plans.made", { id: String(ended.plan) }), `/plans/${ended.plan}`] : [t("plans.played", { id: String(ended.played_plan) }), `/plans/${ended.played_plan}/simulation?play=${ended.simulation}`];
        say(text, { action: [t("plans.see"), () => location.assign(href)] });
      }
      this.draw();
    });
  }

  async draw() {
    const [plans, runs, published] = await Promise.all([all(this.at + "/plans"), all(this.at + "/runs"), ask(this.at + "/published?limit=1")]);
    this.of = new Map(runs.filter((r) => r.plan).map((r) => [r.plan, r]));
    this.published = published.current?.plan;
    this.latest = plans.at(-1)?.id;
    for (const run of runs.filter((r) => !hasEnded(r))) this.watch(run);
    this.list.replaceChildren(this.plans(plans.reverse()));
    const lost = runs.filter((r) => r.state === "failed" || r.state === "cancelled").sort((a, b) => b.created.localeCompare(a.created)).slice(0, few);
    this.ended.replaceChildren(...lost.length ? [this.lost(lost)] : []);
  }

  plans(plans) {
    if (plans.length === 0) return section("plans", t("plans.list"), null, empty(el("p", {}, t("plans.none"))));
    const compare = el("button", { type: "button", onclick: () => location.assign("/plans/compare?" + new URLSearchParams({ a: Math.min(...this.ticked), b: Math.max(...this.ticked) })) }, t("plans.compare.two"));
    const told = el("span", { class: "quiet", role: "status" });
    const count = () => {
      compare.disabled = this.ticked.length !== 2;
      told.textContent = t("plans.ticked", { n: this.ticked.length });
    };
    const tick = (id, on) => {
      this.ticked = on ? [...this.ticked, id] : this.ticked.filter((x) => x !== id);
      count();
    };
    this.ticked = this.ticked.filter((id) => plans.some((p) => p.id === id));
    count();
    const name = (p) => t("plans.plan.n", { id: String(p.id) });
    return section("plans", t("plans.list"), t("plans.list.about"), plans.length > 1 && el("div", { class: "tools filters" }, told, compare), table(t("plans.list"), [
      { head: t("plans.plan"), value: name, cell: (p) => [el("a", { href: `/plans/${p.id}` }, name(p)), el("small", {}, t("data.revision.n", { n: String(p.revision_number) }))] },
      plans.length > 1 && { head: t("plans.tick"), value: (p) => this.ticked.includes(p.id) ? "x" : "", cell: (p) => el("input", { type: "checkbox", class: "tick", checked: this.ticked.includes(p.id), "aria-label": t("plans.tick.n", { id: String(p.id) }), onchange: (e) => tick(p.id, e.target.checked) }) },
      { head: t("plans.when"), value: (p) => p.created, cell: (p) => when(p.created, this.zone) },
      { head: t("word.state"), wide: true, bare: true, value: (p) => this.states(p).map(([, text]) => text).join(", "), cell: (p) => this.states(p).map(([kind, text]) => [word(kind, text), " "]) },
      { head: t("plans.asked.with"), wide: true, value: (p) => this.asked(p) },
      { head: t("loops.placed"), n: true, value: (p) => p.summary.loops_placed, cell: (p) => t("of", { part: p.summary.loops_placed, all: p.summary.loops }) },
      { head: t("cells.unplaced"), n: true, value: (p) => p.summary.containers_unplaced },
      { head: t("word.racks"), n: true, value: (p) => p.summary.racks, cell: (p) => [num(p.summary.racks), p.summary.racks_proposed > 0 && el("small", {}, t("racks.new", { n: p.summary.racks_proposed }))] },
      { head: t("plans.handlers"), n: true, value: (p) => p.summary.handlers },
      { head: t("word.effort"), n: true, unit: "kg/h", decimals: 1, value: (p) => p.summary.effort },
      { head: t("plant.moves"), n: true, value: (p) => p.summary.moved_containers },
    ].filter(Boolean), plans));
  }

  /** states are [kind, text]: what the floor works to, the latest, what was edited by hand. */
  states(p) {
    return [p.id === this.published && ["good", t("plans.published")], p.id === this.latest && ["", t("plans.latest")],
      p.edited_from && ["", t("plans.edited", { id: String(p.edited_from) })]].filter(Boolean);
  }

  asked(p) {
    const run = this.of.get(p.id);
    if (!run) return p.edited_from ? t("plans.asked.hand") : "";
    return asked(this.settings, run.settings) || t("plans.asked.nothing");
  }

  lost(runs) {
    return section("lost", t("plans.lost"), t("plans.lost.about"), el("ul", { class: "list frame" }, runs.map((r) => el("li", {},
      el("div", { class: "head" }, word(r.state === "failed" ? "bad" : "", t("plans.run." + r.state)), el("strong", {}, when(r.created, this.zone)),
        el("span", { class: "quiet" }, [asked(this.settings, r.settings) || t("plans.asked.nothing"), r.started && t("run.elapsed", { time: elapsed(r) })].filter(Boolean).join(" · "))),
      r.error && el("p", { lang: "en" }, r.error)))));
  }
}
