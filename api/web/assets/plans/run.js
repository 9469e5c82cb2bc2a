// Making a plan, or playing one: ask for a run, show how it goes, open what it made.
import { ask, seg, send } from "../ask.js";
import { el } from "../element.js";
import { num } from "../numbers.js";
import { t } from "../words.js";

/** planAgain is the button that makes a plan; place shows its progress. */
export function planAgain(plant, text, place) {
  const button = el("button", { type: "button", class: "main", onclick: start }, text);
  return button;

  async function start() {
    button.disabled = true;
    try {
      const run = await makePlan(plant, {});
      follow(run, place, (ended) => {
        if (ended.state === "done") location.assign("/?" + new URLSearchParams({ plant }));
        else button.disabled = false;
      });
    } catch (error) {
      button.disabled = false;
      place.replaceChildren(el("p", { class: "note bad", role: "alert" }, error.message));
    }
  }
}

/** makePlan asks for a plan: revision and settings, where they are not the plant's own. */
export const makePlan = (plant, body) => send("POST", `/plants/${seg(plant)}/plans`, body, { "Idempotency-Key": key() });

/** playPlan asks for a play of a plan. */
export const playPlan = (plan, settings) => send("POST", `/plans/${plan}/simulations`, { settings }, { "Idempotency-Key": key() });

/** hasEnded reports whether a run will not change any more. */
export const hasEnded = (run) => ["done", "failed", "cancelled"].includes(run.state);

/** follow shows in place how a run goes, with a button that cancels it; ended is
 *  told of its end, and what went wrong stays in place. */
export function follow(run, place, ended) {
  const bar = el("progress", { max: 1, "aria-label": t("run.progress") });
  const told = el("span", { role: "status" });
  const time = el("span", { class: "quiet elapsed" });
  const cancel = el("button", { type: "button", onclick: stop }, t("dialog.cancel"));
  place.replaceChildren(el("div", { class: "run" }, bar, told, time, cancel));
  let latest = run;
  const ticking = setInterval(tick, 1000);
  const events = new EventSource(`/api/v1/runs/${run.id}/events`);
  events.addEventListener("run", (e) => draw(JSON.parse(e.data)));
  draw(run);

  function draw(now) {
    latest = now;
    if (now.total > 0) bar.value = now.done / now.total;
    else bar.removeAttribute("value");
    const stage = t(now.stage ? "run.stage." + now.stage : "run.stage.waiting");
    const kind = now.kind === "simulation" ? ".play" : "";
    told.textContent = now.total > 1 ? t("run.step" + kind, { stage, done: now.done, all: now.total }) : t("run.stage" + kind, { stage });
    tick();
    if (!hasEnded(now)) return;
    events.close();
    clearInterval(ticking);
    if (now.state === "failed") place.replaceChildren(el("p", { class: "note bad", role: "alert" }, failedText(now)));
    else if (now.state === "cancelled") place.replaceChildren(el("p", { class: "note", role: "alert" }, t("run.cancelled" + kind)));
    ended(now);
  }

  function tick() {
    const share = latest.total > 1 ? t("run.share", { share: num(100 * latest.done / latest.total) }) : "";
    time.textContent = [share, latest.started && t("run.elapsed", { time: elapsed(latest) })].filter(Boolean).join(" · ");
  }

  async function stop() {
    cancel.disabled = true;
    try {
      await ask(`/runs/${run.id}`, { method: "DELETE" });
    } catch (error) {
      cancel.disabled = false;
      told.textContent = error.message;
    }
  }
}

/** failedText says why a run made nothing. */
export const failedText = (run) => t(run.kind === "simulation" ? "run.failed.play" : "run.failed", { error: run.error });

/** elapsed writes how long a run has been at work: "1:05". */
export function elapsed(run) {
  const s = Math.max(0, Math.round((new Date(run.finished ?? Date.now()) - new Date(run.started)) / 1000));
  return `${Math.floor(s / 60)}:${String(s % 60).padStart(2, "0")}`;
}

/** key names one click, so that sending it twice makes one plan. */
function key() {
  return [...crypto.getRandomValues(new Uint8Array(16))].map((b) => b.toString(16).padStart(2, "0")).join("");
}
