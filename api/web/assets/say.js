// Short messages at the edge of the window, read out by a screen reader.
import { el } from "./element.js";
import { t } from "./words.js";

const stays = 6000; // milliseconds

/** say shows a message for a while; a bad one, or one that offers an action
 *  (label and function), stays until it is closed. */
export function say(text, { bad = false, action } = {}) {
  const box = el("div", { class: bad ? "said bad" : "said" }, el("span", {}, text),
    action && el("button", { type: "button", onclick: () => { box.remove(); action[1](); } }, action[0]),
    (bad || action) && el("button", { type: "button", onclick: () => box.remove() }, t("dialog.close")));
  document.getElementById("said").replaceChildren(box);
  if (!bad && !action) setTimeout(() => box.remove(), stays);
}
