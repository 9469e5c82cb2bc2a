// A draft is brought onto another plan: what others changed meanwhile stays, and where
// both touch the same the person says which of the two shall be.
import { ask, send } from "../ask.js";
import { el, section, word } from "../element.js";
import { failure } from "../states.js";
import { whoAmI } from "../who.js";
import { t } from "../words.js";
import { address, editText, tag } from "./tell.js";

/** merge shows each conflict with its choice, and what comes of the choices. */
export async function merge(draft, onto, edits, floor) {
  let c, between;
  try {
    [c, between] = await Promise.all([ask(`/drafts/${draft.id}/onto/${onto}`), ask(`/plans/${draft.plan}/compare/${onto}`)]);
  } catch (error) {
    return failure(error, () => location.reload());
  }
  const clashes = c.edits.filter((e) => e.conflict);
  const choices = new Map(clashes.map((e) => [e.number, choice(e, edits[e.number], c, between)]));
  const taken = () => [...choices].filter(([, box]) => box.querySelector("input[value=mine]").checked).map(([n]) => n);
  const outcome = el("div", { role: "status", class: "outcome" });
  let asked = 0;
  const preview = async () => {
    const mine = ++asked;
    const take = taken();
    const kept = c.edits.filter((e) => !e.conflict || take.includes(e.number)).map((e) => e.edit);
    const made = kept.length ? await send("POST", `/plans/${onto}/edits`, { edits: kept }).catch(() => null) : null;
    if (mine !== asked) return;
    const left = c.edits.length - kept.length;
    outcome.replaceChildren(el("p", {}, t("draft.merge.sum", { n: kept.length, all: c.edits.length }), " ", left ? t("draft.merge.left", { n: left }) : ""),
      ...made?.broken.length ? [el("p", {}, word("bad", t("draft.broken", { n: made.broken.length }))), el("ul", {}, made.broken.slice(0, 6).map((f) => el("li", { lang: "en" }, f.summary)))] : made ? [el("p", {}, word("good", t("draft.merge.clean")))] : []);
  };
  const all = (value) => () => {
    for (const box of choices.values()) box.querySelector(`input[value=${value}]`).checked = true;
    preview();
  };
  for (const box of choices.values()) box.addEventListener("change", preview);
  preview();
  const free = c.edits.length - clashes.length;
  return section("merge", t("draft.merge", { plan: String(onto) }), t(onto === floor.published?.plan ? "draft.merge.about" : "draft.merge.about.later", { own: String(draft.plan), plan: String(onto) }),
    theirs(c),
    free > 0 && el("p", {}, word("good", t("draft.merge.free", { n: free }))),
    clashes.length > 0 && el("div", { class: "bar-head" }, el("p", {}, word("warn", t("draft.merge.clashes", { n: clashes.length }))),
      clashes.length > 1 && el("div", { class: "tools" }, el("button", { type: "button", class: "small", onclick: all("theirs") }, t("draft.merge.all.theirs")), el("button", { type: "button", class: "small", onclick: all("mine") }, t("draft.merge.all.mine")))),
    el("div", { class: "clashes" }, [...choices.values()]), outcome,
    el("div", { class: "tools" }, el("button", { type: "button", class: "main", id: "merge-go", onclick: () => carry(draft, onto, taken()) }, t("draft.merge.go", { plan: String(onto) })),
      el("a", { class: "button", href: location.pathname }, t("dialog.cancel"))));
}

/** theirs lists what others did between the two plans. */
function theirs(c) {
  if (!c.related) return el("p", { class: "quiet" }, t("draft.merge.unrelated"));
  const lines = c.theirs.flatMap((s) => s.edits.map((e) => el("li", {}, t(s.undone ? "draft.theirs.undone" : "draft.theirs", { by: s.by, plan: String(s.plan), edit: editText(e) }))));
  return lines.length > 0 && el("details", { open: lines.length <= 5 }, el("summary", {}, t("draft.merge.theirs", { n: lines.length })), el("ul", {}, lines));
}

/** choice is one conflict: mine, theirs, what each means, and which it shall be. */
function choice(e, deed, c, between) {
  const x = e.conflict;
  const name = `clash-${e.number}`;
  const what = x.on === "loop" ? t("draft.clash.loop", { part: x.loop.part }) : x.at ? t("draft.clash." + x.on, { at: address(x.at) }) : "";
  const lies = (s) => s?.lanes.map(address).join(", ") || t("draft.nowhere");
  const names = [e.edit.loop, e.edit.with, x.theirs?.loop, x.theirs?.with].filter(Boolean).map((l) => l.part);
  const differ = between.loops.filter((d) => names.includes(d.part) && d.moved).slice(0, 4);
  const option = (value, label, checked) => el("label", { class: "option" }, el("input", { type: "radio", name, value, checked }), el("span", {}, label));
  return el("fieldset", { class: "clash" }, el("legend", {}, t("draft.clash", { n: e.number + 1, what })),
    el("dl", {},
      el("dt", {}, t("draft.clash.mine", { by: e.by })), el("dd", {}, editText(e.edit, deed?.loops)),
      el("dt", {}, x.theirs ? t(x.undone ? "draft.clash.undone" : "draft.clash.theirs", { by: x.by }) : t("draft.clash.plan", { plan: String(c.onto) })),
      el("dd", {}, x.theirs ? editText(x.theirs) : c.related ? t("draft.clash.own") : e.differs?.after ? "" : t("draft.clash.gone"),
        differ.map((d) => el("small", {}, t("draft.clash.lies", { part: d.part, plan: String(c.onto), after: lies(d.after), before: lies(d.before) }))))),
    option("theirs", t("draft.clash.take.theirs"), true), option("mine", t("draft.clash.take.mine"), false));
}

async function carry(draft, onto, take) {
  const by = await whoAmI();
  if (!by) return;
  const button = document.getElementById("merge-go");
  button.disabled = true;
  try {
    const made = await send("POST", `/drafts/${draft.id}/onto/${onto}`, { by, take }, tag(draft));
    location.assign(`/drafts/${made.id}?` + new URLSearchParams({ from: draft.id }));
  } catch (error) {
    button.disabled = false;
    button.closest(".tools").before(el("div", { class: "note bad", role: "alert" }, el("p", {}, error.status === 412 ? t("draft.stale", { by: [...new Set((error.problem?.since ?? []).map((s) => s.by))].join(", ") }) : error.message),
      error.status === 412 && el("button", { type: "button", onclick: () => location.reload() }, t("draft.stale.look"))));
  }
}
