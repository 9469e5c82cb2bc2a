// The market: what to take, in picking order.
import { el } from "../element.js";
import { num } from "../numbers.js";
import { t } from "../words.js";
import { number } from "./enter.js";
import { nextOpen, sum } from "./progress.js";

/** market is the first step of a round. */
export function market(sheet, { book, enter, go }) {
  const under = book.under();
  const open = sheet.takes.filter((x) => x.took === null && x.expected > 0);
  return {
    content: [
      el("h1", { tabindex: -1 }, t("round.market.title")),
      el("p", { class: "sub" }, t("round.market.about", { n: sum(sheet.takes.map((x) => x.expected)), market: sheet.market })),
      el("ul", { class: "takes" }, sheet.takes.filter((x) => !seldom(x)).map(line)),
      sheet.takes.some(seldom) && [el("h2", { class: "seldom" }, t("round.sometimes")), el("ul", { class: "seldom" }, sheet.takes.filter(seldom).map((x) =>
        el("li", {}, el("button", { type: "button", id: `take-${id(x)}`, onclick: () => other(x) }, el("strong", {}, x.address), el("span", {}, x.part)))))],
    ],
    actions: open.length > 0 && !under ? [all("main"), leave("")] : [leave("main"), open.length > 0 && all("")],
  };

  function all(kind) {
    return el("button", { type: "button", id: "all", class: kind, onclick: () => enter(open.map((x) => took(x, x.expected)), t("round.taken", { n: sum(open.map((x) => x.expected)) })) }, t("round.take.all"));
  }

  function leave(kind) {
    return under
      ? el("button", { type: "button", id: "start", class: kind, onclick: () => go(nextOpen(sheet, 0)) }, t("round.go.on"))
      : el("button", { type: "button", id: "start", class: kind, onclick: start }, t("round.start"));
  }

  function id(x) {
    return sheet.takes.indexOf(x);
  }

  /** line is one part; a tap takes it, or puts it back. */
  function line(x) {
    const i = id(x);
    const taken = x.took !== null;
    return el("li", {},
      el("button", { type: "button", class: "take", id: `take-${i}`, "aria-pressed": String(taken), onclick: () => toggle(x) },
        el("b", { class: "count" }, num(taken ? x.took : x.expected)),
        el("span", { class: "what" }, el("b", { class: "spot" }, x.address || x.part), el("strong", {}, x.address ? x.part : t("round.no-address")), x.description && el("span", {}, x.description),
          el("small", {}, state(x)))),
      el("button", { type: "button", class: "other", id: `other-${i}`, "aria-label": t("round.other.of", { part: x.part }), onclick: () => other(x) }, t("round.other.short")));
  }

  function state(x) {
    if (x.took === null) return t("round.each", { n: x.pack });
    return x.took === x.expected ? t("round.took") : t("round.took.of", { n: x.took, expected: x.expected });
  }

  function undone(x) {
    return book.takenBack((e) => e.kind === "took" && e.part === x.part);
  }

  function toggle(x) {
    if (x.took !== null) enter(undone(x), t("round.back.in", { part: x.part }));
    else enter([took(x, x.expected)], t("round.took.part", { n: x.expected, part: x.part }));
  }

  async function other(x) {
    const n = await number(t("round.take.number", { part: x.part }), x.took ?? x.expected);
    if (n !== null) enter([...undone(x), took(x, n)], t("round.took.part", { n, part: x.part }));
  }

  async function start() {
    await enter([{ kind: "started" }], t("round.started"));
    go(nextOpen(book.sheet(), 0));
  }
}

/** seldom reports whether a part is not expected on this round, and was not taken. */
const seldom = (x) => x.expected === 0 && !x.took;

const took = (x, containers) => ({ kind: "took", part: x.part, containers });
