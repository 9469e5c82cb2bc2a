// What can be done with one loop, or with one free lane, by ordinary controls: everything
// that dragging does, and more.
import { el, word } from "../element.js";
import { amount, num } from "../numbers.js";
import { failure, loading } from "../states.js";
import { whyButton } from "../why.js";
import { t } from "../words.js";
import { address, keyOf, nameOf } from "./desk.js";
import { fitText, gain } from "./front.js";

const few = 5; // places shown at once

/** loopPanel shows the loop of which something is in the hand; at is the lane through which
 *  it was chosen, if any. on has edit(edits, done), close(), fits(hand): a promise of the
 *  levels, and drop(hand, level). */
export function loopPanel(desk, u, hand, at, on) {
  const { loop } = hand;
  const name = nameOf(loop);
  const lanes = desk.lanesOf(loop);
  const lost = desk.unplaced(loop);
  const pin = desk.pin(loop);
  const edit = (kind, more, done) => on.edit([{ kind, loop: name, ...more }], done);
  return panel(t("edit.loop", { part: loop.part }), on.close, [
    el("p", { class: "sub" }, [t("edit.station", { station: loop.station }), t("edit.in", { n: loop.containers, container: loop.container }),
      t("edit.every", { time: amount(loop.interval_min, "min", 1) })].join(" · "), " ", whyButton("loop", { plan: desk.plan.id, ...name })),
    el("p", {}, lanes.length ? t("edit.lies", { list: lanes.map(address).join(", ") }) : t("edit.nowhere"), pin && [" ", word("", t("edit.pinned.to", { to: address(pin) }))]),
    lost && el("p", {}, word("bad", t("containers.unplaced", { n: lost.containers })), " ", el("span", { lang: "en" }, lost.detail)),
    desk.closed ? null : [
      moving(desk, u, hand, on),
      swap(desk, loop, (other) => edit("swap", { with: nameOf(other) }, t("edit.done.swap", { part: loop.part, other: other.part }))),
      container(desk, u, loop, (code, pack) => edit("container", { container: code, ...pack && { pack } }, t("edit.done.container", { part: loop.part, container: code }))),
      interval(loop, (min) => edit("interval", { interval_min: min }, t("edit.done.interval", { part: loop.part, time: amount(min, "min", 1) }))),
      el("div", { class: "tools" },
        pin ? el("button", { type: "button", id: "unpin", onclick: () => edit("unpin", {}, t("edit.done.unpin", { part: loop.part })) }, t("edit.unpin"))
          : lanes.length > 0 && el("button", { type: "button", id: "pin", onclick: () => edit("pin", {}, t("edit.done.pin", { part: loop.part })) }, t("edit.pin")),
        at && closing(desk, at, on)),
    ],
    why(desk, loop, on),
  ]);
}

/** lanePanel shows a lane that no loop has. */
export function lanePanel(desk, u, lane, on) {
  return panel(t("edit.lane", { lane: address(lane) }), on.close, [
    el("p", {}, desk.isClosed(lane) ? t("edit.lane.closed") : t("edit.lane.open", { width: u.length(lane.width_mm) })),
    !desk.closed && el("div", { class: "tools" }, closing(desk, lane, on)),
  ]);
}

function panel(title, close, content) {
  return el("div", { class: "panel", role: "group", "aria-labelledby": "panel-title" },
    el("div", { class: "panel-head" }, el("h3", { id: "panel-title", tabindex: -1 }, title),
      el("button", { type: "button", class: "small", id: "panel-close", onclick: close }, t("dialog.close"))), content);
}

function closing(desk, lane, on) {
  const to = { rack: lane.rack, level: lane.level, lane: lane.lane };
  const open = desk.isClosed(lane);
  return el("button", { type: "button", id: "close-lane", onclick: () => on.edit([{ kind: open ? "open" : "close", to }], t(open ? "edit.done.open" : "edit.done.close", { lane: address(to) })) },
    t(open ? "edit.open" : "edit.close", { lane: address(to) }));
}

/** moving offers the places for what is in the hand, and where a loop lies in more than
 *  one, lets that be all of it. */
function moving(desk, u, hand, on) {
  const box = el("div", { id: "places" });
  const whole = desk.whole(hand.loop);
  places(box, u, hand, on);
  const choice = (h, text, checked) => el("label", {}, el("input", { type: "radio", name: "hand", checked, onchange: () => places(box, u, h, on) }), el("span", {}, text));
  return [
    (hand.from || hand.containers) && el("fieldset", { class: "hand" }, el("legend", {}, t("edit.hand")),
      choice(hand, hand.from ? t("edit.hand.level", { n: hand.n, at: address(hand.from) }) : t("edit.hand.lost", { n: hand.n }), true),
      choice(whole, t("edit.hand.whole", { n: whole.n }), false)),
    el("h4", {}, t("edit.move.to")), box,
  ];
}

/** places lists where what is in the hand fits, the least effort first, and why it does
 *  not elsewhere. */
