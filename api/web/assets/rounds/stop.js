// One stop: the rack, its lanes with how many of what, the empties.
import { el } from "../element.js";
import { clock, num } from "../numbers.js";
import { t } from "../words.js";
import { number, pick, reason, shortage } from "./enter.js";
import { nextOpen, ticked } from "./progress.js";

/** stop is the step of one rack. */
export function stop(sheet, { at, book, enter, go }) {
  const visit = sheet.visits[at - 1];
  const acts = { other, short, skip };
  const open = visit.lanes.filter((l) => !ticked(l));
  return {
    content: [
      el("div", { class: "title" }, el("h1", { tabindex: -1, class: "rack" }, el("small", {}, t("word.rack")), " ", code(visit.rack)),
        el("p", { class: "sub" }, t("round.planned", { time: clock(sheet.zone, new Date(visit.arrives)), point: visit.aisle_point }))),
      el("p", { class: "heads", "aria-hidden": "true" }, el("span", {}, t("round.level.lane")), el("span", {}, t("word.containers"))),
      el("ul", { class: "lanes" }, visit.lanes.filter((l) => !seldom(l)).map(line)),
      el("button", { type: "button", id: "empties", class: "empties", onclick: empties }, el("span", {}, t("stops.empties"), visit.took_back !== null && el("small", {}, t("round.came.back"))),
        el("b", { class: "count" }, num(visit.took_back ?? visit.expected_empties))),
      visit.lanes.some(seldom) && [el("h2", { class: "seldom" }, t("round.sometimes")), el("ul", { class: "seldom" }, visit.lanes.filter(seldom).map(small))],
    ],
    actions: visit.ticked && visit.took_back !== null
      ? [el("button", { type: "button", id: "planned", class: "main", onclick: () => go(nextOpen(sheet, at)) }, t("round.go.on")), row()]
      : [el("button", { type: "button", id: "planned", class: "main", onclick: planned }, open.length < visit.lanes.length ? t("round.rest.planned") : t("round.as.planned")), row()],
  };

  function row() {
    return Object.entries(acts).map(([name, act]) => el("button", { type: "button", id: name, onclick: () => act() }, t("round.act." + name)));
  }

  function line(l) {
    return el("li", {}, el("button", { type: "button", class: !ticked(l) ? "lane" : l.skipped || l.short ? "lane told gap" : "lane told", id: `lane-${l.level}-${l.lane}`, onclick: () => differs(l) },
      el("span", { class: "unseen" }, t("round.level.lane"), " "), code(`${l.level}-${l.lane}`), " ",
      el("b", { class: "count" }, num(l.skipped ? 0 : l.brought ?? l.expected)), el("span", { class: "unseen" }, " ", t("word.containers"), " "),
      el("span", { class: "what" }, el("strong", {}, l.part), " ", l.description, el("small", {}, ticked(l) ? told(l) : t("round.each", { n: l.pack })))));
  }

  /** small is a lane into which nothing is expected. */
  function small(l) {
    return el("li", {}, el("button", { type: "button", class: ticked(l) ? "told" : "", id: `lane-${l.level}-${l.lane}`, onclick: () => differs(l) },
      el("strong", {}, `${l.level}-${l.lane}`), el("span", {}, l.part), ticked(l) && el("span", {}, "✓ 0")));
  }

  /** planned enters what is open as the sheet has it. */
  async function planned() {
    const list = open.map((l) => ({ kind: "brought", ...place(l), containers: l.expected }));
    if (visit.took_back === null) list.push({ kind: "empties", stop: at, containers: visit.expected_empties });
    await leave(list, t("round.did", { n: at }));
  }

  /** leave enters something and goes on once the stop is dealt with. */
  async function leave(list, what) {
    await enter(list, what);
    const now = book.sheet();
    if (now.visits[at - 1].ticked && (now.visits[at - 1].took_back !== null || now.visits[at - 1].skipped)) go(nextOpen(now, at));
  }

  function place(l) {
    return { stop: at, level: l.level, lane: l.lane };
  }

  /** anew takes back all that was said of a lane, and says something else. */
  function anew(l, ...list) {
    return [...book.takenBack((e) => e.stop === at && e.level === l.level && e.lane === l.lane), ...list];
  }

  async function differs(l) {
    const act = await pick(l.address, Object.keys(acts).map((name) => [name, t("round.act." + name)]));
    if (act) acts[act](l);
  }

  /** which asks for the lane, where there is more than one. */
  function which(title, first = []) {
    const list = [...first, ...visit.lanes.map((l) => [l, el("strong", {}, `${l.level}-${l.lane}`), el("span", {}, l.part)])];
    return list.length === 1 ? list[0][0] : pick(title, list);
  }

  async function other(given) {
    const l = given ?? await which(t("round.act.other"));
    const n = l && await number(t("round.bring.number", { address: l.address }), l.brought ?? l.expected);
    if (l && n !== null) leave(anew(l, { kind: "brought", ...place(l), containers: n }), t("round.brought.at", { n, address: l.address }));
  }

  async function short(given) {
    const l = given ?? await which(t("round.act.short"));
    const s = l && await shortage(t("round.short.at", { address: l.address }), l.expected);
    if (s) leave(anew(l, { kind: "brought", ...place(l), containers: s.brought }, { kind: "short", ...place(l), containers: s.short }), t("round.was.short", { n: s.short, address: l.address }));
  }

  async function skip(given) {
    const whole = { address: visit.rack };
    const l = given ?? await which(t("round.act.skip"), [[whole, el("strong", {}, t("round.skip.stop"))]]);
    const why = l && await reason(t("round.skip.why", { address: l.address }), sheet.reasons);
    if (!why) return;
    const entry = { kind: "skipped", ...why };
    if (l === whole) leave([{ ...entry, stop: at }], t("round.skipped", { address: visit.rack }));
    else leave(anew(l, { ...entry, ...place(l) }), t("round.skipped", { address: l.address }));
  }

  async function empties() {
    const n = await number(t("stops.empties"), visit.took_back ?? visit.expected_empties);
    if (n !== null) leave([{ kind: "empties", stop: at, containers: n }], t("round.empties.back", { n }));
  }
}

/** seldom reports whether nothing was expected into a lane, and nothing came. */
const seldom = (l) => l.expected === 0 && !l.brought && l.short === null && l.skipped === null;

/** told is what was said of a lane, in words. */
function told(l) {
  if (l.skipped) return `${t("round.not", { reason: t("rounds.reason." + l.skipped.reason) })} ${l.skipped.text}`;
  return l.short ? t("round.lacks", { n: l.short }) : t("rounds.brought");
}

/** code is a code written as large as its length allows. */
function code(text) {
  const e = el("b", { class: "code" }, text);
  e.style.setProperty("--letters", text.length);
  return e;
}
