// Who edits: a name that colleagues know, asked once in this browser. There are no
// accounts yet; whoever brings them changes this file.
import { dialog } from "./dialog.js";
import { el } from "./element.js";
import { t } from "./words.js";

const key = "lanewright.who";

/** known is the name, "" where nobody gave one. */
export function known() {
  try {
    return localStorage.getItem(key) ?? "";
  } catch {
    return "";
  }
}

/** keep keeps the name. */
export function keep(name) {
  try {
    localStorage.setItem(key, name);
  } catch { /* then it is asked again */ }
}

/** whoAmI returns the name, asking for it where it is not known; "" where nobody answered. */
export async function whoAmI() {
  if (known()) return known();
  const input = el("input", { id: "who-name", maxlength: 100, autocomplete: "name", required: true });
  const answer = await dialog(t("edit.who"), [el("p", { class: "quiet" }, t("edit.who.about")), el("p", { class: "field" }, el("label", { for: "who-name" }, t("edit.who.name")), input)],
    [["begin", t("edit.who.begin"), "main"], ["", t("dialog.cancel"), ""]]);
  const name = input.value.trim();
  if (answer !== "begin" || !name) return "";
  keep(name);
  return name;
}
