// Two engineers in one draft: what the other did, and what to do with one's own edit.
import { dialog } from "../dialog.js";
import { el } from "../element.js";
import { t } from "../words.js";
import { address } from "./desk.js";

/** editText says an edit in words. */
export function editText(e) {
  const part = e.loop?.part ?? "";
  const to = e.to ? address(e.to) : "";
  return t("edit.is." + e.kind, { part, to, other: e.with?.part ?? "", container: e.container ?? "", min: e.interval_min ?? 0 });
}

/** askMerge tells what others did since and asks what to do with one's own edits: "merge"
 *  makes them all the same, "" leaves them out. */
export function askMerge(problem, edits) {
  return dialog(t("edit.clash"), [
    el("p", {}, t("edit.clash.about")), el("h3", {}, t("edit.clash.theirs")),
    el("ul", {}, (problem?.since ?? []).flatMap((s) => s.kind === "edit" ? s.edits.map((e) => el("li", {}, `${s.by}: ${editText(e)}`)) : [el("li", {}, `${s.by}: ${t("edit.kind." + s.kind)}`)])),
    el("h3", {}, t("edit.clash.mine")), el("ul", {}, edits.map((e) => el("li", {}, editText(e)))),
  ], [["merge", t("edit.clash.merge"), "main"], ["", t("edit.clash.leave"), ""]]);
}

/** tellConflicts lists the edits that were left out, for both touch the same. */
export function tellConflicts(conflicts) {
  return dialog(t("edit.conflict"), [
    el("p", {}, t("edit.conflict.about")),
    el("ul", {}, conflicts.map((c) => el("li", {}, editText(c.edit), el("br"), el("span", { class: "quiet" },
      c.theirs ? t(c.undone ? "edit.conflict.undone" : "edit.conflict.theirs", { by: c.by, edit: editText(c.theirs) }) : t("edit.conflict.own"))))),
  ]);
}
