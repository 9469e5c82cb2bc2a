// One draft, to be looked through before it is published: what it breaks, what was done,
// what comes of it.
import { all, ask, seg, send } from "../ask.js";
import { crumb, el, titled } from "../element.js";
import { when } from "../numbers.js";
import { say } from "../say.js";
import { begin } from "../shell.js";
import { empty, show } from "../states.js";
import { known, whoAmI } from "../who.js";
import { t } from "../words.js";
import { effects } from "./effects.js";
import { merge } from "./merge.js";
import { publish } from "./publish.js";
import { steps } from "./steps.js";
import { cellLink, floorOf, stateWord, tag, throwAway } from "./tell.js";

const id = location.pathname.split("/")[2];
const query = new URLSearchParams(location.search);

begin(async () => {
  const draft = await ask(`/drafts/${seg(id)}`);
  const plan = await ask(`/plans/${draft.plan}/summary`);
  titled(draft.name, plan.plant);
  await draw(plan, draft);
});

async function draw(plan, draft) {
  let floor, dry, edits;
  try {
    [floor, dry, { edits }] = await Promise.all([floorOf(draft.plant),
      send("POST", `/drafts/${draft.id}/publish?dry_run=true`, { by: known() || t("draft.somebody") }, tag(draft)), ask(`/drafts/${draft.id}/edits`)]);
  } catch (error) {
    if (error.status !== 412) throw error;
    return draw(plan, await ask(`/drafts/${draft.id}`)); // somebody is at it just now
  }
  const again = async (told) => {
    await draw(plan, await ask(`/drafts/${draft.id}`));
    if (told) say(told);
  };
  const on = { step: (kind, times) => step(draft, kind, times, again) };
  const onto = !draft.published_plan && query.get("onto");
  show(
    crumb("/drafts?" + new URLSearchParams({ plant: draft.plant }), t("draft.title"), t("plan.number", { id: String(draft.plan) })),
    el("div", { class: "lead" },
      el("div", {}, el("h1", {}, draft.name), el("p", { class: "sub" }, stateWord(draft, floor), " ", t("draft.sub", { plan: String(draft.plan), by: draft.by, when: when(draft.changed, plan.settings.time_zone) }))),
      !draft.published_plan && el("div", { class: "tools" },
        edits.length > 0 && el("button", { type: "button", id: "publish", class: "main", onclick: () => publish({ draft, floor }, (made) => { sessionStorage.setItem("lanewright.said", String(made.plan)); location.assign(`/drafts/${draft.id}`); }) }, t("draft.publish")),
        el("button", { type: "button", onclick: () => discard(draft, edits.length, again) }, t("draft.throw")))),
    draft.published_plan ? published(draft, floor) : carriedFrom(draft),
    edits.length > 0 && broken(draft, dry.broken),
    !draft.published_plan && !onto && behind(draft, floor, edits),
    onto ? await merge(draft, Number(onto), edits, floor) : null,
    edits.length === 0 ? await nothing(draft) : null,
    steps(draft, edits, plan, on),
    edits.length > 0 && effects(draft, floor));
  if (sessionStorage.getItem("lanewright.said") === String(draft.published_plan)) {
    sessionStorage.removeItem("lanewright.said");
    document.getElementById("published")?.focus();
  }
}

/** published says that the floor works, or worked, to what the draft made. */
function published(draft, floor) {
  const plan = draft.published_plan;
  const entry = floor.before.find((p) => p.draft === draft.id);
  const now = floor.published.plan === plan;
  const links = [
    now && ["/rounds?" + new URLSearchParams({ plant: draft.plant }), t("draft.to.rounds")],
    entry?.plan_before && ["/moves?" + new URLSearchParams({ draft: draft.id, since: entry.plan_before }), t("draft.to.moves")],
    ["/report?" + new URLSearchParams({ plan, ...entry?.plan_before && { since: entry.plan_before } }), t("draft.to.report")],
    [`/plans/${plan}`, t("plan.number", { id: String(plan) })],
  ].filter(Boolean);
  return el("section", { class: "note good", id: "published", tabindex: "-1", "aria-labelledby": "published-title" },
    el("h2", { id: "published-title" }, t("draft.published", { plan: String(plan) })),
    el("p", {}, now ? t("draft.published.now") : t("draft.published.was", { plan: String(floor.published.plan) }), entry?.note && ` “${entry.note}”`, entry && ` (${entry.by})`),
    el("ul", { class: "links" }, links.map(([href, text]) => el("li", {}, el("a", { href }, text)))));
}

