// Making a plan: ask for a run, show how it goes, open the plan.
import { ask, seg, send } from "../ask.js";
import { el } from "../element.js";
import { t } from "../words.js";

/** planAgain is the button that makes a plan; place shows its progress. */
export function planAgain(plant, text, place) {
  const button = el("button", { type: "button", class: "main", onclick: start }, text);
  return button;

  async function start() {
    button.disabled = true;
    try {
      follow(await send("POST", `/plants/${seg(plant)}/plans`, {}, { "Idempotency-Key": key() }));
    } catch (error) {
      end("bad", error.message);
    }
  }

  function follow(run) {
    const bar = el("progress", { max: 1, "aria-label": t("run.progress") });
    const say = el("span", { role: "status" });
    const cancel = el("button", { type: "button", onclick: () => { cancel.disabled = true; ask(`/runs/${run.id}`, { method: "DELETE" }).catch((e) => { say.textContent = e.message; }); } }, t("dialog.cancel"));
    place.replaceChildren(el("div", { class: "run" }, bar, say, cancel));
    const events = new EventSource(`/api/v1/runs/${run.id}/events`);
    events.addEventListener("run", (e) => draw(JSON.parse(e.data)));
    draw(run);

    function draw(now) {
      if (now.total > 0) bar.value = now.done / now.total;
      else bar.removeAttribute("value");
      const stage = t(now.stage ? "run.stage." + now.stage : "run.stage.waiting");
      say.textContent = now.total > 1 ? t("run.step", { stage, done: now.done, all: now.total }) : t("run.stage", { stage });
      if (["done", "failed", "cancelled"].includes(now.state)) events.close();
      if (now.state === "done") location.assign("/?" + new URLSearchParams({ plant }));
      if (now.state === "failed") end("bad", t("run.failed", { error: now.error }));
      if (now.state === "cancelled") end("", t("run.cancelled"));
    }
  }

  function end(kind, message) {
    button.disabled = false;
    place.replaceChildren(el("p", { class: `note ${kind}`, role: "alert" }, message));
  }
}

/** key names one click, so that sending it twice makes one plan. */
function key() {
  return [...crypto.getRandomValues(new Uint8Array(16))].map((b) => b.toString(16).padStart(2, "0")).join("");
}
