// Something that is computed while a person waits, and may be given up.
import { el } from "../element.js";
import { failure } from "../states.js";
import { t } from "../words.js";

/** waiting shows in place that something is computed, then what shown makes of it;
 *  the next call, or Cancel, gives up the one before. */
export async function waiting(place, text, work, shown) {
  place.giveUp?.();
  const control = new AbortController();
  place.giveUp = () => control.abort();
  place.replaceChildren(el("div", { class: "run", "aria-busy": "true" }, el("progress", { "aria-label": t("run.progress") }), el("span", { role: "status" }, text),
    el("button", { type: "button", onclick: () => { control.abort(); place.replaceChildren(el("p", { class: "note", role: "alert" }, t("waiting.given.up"))); } }, t("dialog.cancel"))));
  try {
    const found = await work(control.signal);
    if (!control.signal.aborted) place.replaceChildren(shown(found));
  } catch (error) {
    if (!control.signal.aborted) place.replaceChildren(failure(error, () => waiting(place, text, work, shown)));
  }
}
