// "Why?" beside a number: a small button that opens how it came about.
import { dialog } from "./dialog.js";
import { el } from "./element.js";
import { part } from "./states.js";
import { t } from "./words.js";

/** why adds the button to an element and returns it. kind says what is explained
 *  and id which one, with the plan it stands in:
 *    loop  { plan, part, cell, station }   its use, containers and lanes, step by step
 *    cell  { plan, cell }                  its lanes, what is short, how good it can be
 *    route { plan, route }                 where its time goes
 *    rack  { plan, rack }                  why it is on its route, or on none */
export function why(element, kind, id) {
  const button = whyButton(kind, id);
  element.append(" ", button);
  return button;
}

/** whyButton is the button alone, for a cell of a table. */
export function whyButton(kind, id) {
  const name = t("why." + kind, id);
  return el("button", { type: "button", class: "why", "aria-haspopup": "dialog", "aria-label": t("why.of", { what: name }),
    onclick: () => dialog(name, el("div", { class: "why-panel" }, part(async () => (await import(`./why/${kind}.js`)).tell(id)))) }, t("why"));
}
