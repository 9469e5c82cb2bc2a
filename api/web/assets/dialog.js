// Questions in a window of their own: the browser's dialog, which keeps the
// focus inside, closes with Escape and gives the focus back.
import { el } from "./element.js";
import { t } from "./words.js";

/** dialog asks; the answer is the value of the button that was pressed, ""
 *  where it was closed. Buttons are [value, text, class]; the first one is
 *  pressed by Enter, and what is asked for is only insisted on by those that have a
 *  value. */
export function dialog(title, content, buttons = [["", t("dialog.close"), ""]]) {
  return new Promise((answer) => {
    const box = el("dialog", { "aria-labelledby": "dialog-title" },
      el("form", { method: "dialog" }, el("h2", { id: "dialog-title" }, title), content,
        el("div", { class: "tools" }, buttons.map(([value, text, kind]) => el("button", { value, class: kind, formnovalidate: value === "" }, text)))));
    box.addEventListener("close", () => { box.remove(); answer(box.returnValue); });
    document.body.append(box);
    box.showModal();
  });
}