function places(box, u, hand, on) {
  box.replaceChildren(loading());
  const row = (f) => el("li", {}, el("button", { type: "button", class: "place", onclick: () => on.drop(hand, f) }, el("b", {}, `${f.rack}/${f.level}`), el("span", {}, t("edit.place", { lanes: t("edit.lanes.n", { n: f.lanes }), effort: gain(f.effort) }))));
  on.fits(hand).then((all) => {
    const [good, bad] = [true, false].map((is) => all.filter((f) => f.fits === is && !f.here));
    good.sort((a, b) => a.effort - b.effort);
    const list = el("ul", { class: "places" }, good.slice(0, few).map(row));
    box.replaceChildren(...[
      good.length === 0 && el("p", { class: "quiet" }, t("edit.places.none")), good.length > 0 && list,
      good.length > few && el("button", { type: "button", class: "small", onclick: (e) => { list.append(...good.slice(few).map(row)); e.target.remove(); } }, t("edit.places.more", { n: good.length - few })),
      bad.length > 0 && el("details", {}, el("summary", {}, t("edit.places.not", { n: bad.length })),
        el("ul", { class: "places" }, bad.map((f) => el("li", {}, el("b", {}, `${f.rack}/${f.level}`), " ", fitText(f, u))))),
    ].filter(Boolean));
  }).catch((error) => box.replaceChildren(failure(error, () => on.close())));
}

/** swap offers to change places with another loop; both must lie on one level or nowhere. */
function swap(desk, loop, go) {
  const others = desk.data.loops.filter((l) => keyOf(l) !== keyOf(loop) && desk.levelsOf(l).length === 1);
  if (others.length === 0 || desk.levelsOf(loop).length > 1) return null;
  const select = el("select", { id: "swap-with" }, others.map((l, i) => el("option", { value: i }, `${l.part} · ${desk.lanesOf(l).slice(0, 1).map(address)}`)));
  return form("swap", t("edit.swap.with"), [select], t("edit.swap"), () => go(others[select.value]));
}

function container(desk, u, loop, go) {
  const size = (c) => [c.length_mm, c.width_mm, c.height_mm].map((mm) => u.length(mm).replace(/\u00a0.*$/, "")).join(" × ");
  const select = el("select", { id: "container-to" }, desk.data.containers.map((c) => el("option", { value: c.container, selected: c.container === loop.container }, `${c.container} · ${size(c)}`)));
  const pack = el("input", { id: "pack-to", type: "number", min: 1, step: 1, inputmode: "numeric", placeholder: t("edit.pack.by"), "aria-label": t("edit.pack") });
  return form("container", t("edit.container"), [select, pack], t("edit.change"), () => go(select.value, Number(pack.value) || 0));
}

function interval(loop, go) {
  const input = el("input", { id: "interval-to", type: "number", min: 1, max: 10080, step: "any", value: loop.interval_min, inputmode: "decimal", required: true });
  return form("interval", t("edit.interval"), [input], t("edit.change"), () => go(Number(input.value)));
}

function form(id, label, controls, button, go) {
  return el("form", { class: "line", id: "do-" + id, onsubmit: (e) => { e.preventDefault(); go(); } },
    el("label", { for: controls[0].id }, label), el("span", {}, controls, el("button", {}, button)));
}

/** why tells, when asked, what other places the plan's loop had and what would help it;
 *  what was tried and can be made by hand has a button. */
function why(desk, loop, on) {
  const box = el("div", {});
  const details = el("details", { class: "why", ontoggle: async () => {
    if (!details.open || box.firstChild) return;
    box.replaceChildren(loading());
    try {
      const w = await desk.why(loop);
      const list = [...w.places.slice(0, 3), ...w.changes].map((p) => el("li", {}, el("span", { lang: "en" }, p.text),
        !desk.closed && p.possible !== false && p.edits.length > 0 && [" ", el("button", { type: "button", class: "small", onclick: () => on.edit(p.edits, t("edit.done.tried")) }, t("edit.try"))]));
      box.replaceChildren(list.length ? el("ul", {}, list) : el("p", { class: "quiet" }, t("edit.why.none")));
    } catch (error) {
      box.replaceChildren(el("p", { role: "alert" }, error.message));
    }
  } }, el("summary", {}, t("edit.why")), box);
  return details;
}

/** tray lists the loops without a lane, to be dragged or chosen. */
export function tray(desk, on) {
  if (desk.data.unplaced.length === 0) return el("p", { class: "tray-none" }, word("good", t("cell.given")));
  return el("ul", { class: "tray" }, desk.data.unplaced.map((x) => {
    const loop = desk.loop(x);
    const button = el("button", { type: "button", class: "lost", onclick: () => loop && on.pick(loop), disabled: !loop },
      el("b", {}, x.part), el("span", {}, t("containers.unplaced", { n: x.containers })), el("small", { lang: "en" }, x.detail));
    button.dataset.key = keyOf(x);
    return el("li", {}, button);
  }));
}

/** numberText writes before and after: "46 → 45". */
export const numberText = (before, after, decimals = 0) => before === after ? num(after, decimals) : `${num(before, decimals)} → ${num(after, decimals)}`;
