// Times of a round against the clock.
import { num } from "../numbers.js";
import { t } from "../words.js";

const two = (n) => String(n).padStart(2, "0");

/** left writes a span of time: minutes and seconds, or hours and minutes. */
export function left(ms) {
  const seconds = Math.floor(Math.abs(ms) / 1000);
  const minutes = Math.floor(seconds / 60);
  if (minutes < 60) return `${num(minutes)}:${two(seconds % 60)}`;
  return t("rounds.hours", { h: num(Math.floor(minutes / 60)), min: two(minutes % 60) });
}

/** until says how long it is until a round loads or leaves, or how late it is, as a kind of
 *  word and a text. */
export function until(round, now) {
  const [loads, leaves] = [Date.parse(round.loads), Date.parse(round.leaves)];
  if (now < loads) return ["", t("rounds.loads.in", { time: left(loads - now) })];
  if (now < leaves) return ["good", t("rounds.leaves.in", { time: left(leaves - now) })];
  if (now - leaves < 60_000) return ["good", t("rounds.leaves.now")];
  return ["warn", t("rounds.leaves.late", { time: left(now - leaves) })];
}

/** ticking calls draw now and each second, and when a phone wakes up, for as long as its
 *  element stands on the page. */
export function ticking(element, draw) {
  draw();
  const timer = setInterval(again, 1000);
  document.addEventListener("visibilitychange", again);
  return element;

  function again() {
    if (element.isConnected) draw();
    else {
      clearInterval(timer);
      document.removeEventListener("visibilitychange", again);
    }
  }
}
