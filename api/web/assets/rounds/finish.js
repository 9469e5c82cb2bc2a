// The end of a round: what came of it, and the round after it.
import { seg } from "../ask.js";
import { el, figures } from "../element.js";
import { amount, clock, num } from "../numbers.js";
import { t } from "../words.js";
import { ticking, until } from "./countdown.js";
import { sum } from "./progress.js";

/** finish is the last step of a round. */
export function finish(sheet, { book, enter, go }) {
  const done = sheet.state === "done";
  const lanes = sheet.visits.flatMap((v) => v.lanes);
  const open = sheet.visits.map((v, i) => [v, i + 1]).filter(([v]) => !v.ticked);
  const missing = sheet.visits.flatMap((v, i) => [...v.lanes, ...(v.lanes.length ? [] : [{ ...v, address: v.rack, short: null }])].filter((l) => l.short !== null || l.skipped).map((l) => [l, i + 1]));
  return {
    content: [
      el("h1", { tabindex: -1 }, done ? t("round.ended") : open.length ? t("round.open", { n: open.length }) : t("round.all.done")),
      open.length > 0 && el("ul", { class: "takes" }, open.map(([v, n]) => el("li", {}, el("button", { type: "button", class: "choice", onclick: () => go(n) }, el("strong", {}, `${n} · ${v.rack}`))))),
      figures([
        [t("rounds.brought"), num(sum(lanes.map((l) => l.brought ?? 0))), t("round.of.expected", { n: sum(lanes.map((l) => l.expected)) })],
        [t("stops.empties"), num(sum(sheet.visits.map((v) => v.took_back ?? 0))), t("round.to.market", { market: sheet.market })],
        [t("rounds.short"), num(sheet.short), t("word.containers")],
        [t("rounds.skipped"), num(sheet.skipped), t("word.lanes")],
        ...(done ? [[t("round.took.time"), amount((Date.parse(sheet.ended) - Date.parse(sheet.started)) / 60_000, "min", 1), t("round.back.at", { time: clock(sheet.zone, new Date(sheet.ended)) })]] : []),
      ]),
      missing.length > 0 && el("ul", { class: "list frame" }, missing.map(([l, n]) => el("li", {}, el("div", {}, el("strong", {}, l.address), " ", l.part ?? "",
        el("p", {}, l.skipped ? `${t("round.not", { reason: t("rounds.reason." + l.skipped.reason) })} ${l.skipped.text}` : t("round.lacks", { n: l.short }))),
        el("button", { type: "button", onclick: () => go(n) }, t("round.stop", { n }))))),
    ],
    actions: done ? after() : el("button", { type: "button", id: "end", class: "main", onclick: () => enter([{ kind: "ended" }], t("round.ended")) }, t("round.end")),
  };

  /** after leads to the next round. */
  function after() {
    const next = book.next;
    if (!next) return el("a", { id: "next", class: "button main", href: "/rounds" }, t("round.back"));
    const time = el("span", { role: "timer" });
    return el("a", { id: "next", class: "button main", href: `/rounds/${seg(next.round)}` },
      el("strong", {}, t("round.next", { time: clock(sheet.zone, new Date(next.leaves)) })), ticking(time, () => { time.textContent = until(next, Date.now())[1]; }));
  }
}
