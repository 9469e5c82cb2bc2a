// One click makes a plan of a choice.
import { el } from "../element.js";
import { t } from "../words.js";
import { makePlan } from "./run.js";

/** planIt asks for a plan with a choice and leads to where it is made. */
export function planIt(plan, settings, label, good) {
  const told = el("small", { role: "alert" });
  const button = el("button", { type: "button", class: good ? "small main" : "small", "aria-label": label, onclick: async () => {
    button.disabled = true;
    try {
      await makePlan(plan.plant, { revision: plan.revision_number, settings });
      location.assign("/plans?" + new URLSearchParams({ plant: plan.plant }));
    } catch (error) {
      button.disabled = false;
      told.textContent = error.message;
    }
  } }, t("choices.plan"));
  return [button, told];
}
