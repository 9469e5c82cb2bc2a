// What would make room in a cell that is short: each was tried by the planner itself, and
// what can be made by hand is one press away.
import { el, word } from "../element.js";
import { amount, num } from "../numbers.js";
import { part } from "../states.js";
import { t } from "../words.js";
import { gain } from "./front.js";

/** reliefs is the list, which takes the server some seconds, fetched when it is opened;
 *  on.edit makes one in the draft. */
export function reliefs(desk, on) {
  const place = el("div", {});
  const look = () => { if (!place.firstChild) place.append(part(async () => list(desk, await desk.reliefs(), on))); };
  return el("details", { id: "reliefs", ontoggle: look }, el("summary", {}, t("relief.title")), el("p", { class: "quiet" }, t("relief.about")), place);
}

function list(desk, found, on) {
  if (found.reliefs.length === 0) return el("p", { class: "quiet" }, t("relief.none"));
  return el("ol", { class: "relief-list" }, found.reliefs.map((r) => el("li", {},
    el("p", {}, el("strong", { lang: "en" }, r.text)),
    el("p", { class: "facts" }, [
      r.unplaced_before !== r.unplaced ? word(r.unplaced === 0 ? "good" : "warn", t("relief.left", { n: r.unplaced })) : null,
      t("relief.lanes", { n: r.lanes_freed }), gain(r.effort),
      r.price === null ? t("relief.price.unknown") : r.price ? t("relief.price", { price: num(r.price) }) : t("relief.price.none"),
      r.visits_per_hour ? t("relief.visits", { n: amount(r.visits_per_hour, "/h", 1) }) : null,
    ].filter(Boolean).flatMap((x, i) => i ? [" · ", x] : [x])),
    r.note && el("p", { class: "quiet", lang: "en" }, r.note),
    !desk.closed && (r.edits.length > 0
      ? el("button", { type: "button", class: "try", onclick: () => on.edit(r.edits, t("relief.done")) }, t("relief.try", { n: r.edits.length }))
      : el("p", { class: "quiet" }, t("relief.facts"))))));
}
