// Asking for a play of a plan.
import { el } from "../element.js";
import { t } from "../words.js";
import { Form } from "./fields.js";
import { follow, playPlan } from "./run.js";

const keys = ["simulation_weeks", "simulation_warm_up_weeks", "simulation_replications", "simulation_use", "simulation_from"];

/** player is the form; a play that has ended is shown. */
export function player(plan, settings) {
  const form = new Form(settings.filter((s) => keys.includes(s.key)).map((s) => ({ ...s, value: String(plan.settings[s.key] ?? "") })), {}, keys);
  const place = el("div");
  const send = el("button", { type: "submit", class: "main" }, t("plays.play.it"));
  return el("details", { class: "again", id: "play" }, el("summary", {}, t("plays.again")),
    el("form", { novalidate: true, onsubmit: async (e) => {
      e.preventDefault();
      send.disabled = true;
      try {
        form.refuse([]);
        const run = await playPlan(plan.id, form.changes());
        follow(run, place, (ended) => {
          send.disabled = false;
          if (ended.state === "done") location.assign(`/plans/${plan.id}/simulation?play=${ended.simulation}`);
        });
      } catch (error) {
        send.disabled = false;
        place.replaceChildren(el("p", { class: "note bad", role: "alert" }, error.errors?.length ? [t("plans.refused"), ...form.refuse(error.errors)].join(" ") : error.message));
      }
    } }, el("p", { class: "quiet" }, t("plays.again.about", { seed: String(plan.seed) })), form.element, el("p", { class: "tools" }, send), place));
}
