// Making a plan: ask for a run, show how it goes, open the plan.
import { ask, el, num, seg } from "./base.js";

const stages = {
  "": "waiting for a worker", demand: "adding up what is used", sizing: "sizing the loops", placement: "giving loops their lanes",
  vehicles: "choosing vehicles for the routes", routes: "planning the routes", saving: "storing the plan", done: "finishing",
};

/** planAgain is the button that makes a plan; place shows its progress. */
export function planAgain(plant, text, place) {
  const button = el("button", { class: "main", onclick: start }, text);
  return button;

  async function start() {
    button.disabled = true;
    try {
      const run = await ask(`/plants/${seg(plant)}/plans`, {
        method: "POST", body: "{}", headers: { "Content-Type": "application/json", "Idempotency-Key": key() },
      });
      follow(run);
    } catch (error) {
      end("bad", error.message);
    }
  }

  function follow(run) {
    const bar = el("progress", { max: 1, "aria-label": "Progress" });
    const say = el("span", { role: "status" });
    const cancel = el("button", { onclick: () => { cancel.disabled = true; ask(`/runs/${run.id}`, { method: "DELETE" }).catch((e) => { say.textContent = e.message; }); } }, "Cancel");
    place.replaceChildren(el("div", { class: "run" }, bar, say, cancel));
    const events = new EventSource(`/api/v1/runs/${run.id}/events`);
    events.addEventListener("run", (e) => draw(JSON.parse(e.data)));
    draw(run);

    function draw(now) {
      if (now.total > 0) bar.value = now.done / now.total;
      else bar.removeAttribute("value");
      say.textContent = `Planning: ${stages[now.stage] ?? now.stage}${now.total > 1 ? `, ${num(now.done)} of ${num(now.total)}` : ""}`;
      if (["done", "failed", "cancelled"].includes(now.state)) events.close();
      if (now.state === "done") location.assign("/?" + new URLSearchParams({ plant }));
      if (now.state === "failed") end("bad", "The plan could not be made: " + now.error);
      if (now.state === "cancelled") end("", "Cancelled. The plan shown is the one from before.");
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
