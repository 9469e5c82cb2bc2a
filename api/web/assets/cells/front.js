// Racks from the front: levels at their heights, lanes at their widths, each container's
// face as large as it is. Everything that can be touched is a button.
import { seg } from "../ask.js";
import { el, word } from "../element.js";
import { num } from "../numbers.js";
import { t } from "../words.js";
import { address, keyOf, nameOf } from "./desk.js";

const scale = 0.2; // pixels a millimetre
const gutter = 84; // pixels for the names of levels
const foot = 14; // pixels below the lowest level

/** fronts draws all racks of a cell. on has pick(loop, button), lane(lane, button) and
 *  drop(level): what is to be done. */
export function fronts(desk, u, on) {
  return el("div", { class: "fronts" }, desk.data.racks.map((r) => front(desk, u, r, on)));
}

function front(desk, u, r, on) {
  const lanes = desk.data.lanes.filter((l) => l.rack === r.rack);
  const top = Math.max(...r.levels.map((l) => l.pick_height_mm + l.clear_height_mm), r.height_mm);
  const stage = el("div", { class: "front", role: "group", "aria-label": t("edit.front", { rack: r.rack }) });
  const width = r.width_mm * scale;
  Object.assign(stage.style, { width: `${width + gutter}px`, height: `${top * scale + foot}px` });
  for (const left of [gutter, gutter + width - 4]) {
    const post = el("span", { class: "post", "aria-hidden": "true" });
    Object.assign(post.style, { left: `${left}px`, height: `${top * scale + foot}px` });
    stage.append(post);
  }
  for (const level of [...r.levels].reverse()) stage.append(drawLevel(desk, u, r, level, lanes.filter((l) => l.level === level.level), on));
  const broken = desk.data.broken.filter((f) => f.subject?.rack === r.rack);
  return el("article", { class: "rack", id: "rack-" + r.rack },
    el("header", {}, el("h3", {}, el("a", { href: `/racks/${seg(r.rack)}?plan=${desk.plan.id}` }, t("rack.name", { rack: r.rack }))), r.proposed ? word("warn", t("rack.proposed")) : word("", t("rack.standing")),
      el("span", { class: "quiet" }, t("rack.about", { type: r.rack_type, width: u.length(r.width_mm), stations: r.stations.join(", ") || t("rack.nobody") }))),
    broken.length > 0 && el("ul", { class: "broken" }, broken.map((f) => el("li", { lang: "en" }, f.summary))),
    el("div", { class: "front-frame", tabindex: 0, role: "group", "aria-label": t("edit.front.scroll", { rack: r.rack }) }, stage));
}

function drawLevel(desk, u, r, level, lanes, on) {
  const used = lanes.reduce((sum, l) => Math.max(sum, l.offset_mm + l.width_mm), 0);
  const box = el("div", { class: `shelf ${level.kind}`, role: "group", "aria-label": t("level." + level.kind, { level: level.level, height: u.length(level.pick_height_mm) }) });
  box.dataset.rack = r.rack;
  box.dataset.level = level.level;
  Object.assign(box.style, { bottom: `${level.pick_height_mm * scale + foot}px`, height: `${level.clear_height_mm * scale}px`, left: `${gutter + (r.width_mm - level.usable_width_mm) / 2 * scale}px`, width: `${level.usable_width_mm * scale}px` });
  const name = el("span", { class: "shelf-name" }, el("b", {}, String(level.level)), ` ${u.length(level.pick_height_mm)}`);
  name.style.left = `${-gutter - (r.width_mm - level.usable_width_mm) / 2 * scale}px`;
  const room = level.usable_width_mm - used;
  const rest = room > 1 && level.kind === "supply" && el("span", { class: "rest" }, room * scale > 60 ? u.length(room) : "");
  if (rest) Object.assign(rest.style, { left: `${used * scale}px`, width: `${room * scale}px` });
  box.append(...[name, rest, ...lanes.map((l) => drawLane(desk, u, level, l, on))].filter(Boolean));
  if (used > level.usable_width_mm + 1) box.classList.add("over");
  return box;
}

