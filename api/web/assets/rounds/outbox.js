// What this phone has to tell the server: a bar that says what waits, and what the server
// did not keep, to be settled by a person.
import { seg } from "../ask.js";
import { dialog } from "../dialog.js";
import { el } from "../element.js";
import { openQueue } from "../queue.js";
import { t } from "../words.js";

const patience = 1500; // ms for which sending is not worth a word

/** outbox opens the queue of this phone; its bar belongs onto the page. changed is called
 *  after each change, answered(round) when the server has taken something. Where the
 *  browser lets the page keep nothing there is no queue, and the bar says so. */
export async function outbox({ changed = () => {}, answered = () => {} } = {}) {
  const [waits, trouble, lost] = [el("strong"), el("small", { lang: "en" }), el("strong")];
  const box = { queue: null };
  const strips = [
    el("p", { class: "strip warn" }, el("span", {}, waits, trouble), el("button", { type: "button", id: "send", onclick: () => box.queue.send() }, t("rounds.send"))),
    el("p", { class: "strip bad" }, lost, el("button", { type: "button", id: "settle", onclick: () => settle(box.queue) }, t("rounds.settle"))),
  ];
  for (const strip of strips) strip.hidden = true;
  const bar = box.bar = el("div", { class: "outbox", role: "status" }, strips);
  let state = {}, since = 0, timer = 0;
  try {
    box.queue = await openQueue({ onChange: (now) => { state = now; draw(); changed(); }, onAnswer: answered });
  } catch (error) {
    console.debug(error);
    bar.replaceChildren(el("p", { class: "note bad" }, t("rounds.unkept")));
  }
  return box;

  /** draw changes the words only: a button must not go from under a finger. */
  function draw() {
    const { pending, refused } = state;
    since = pending ? since || performance.now() : 0;
    clearTimeout(timer);
    strips[0].hidden = !pending || !state.trouble && performance.now() - since < patience;
    strips[1].hidden = !refused;
    if (pending && strips[0].hidden) timer = setTimeout(draw, patience);
    waits.textContent = t("rounds.waiting", { n: pending });
    trouble.textContent = state.away ? "" : state.trouble;
    lost.textContent = t("rounds.refused", { n: refused });
  }
}

/** settle asks of each refused entry what shall become of it. */
async function settle(queue) {
  for (const { round, event, reason } of await queue.refused()) {
    const route = round.split(".").slice(4).join(".");
    const answer = await dialog(t("rounds.settle.title"), [
      el("p", { class: "entry" }, el("strong", {}, said(event)), " ",
        el("a", { href: `/rounds/${seg(round)}` }, t("rounds.settle.round", { route, day: round.split(".")[1] ?? "" }))),
      el("p", { lang: "en" }, reason),
    ], [["again", t("rounds.settle.again"), "main"], ["drop", t("rounds.settle.drop"), ""], ["", t("dialog.close"), ""]]);
    if (!answer) return;
    const { id, at, ...anew } = event; // at which time, and under which id, is told anew
    if (answer === "again") await queue.add(round, anew);
    await queue.forget(id);
  }
}

/** said is an event in a few words. */
export function said(e) {
  const lane = e.level ? ` ${e.level}-${e.lane}` : "";
  const place = e.stop ? t("rounds.event.at", { stop: e.stop, lane }) : e.part ?? "";
  return `${t("rounds.event." + e.kind, { n: e.containers ?? 0 })} ${place}`.trim();
}
