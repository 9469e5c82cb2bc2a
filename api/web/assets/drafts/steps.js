// The edits of a draft in their order, in words; taken back from the end.
import { el, section, word } from "../element.js";
import { when } from "../numbers.js";
import { t } from "../words.js";
import { cellLink, editCells, editText, places, sizeText } from "./tell.js";

/** steps lists them; on.step(kind, times) takes back or makes again. */
export function steps(draft, edits, plan, on) {
  if (edits.length + draft.undone.length === 0) return null;
  const open = !draft.published_plan;
  const versions = [...new Set(edits.map((d) => d.version))];
  const items = edits.map((d, i) => {
    const last = edits[i + 1]?.version !== d.version; // of the edits that were made at once
    const back = versions.length - versions.indexOf(d.version);
    return el("li", { class: last ? null : "joined" },
      el("div", { class: "did" }, el("span", {}, editText(d.edit, d.loops), idle(d) && [" ", word("warn", t("draft.idle"))]), d.loops.map(sizeText).filter(Boolean).map((text) => el("small", {}, text)),
        el("small", {}, d.by, " · ", when(d.made, plan.settings.time_zone), editCells(d.edit).map((c) => [" · ", t("word.cell"), " ", cellLink(draft, c)]))),
      open && last && el("button", { type: "button", class: "small", onclick: () => on.step("undo", back), "aria-label": t(back === 1 ? "draft.undo.of" : "draft.undo.from.of", { n: i + 1 }) },
        t(back === 1 ? "draft.undo" : "draft.undo.from", { n: back })));
  });
  const undone = draft.undone.reduce((n, s) => n + s.edits.length, 0);
  return section("edits", t("draft.edits"), t("draft.edits.about", { n: edits.length }),
    edits.length > 0 && el("ol", { class: "list frame edits" }, items),
    open && undone > 0 && el("p", { class: "tools" }, el("span", { class: "quiet" }, t("draft.taken.back", { n: undone })),
      el("button", { type: "button", class: "small", onclick: () => on.step("redo", 1) }, t("draft.redo"))));
}

/** idle reports whether an edit that should move loops left them where they were. */
const idle = (d) => ["move", "swap"].includes(d.edit.kind) && d.loops.every((l) => places(l.before.spots) === places(l.after.spots));
