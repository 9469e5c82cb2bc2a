// One round on a handler's phone: the market, stop by stop, the end.
import { codeOf } from "../ask.js";
import { crumb, el, titled } from "../element.js";
import { clock } from "../numbers.js";
import { begin } from "../shell.js";
import { show } from "../states.js";
import { t } from "../words.js";
import { ticking, until } from "./countdown.js";
import { holding, secured } from "./device.js";
import { pick } from "./enter.js";
import { finish } from "./finish.js";
import { Logbook } from "./logbook.js";
import { market } from "./market.js";
import { outbox, said } from "./outbox.js";
import { gaps, nextOpen } from "./progress.js";
import { stop } from "./stop.js";

const every = 20_000; // ms between two looks at what others ticked
const past = 30 * 60_000; // ms after its planned return from which a round is past

begin(async () => {
  const name = codeOf();
  let at = null, drawn = "";
  const held = holding(() => redraw());
  const told = el("p", { id: "told", role: "status" });
  const safe = secured(() => at !== null && fetchAgain());
  const box = await outbox({ changed, answered: (of) => of === name && refresh() });
  const book = new Logbook(name, box.queue);
  await book.read();
  go(book.under() ? nextOpen(book.sheet(), 0) : 0);
  setInterval(seen, every);
  document.addEventListener("visibilitychange", seen);
  await fetchAgain();

  async function fetchAgain() {
    await book.fetchNext().catch(console.debug);
    await refresh();
  }

  function seen() {
    if (document.visibilityState === "visible") refresh();
  }

  async function refresh() {
    await book.refresh();
    redraw();
  }

  async function changed() {
    if (at === null) return;
    await book.recall();
    redraw();
  }

  /** redraw draws again where something has changed; not under a finger, which would press
   *  a button that is gone. */
  function redraw() {
    if (at !== null && !held() && book.mark() !== drawn) draw();
  }

  /** go shows a step: 0 is the market, then come the stops, then the end. */
  function go(step) {
    at = step;
    draw();
    scrollTo(0, 0);
    document.querySelector("h1").focus({ preventScroll: true });
  }

  function draw() {
    drawn = book.mark();
    const sheet = book.sheet();
    const focused = document.activeElement?.id;
    titled(t("route.name", { route: sheet.route }), clock(sheet.zone, new Date(sheet.leaves)));
    const make = at === 0 ? market : at <= sheet.visits.length ? stop : finish;
    const { content, actions } = make(sheet, { at, book, enter, go });
    show(el("div", { class: "round" }, head(sheet), box.bar, notes(sheet), content,
      el("div", { class: "act" }, told, box.queue && [actions, undo()])));
    if (focused) document.getElementById(focused)?.focus({ preventScroll: true });
  }

  function head(s) {
    const where = at === 0 ? t("round.market") : at <= s.visits.length ? t("round.stop.of", { n: at, all: s.visits.length }) : t("round.finish");
    return [
      crumb("/rounds", t("rounds.title"), `${t("route.name", { route: s.route })} · ${clock(s.zone, new Date(s.leaves))}`),
      el("button", { type: "button", id: "steps", class: "steps", "aria-haspopup": "dialog", onclick: () => steps(s) },
        el("strong", {}, where), el("span", {}, t("round.ticked", { n: s.stops_ticked, all: s.visits.length })),
        el("progress", { max: s.visits.length || 1, value: s.stops_ticked, "aria-hidden": "true" })),
    ];
  }

  /** steps asks where to go. */
  async function steps(s) {
    const step = await pick(t("round.steps"), [
      [0, t("round.market")],
      ...s.visits.map((v, i) => [i + 1, el("strong", {}, `${i + 1} · ${v.rack}`), v.ticked && el("span", {}, gaps(v) ? t("round.with.gaps") : t("round.whole"))]),
      [s.visits.length + 1, t("round.finish")],
    ]);
    if (step !== null) go(step);
  }

  /** notes are what a handler must know beside the work. */
  function notes(s) {
    const time = (moment) => clock(s.zone, new Date(moment));
    const others = book.others();
    const late = s.state !== "done" && Date.now() > Date.parse(s.back) + past;
    return [
      !safe && el("p", { class: "strip warn", id: "insecure" }, t("round.insecure")),
      book.away && el("p", { class: "strip warn", id: "stale" }, el("span", {}, t("rounds.stale", { time: time(book.asOf) })),
        el("button", { type: "button", id: "refresh", onclick: refresh }, t("states.again"))),
      late && el("p", { class: "strip warn", id: "past" },
        el("span", {}, t("round.past", { time: time(s.back), now: time(Date.now()) })), el("a", { class: "button", href: "/rounds" }, t("round.to.next"))),
      others.length > 0 && el("p", { class: "strip", id: "others" }, t("round.others", {
        who: [...new Set(others.map((e) => e.who || t("round.somebody")))].join(", "), what: said(others.at(-1)), time: time(others.at(-1).at),
      })),
      s.state === "to_come" && !late && countdown(s),
    ];
  }

  /** enter enters what was done; what says so in a few words. */
  async function enter(entries, what) {
    told.textContent = what;
    await book.enter(entries);
    redraw();
  }

  function undo() {
    const list = book.last();
    return el("button", { type: "button", id: "undo", disabled: list.length === 0, onclick: async () => {
      const back = list.find((e) => e.stop)?.stop;
      await enter(list.map((e) => ({ kind: "undone", undoes: e.id })), t("round.undone", { what: list.map(said).join(", ") }));
      go(back ?? (list.some((e) => e.kind === "ended") ? book.sheet().visits.length + 1 : 0));
    } }, t("round.undo"));
  }
});

function countdown(s) {
  const place = el("p", { class: "strip", role: "timer", id: "countdown" });
  return ticking(place, () => {
    const [kind, text] = until(s, Date.now());
    place.className = `strip ${kind}`;
    place.textContent = text;
  });
}