/** carriedFrom offers to throw the draft away that this one was carried over from. */
function carriedFrom(draft) {
  const from = query.get("from");
  if (!from) return null;
  const box = el("div", { class: "note good" }, el("p", {}, t("draft.carried", { plan: String(draft.plan) })), el("button", { type: "button", onclick: async () => {
    try {
      const old = await ask(`/drafts/${seg(from)}`);
      if (await throwAway(old, old.steps.reduce((n, s) => n + s.edits.length, 0))) {
        history.replaceState(null, "", location.pathname);
        box.remove();
        say(t("draft.thrown", { name: old.name }));
      }
    } catch (error) {
      say(error.message, { bad: true });
    }
  } }, t("draft.carried.throw")));
  return box;
}

/** broken lists the rules that the draft breaks, before anything else. */
function broken(draft, list) {
  if (list.length === 0) return null;
  const cells = (f) => f.subject.cell ? [" ", cellLink(draft, f.subject.cell)] : "";
  return el("section", { class: "note bad", id: "broken", "aria-labelledby": "broken-title" },
    el("h2", { id: "broken-title" }, t("draft.broken", { n: list.length })), el("p", {}, t(draft.published_plan ? "draft.broken.accepted" : "draft.broken.about")),
    el("ul", {}, list.map((f) => el("li", {}, el("strong", { lang: "en" }, f.summary), cells(f), f.remedy && el("p", { class: "quiet", lang: "en" }, f.remedy)))));
}

/** behind tells that the floor works to another plan than the one the draft stands on. */
function behind(draft, floor, edits) {
  const other = floor.published ? floor.published.plan : floor.latest;
  if (!other || other === draft.plan || (!floor.published && other < draft.plan)) return null;
  const p = floor.published;
  return el("section", { class: "note warn", id: "behind", "aria-labelledby": "behind-title" }, el("h2", { id: "behind-title" }, p ? t("draft.behind", { plan: String(other), by: p.by }) : t("draft.behind.later", { plan: String(other) })),
    el("p", {}, t(p ? "draft.behind.about" : "draft.behind.later.about", { own: String(draft.plan), plan: String(other) })),
    edits.length > 0 && el("a", { class: "button", href: "?" + new URLSearchParams({ onto: other }) }, t("draft.onto.go", { plan: String(other) })));
}

/** nothing says how the first change is made. */
async function nothing(draft) {
  if (draft.published_plan) return null;
  const cells = await all(`/plans/${draft.plan}/cells`);
  const select = el("select", { id: "to-cell" }, cells.map((c) => el("option", { value: c.cell }, c.cell)));
  const go = () => location.assign(`/cells/${seg(select.value)}?` + new URLSearchParams({ plan: draft.plan, draft: draft.id }));
  return empty(el("h2", {}, t("draft.empty")), el("p", {}, t("draft.empty.about")),
    el("form", { class: "tools", onsubmit: (e) => { e.preventDefault(); go(); } }, el("label", { for: "to-cell" }, t("word.cell")), select, el("button", { type: "submit", class: "main" }, t("draft.empty.go"))));
}

/** step takes steps back from the end, or makes one again. Each says which version was
 *  seen, so nobody's change is taken back unseen. */
async function step(draft, kind, times, again) {
  const by = await whoAmI();
  if (!by) return;
  try {
    for (let d = draft, n = 0; n < times; n++) d = await send("POST", `/drafts/${d.id}/${kind}`, { by }, { ...tag(d), "Idempotency-Key": crypto.randomUUID() });
    await again(t(kind === "undo" ? "draft.undone" : "draft.redone", { n: times }));
  } catch (error) {
    await again();
    const who = [...new Set((error.problem?.since ?? []).map((s) => s.by))].join(", ");
    say(who ? t("draft.stale", { by: who }) : error.message, { bad: true });
  }
}

async function discard(draft, edits, again) {
  try {
    if (await throwAway(draft, edits)) location.assign("/drafts?" + new URLSearchParams({ plant: draft.plant }));
  } catch (error) {
    await again();
    say(error.message, { bad: true });
  }
}
