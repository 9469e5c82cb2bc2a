// Who changes a draft: a name that colleagues know, kept in this browser. There are no
// accounts yet; whoever brings them changes this file.
import { dialog } from "../dialog.js";
import { el } from "../element.js";
import { t } from "../words.js";

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

/** nameField asks for the name, filled in where it is known. */
export const nameField = (id) => field(id, t("draft.who"), el("input", { id, maxlength: 100, required: true, autocomplete: "name", value: known() }));

/** field is a control under its name. */
export const field = (id, label, control) => el("p", { class: "stacked" }, el("label", { for: id }, label), control);

/** whoAmI returns the name, asking where it is not known; "" where nobody answered. */
export async function whoAmI() {
  if (known()) return known();
  const asked = nameField("who");
  const answer = await dialog(t("draft.who.title"), [el("p", { class: "quiet" }, t("draft.who.about")), asked], [["go", t("draft.who.go"), "main"], ["", t("dialog.cancel"), ""]]);
  const name = asked.querySelector("input").value.trim();
  if (answer !== "go" || !name) return "";
  keep(name);
  return name;
}