function drawLane(desk, u, level, l, on) {
  const closed = desk.isClosed(l);
  const kind = l.kind === "return" ? "return" : l.part === "" ? "free" : "used";
  const style = { left: `${l.offset_mm * scale}px`, width: `${l.width_mm * scale}px` };
  if (kind === "return") {
    const box = el("span", { class: "lane return" }, l.width_mm * scale > 50 ? t("lane.return") : "");
    Object.assign(box.style, style);
    return box;
  }
  const loop = kind === "used" && desk.loop(l);
  const pinned = loop && desk.pin(l);
  const changed = loop && desk.data.changes.some((c) => keyOf(c) === keyOf(l));
  const marks = [closed && t("edit.closed"), pinned && t("edit.pinned"), changed && t("edit.moved")].filter(Boolean);
  const label = loop ? t("edit.lane.used", { lane: address(l), part: `${l.part} ${num(l.containers)}/${num(l.capacity)}`, station: l.station }) : t("edit.lane.free", { lane: address(l), width: u.length(l.width_mm) });
  const button = el("button", { type: "button", class: ["lane", kind, closed && "closed", changed && "changed", pinned && "pinned"].filter(Boolean).join(" "), "aria-label": [label, ...marks].join(", "), title: [label, ...marks].join(", "), onclick: () => on.lane(l) },
    loop ? face(desk, l, loop) : el("span", { class: "lane-text" }, closed ? "" : l.width_mm * scale > 46 ? t("lane.free") : ""));
  if (loop) button.append(el("span", { class: "lane-text" }, el("b", {}, l.part), " ", el("small", {}, `${num(l.containers)}/${num(l.capacity)}`)));
  button.dataset.key = loop ? keyOf(nameOf(l)) : "";
  Object.assign(button.style, style);
  return button;
}

/** face is the front of the containers that stand in a lane. */
function face(desk, l, loop) {
  const c = desk.container(loop.container);
  if (!c) return "";
  const across = l.flow_side === "width" ? c.length_mm : c.width_mm;
  const box = el("span", { class: "face", "aria-hidden": "true" });
  Object.assign(box.style, { width: `${Math.min(across, l.width_mm) * scale}px`, height: `${c.height_mm * scale}px` });
  return box;
}

/** mark shows on the levels where a loop fits, why not elsewhere, and what it costs; go
 *  is called with the fit that is chosen: by its button, or by a press on what is free of
 *  a level where it fits. It returns what takes the marks off. */
export function mark(root, fits, u, go) {
  const buttons = [];
  const pressed = new AbortController();
  for (const f of fits) {
    const shelf = root.querySelector(`.shelf[data-rack="${CSS.escape(f.rack)}"][data-level="${f.level}"]`);
    if (!shelf || f.here) continue;
    shelf.classList.add(f.fits ? "fits" : "fits-not");
    const text = fitText(f, u);
    const b = el("button", { type: "button", class: `fit ${f.fits ? "good" : "bad"}`, "aria-label": t("edit.move.here", { to: `${f.rack}/${f.level}`, about: text }), title: text, onclick: () => go(f) },
      f.fits ? gain(f.effort) : f.why_not[0] ? missing(f.why_not[0], u) : "");
    shelf.append(b);
    buttons.push([shelf, b]);
    if (f.fits) shelf.addEventListener("click", (e) => {
      if (e.detail === 0 || e.target.closest(".lane.used, .fit")) return; // from the keyboard a free lane is itself
      e.stopPropagation();
      go(f);
    }, { capture: true, signal: pressed.signal });
  }
  return () => {
    pressed.abort();
    for (const [shelf, b] of buttons) {
      b.remove();
      shelf.classList.remove("fits", "fits-not");
    }
  };
}

/** fitText says what laying a loop on a level comes to. */
export const fitText = (f, u) => f.fits
  ? t("edit.fits", { lanes: t("edit.lanes.n", { n: f.lanes }), effort: gain(f.effort) })
  : t("edit.fits.not", { why: f.why_not.map((w) => missing(w, u)).join("; ") });

/** gain writes a difference of effort with its sign. */
export const gain = (effort) => `${effort > 0.005 ? "+" : effort < -0.005 ? "−" : "±"}${num(Math.abs(effort), 2)}\u00a0kg/h`;

const short = {
  "edit.level-over-full": "width", "edit.too-tall": "height", "edit.too-long": "length", "edit.level-overloaded": "mass",
  "edit.rack-overloaded": "rackmass", "edit.beyond-walk-limit": "walk", "edit.rack-does-not-serve": "serve", "edit.pin-not-kept": "pin",
  "edit.lane-too-narrow": "narrow", "edit.lane-closed": "closed", "edit.not-kept-apart": "apart", "edit.flow-side-not-allowed": "side", "edit.no-lane": "lane",
};

/** missing says in few words which rule would be broken, and by how much. */
function missing(w, u) {
  const by = w.missing > 0 ? { mm: () => u.length(w.missing), kg: () => u.mass(w.missing), m: () => `${num(w.missing, 1)}\u00a0m` }[w.unit]?.() ?? "" : "";
  return short[w.code] ? t("edit.no." + short[w.code], { by }).trim() : w.summary;
}
