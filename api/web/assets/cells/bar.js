// Which draft the edits go to, and what can be done with it as a whole.
import { el } from "../element.js";
import { t } from "../words.js";

/** bar shows the plan or the draft that stands on the desk. on has undo(), redo() and
 *  use(id): another draft is chosen, "" for the plan as it is. */
export function bar(desk, open, on) {
  const d = desk.draft;
  const edits = d ? d.steps.reduce((n, s) => n + s.edits.length, 0) : 0;
  const others = open.filter((o) => o.id !== d?.id);
  const choice = (others.length > 0 || d) && el("span", { class: "choice" }, el("label", { for: "draft-choice" }, t("edit.draft")), " ",
    el("select", { id: "draft-choice", onchange: (e) => on.use(e.target.value) },
      el("option", { value: "", selected: !d }, t("edit.draft.none", { plan: String(desk.plan.id) })),
      [...d ? [d] : [], ...others].map((o) => el("option", { value: o.id, selected: o.id === d?.id }, t("edit.draft.of", { name: o.name, by: o.by })))));
  const told = !d ? t("edit.bar.plan") : desk.closed ? t("edit.bar.closed", { plan: String(d.published_plan) }) : edits ? t("edit.bar.edits", { n: edits }) : t("edit.bar.begun");
  return el("div", { class: "desk-bar", role: "group", "aria-label": t("edit.bar") }, choice, el("p", { id: "bar-told" }, told),
    d && !desk.closed && el("div", { class: "tools" },
      el("button", { type: "button", id: "undo", onclick: on.undo, disabled: d.steps.length === 0, "aria-keyshortcuts": "Control+Z" }, t("edit.undo")),
      el("button", { type: "button", id: "redo", onclick: on.redo, disabled: d.undone.length === 0, "aria-keyshortcuts": "Control+Shift+Z" }, t("edit.redo")),
      edits > 0 && el("a", { class: "button main", id: "review", href: `/drafts/${d.id}` }, t("edit.review"))));
}

/** stepKeys binds Ctrl+Z, Ctrl+Shift+Z and Ctrl+Y, except where somebody types. */
export function stepKeys(on) {
  document.addEventListener("keydown", (e) => {
    if (!(e.ctrlKey || e.metaKey) || e.altKey || e.target.closest?.("input, select, textarea, dialog")) return;
    const key = e.key.toLowerCase();
    const act = key === "z" ? (e.shiftKey ? on.redo : on.undo) : key === "y" ? on.redo : null;
    if (!act) return;
    e.preventDefault();
    act();
  });
}
