// Fields of the windows of drafts.
import { el } from "../element.js";
import { known } from "../who.js";
import { t } from "../words.js";

/** field is a control under its name. */
export const field = (id, label, control) => el("p", { class: "stacked" }, el("label", { for: id }, label), control);

/** nameField asks who does it, filled in where that is known. */
export const nameField = (id) => field(id, t("draft.who"), el("input", { id, maxlength: 100, required: true, autocomplete: "name", value: known() }));
