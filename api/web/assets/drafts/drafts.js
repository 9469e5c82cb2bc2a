// All drafts of the plant that are open, and what the floor worked to.
import { all, seg, send } from "../ask.js";
import { dialog } from "../dialog.js";
import { crumb, el, section, titled } from "../element.js";
import { when } from "../numbers.js";
import { thePlan } from "../plan.js";
import { say } from "../say.js";
import { begin } from "../shell.js";
import { empty, show } from "../states.js";
import { table } from "../table.js";
import { keep } from "../who.js";
import { t } from "../words.js";
import { field, nameField } from "./fields.js";
import { history } from "./history.js";
import { floorOf, standing, stateWord, throwAway } from "./tell.js";

begin(async () => {
  const plan = await thePlan();
  titled(t("draft.title"), plan.plant);
  await draw(plan);
});

async function draw(plan) {
  const [drafts, floor] = await Promise.all([all(`/plants/${seg(plan.plant)}/drafts`), floorOf(plan.plant)]);
  const open = drafts.filter((d) => !d.published_plan);
  const add = (kind) => el("button", { type: "button", class: kind, onclick: () => create(plan, floor) }, t("draft.new"));
  show(
    crumb("/cells?" + new URLSearchParams({ plan: plan.id }), t("cells.title"), plan.plant),
    el("div", { class: "lead" }, el("div", {}, el("h1", {}, t("draft.title")), el("p", { class: "sub" }, t("draft.about"))),
      open.length > 0 && el("div", { class: "tools" }, add("main"))),
    section("open", t("draft.open.title"), open.length ? t("draft.open.about") : null, open.length ? list(plan, open, floor) : none(plan, add)),
    history(plan, floor, drafts));
}

/** none says how a draft begins. */
const none = (plan, add) => empty(el("h2", {}, t("draft.none")), el("p", {}, t("draft.none.about")),
  el("div", { class: "tools" }, el("a", { class: "button", href: "/cells?" + new URLSearchParams({ plan: plan.id }) }, t("draft.none.cells")), add("")));

function list(plan, open, floor) {
  return table(t("draft.open.title"), [
    { head: t("draft.name"), value: (d) => d.name, cell: (d) => el("a", { href: `/drafts/${d.id}` }, d.name) },
    { head: t("word.state"), bare: true, wide: true, value: (d) => standing(d, floor)[1], cell: (d) => stateWord(d, floor) },
    { head: t("draft.plan"), value: (d) => t("plan.number", { id: String(d.plan) }) },
    { head: t("draft.edits"), n: true, value: (d) => d.edits },
    { head: t("draft.touches"), wide: true, value: (d) => [...d.cells, ...d.racks.map((r) => t("rack.name", { rack: r }))].join(", ") },
    { head: t("draft.people"), value: (d) => [...new Set([d.by, ...d.people])].join(", ") },
    { head: t("draft.changed"), value: (d) => d.changed, cell: (d) => when(d.changed, plan.settings.time_zone) },
    { head: t("draft.act"), bare: true, value: () => t("draft.throw"), cell: (d) => el("button", { type: "button", class: "small", "aria-label": t("draft.throw.of", { name: d.name }), onclick: () => discard(plan, d) }, t("draft.throw")) },
  ], open);
}

async function discard(plan, d) {
  try {
    if (!await throwAway(d, d.edits)) return;
    say(t("draft.thrown", { name: d.name }));
  } catch (error) {
    say(error.message, { bad: true });
  }
  await draw(plan);
}

/** create asks for a name and begins a draft of the plan that the floor works to, or of
 *  the latest. */
async function create(plan, floor) {
  const plans = [...new Set([floor.published?.plan, floor.latest, plan.id].filter(Boolean))];
  const name = el("input", { id: "draft-name", maxlength: 200, required: true, autocomplete: "off" });
  const on = el("select", { id: "draft-plan" }, plans.map((id) => el("option", { value: id }, t(id === floor.published?.plan ? "draft.on.published" : id === floor.latest ? "draft.on.latest" : "plan.number", { id: String(id) }))));
  const by = nameField("draft-by");
  const answer = await dialog(t("draft.new"), [field("draft-name", t("draft.new.name"), name), field("draft-plan", t("draft.new.plan"), on), by],
    [["new", t("draft.new.go"), "main"], ["", t("dialog.cancel"), ""]]);
  const who = by.querySelector("input").value.trim();
  if (answer !== "new" || !name.value.trim() || !who) return;
  keep(who);
  try {
    const d = await send("POST", `/plans/${on.value}/drafts`, { name: name.value.trim(), by: who }, { "Idempotency-Key": crypto.randomUUID() });
    location.assign(`/drafts/${d.id}`);
  } catch (error) {
    say(error.message, { bad: true });
  }
}
