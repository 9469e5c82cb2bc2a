// Why a loop has its containers and lanes.
import { all, ask, seg } from "../ask.js";
import { el } from "../element.js";
import { amount, num } from "../numbers.js";
import { t } from "../words.js";
import { stepList, told } from "./steps.js";

/** tell explains a loop: each step of its calculation, then the same in words. */
export async function tell({ plan, part, cell, station }) {
  const query = new URLSearchParams({ part, cell, station });
  const [[loop], lanes, explanation] = await Promise.all([all(`/plans/${plan}/loops?${query}`), all(`/plans/${plan}/lanes?part=${seg(part)}`), ask(`/plans/${plan}/explanation?${query}`)]);
  return el("div", {}, stepList(calculation(loop, lanes.filter((x) => x.cell === cell && x.station === station)).map((s) => [s.what, s.how, s.result])),
    el("h3", {}, t("why.words")), el("p", { class: "quiet" }, t("why.words.about")), told(explanation.sections));
}

/** calculation goes from the use of a loop to its lanes. value is what the figures
 *  shown come to, told the plan's own number; a test holds them together. */
export function calculation(l, lanes) {
  const away = l.wait_min + l.response_min;
  const steady = l.demand_model === "steady";
  const steps = [
    step(t("why.use"), null, t("why.use.result", { n: num(l.pieces_per_hour, 2) })),
    step(t("why.away"), `${num(l.wait_min, 1)} + ${num(l.response_min, 1)}`, amount(away, "min", 1)),
    step(t("why.mean"), `${num(l.pieces_per_hour, 2)} / 60 × ${num(away, 1)}`, pieces(l.mean_pieces), l.pieces_per_hour / 60 * away, l.mean_pieces),
    steady
      ? step(t("why.cover.steady"), `${num(l.mean_pieces, 2)} × (1 + ${num(l.safety, 2)} %)`, pieces(l.covered_pieces), l.mean_pieces * (1 + l.safety / 100), l.covered_pieces)
      : step(t("why.cover." + l.service_measure, { level: amount(l.service_level, "%", 3) }), t("why.model." + l.demand_model), pieces(l.covered_pieces)),
    step(t("why.cards"), `⌈${num(l.covered_pieces, 2)} / ${num(l.pack)}⌉`, num(l.cards), up(l.covered_pieces / l.pack), l.cards),
    step(t(l.rule_containers > l.cards + 1 ? "why.containers.least" : "why.containers"), `${num(l.cards)} + 1`, num(l.rule_containers), Math.max(l.cards + 1, l.rule_containers), l.rule_containers),
  ];
  if (l.containers !== l.rule_containers) steps.push(step(t("why.fixed"), null, num(l.containers)));
  const laid = lanes.reduce((n, x) => n + x.containers, 0);
  if (lanes.length) steps.push(step(t("why.lanes", { side: t("why.side." + l.flow_side) }), lanes.map((x) => num(x.capacity)).join(" + "), num(l.lanes), lanes.length, l.lanes));
  else steps.push(step(t("why.lanes.none"), null, t("word.none")));
  if (lanes.length && laid < l.containers) steps.push(step(t("cells.unplaced"), `${num(l.containers)} − ${num(laid)}`, num(l.containers - laid)));
  return steps;
}

const step = (what, how, result, value = null, own = null) => ({ what, how, result, value, told: own });
const pieces = (n) => t("why.pieces", { n: num(n, 2) });

/** up rounds up; what is a whole number but for the last digits of a float stays. */
const up = (n) => Math.ceil(n - 1e-9);
