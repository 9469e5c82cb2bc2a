// The plant map: the floor with its racks, shaded by one measure at a time, the
// way of a route, and where a part lies.
import { all, ask, seg } from "../ask.js";
import { crumb, el, section, titled } from "../element.js";
import { onKey } from "../keys.js";
import { amount, num } from "../numbers.js";
import { thePlan } from "../plan.js";
import { say } from "../say.js";
import { begin } from "../shell.js";
import { empty, show } from "../states.js";
import { table } from "../table.js";
import { t } from "../words.js";
import { canvasBrush, coloursOf } from "./canvas.js";
import { draw } from "./draw.js";
import { at, floorOf, grown } from "./floor.js";
import { legend } from "./legend.js";
import { overlays, shadesOf } from "./overlays.js";
import { save, svgOf } from "./picture.js";
import { View } from "./view.js";

const most = 12; // places shown of what is searched for

begin(async () => {
  const plan = await thePlan();
  const map = await ask(`/plans/${plan.id}/map`);
  titled(t("map.title"), plan.plant);
  const head = [crumb("/?" + new URLSearchParams({ plan: plan.id }), plan.plant, t("plan.number", { id: String(plan.id) })), el("h1", {}, t("map.title"))];
  const floor = floorOf(map);
  if (!floor.racks.length && !floor.points.length) return show(head, empty(t("map.nothing")));
  new MapPage(plan, map, floor).show(head);
});

class MapPage {
  constructor(plan, map, floor) {
    Object.assign(this, { plan, map, floor, chosen: null });
    const query = new URLSearchParams(location.search);
    this.overlay = overlays.find((o) => o.name === query.get("by")) ?? overlays[0];
    this.route = map.routes.some((r) => r.route === query.get("route")) ? query.get("route") : "";
    this.wanted = query.get("find") ?? "";
    this.shades = shadesOf(floor, this.overlay);
    this.legend = el("div");
    this.table = el("div");
    this.found = el("div", { class: "found", role: "status" });
    this.canvas = el("canvas", { tabindex: "0", role: "img", "aria-describedby": "map-help" });
  }

  show(head) {
    const hidden = this.map.racks.length - this.floor.racks.length;
    show(head, el("p", { class: "sub" }, t("map.about", { racks: t("racks", { n: this.map.racks.length }), cells: this.map.cells.length })),
      hidden > 0 && el("p", { class: "note" }, t("map.hidden", { n: hidden })),
      el("div", { class: "map" }, this.tools(),
        el("div", { class: "map-floor" }, this.canvas, this.zoom()),
        el("p", { class: "quiet", id: "map-help" }, t("map.help")), this.found, this.legend),
      section("racks", t("map.table"), t("map.table.about"), this.table));
    this.view = new View(this.canvas, grown(this.floor.box, 1), () => this.paint(), (x, y, slack) => this.choose(at(this.floor, x, y, slack)));
    this.colour();
    new MutationObserver(() => this.colour()).observe(document.documentElement, { attributes: true });
    matchMedia("(prefers-color-scheme: dark)").addEventListener("change", () => this.colour());
    this.view.whole();
    this.shade();
    onKey("0", t("map.whole"), () => this.view.whole());
    if (this.wanted) this.find();
  }

  tools() {
    const select = (id, label, options, value, changed) => el("span", {}, el("label", { for: id }, label),
      el("select", { id, onchange: (e) => changed(e.target.value) }, options.map(([v, text]) => el("option", { value: v, selected: v === value }, text))));
    return el("div", { class: "map-tools" },
      select("overlay", t("map.by"), overlays.map((o) => [o.name, t("map.by." + o.name)]), this.overlay.name, (name) => {
        this.overlay = overlays.find((o) => o.name === name);
        this.shades = shadesOf(this.floor, this.overlay);
        this.shade();
      }),
      select("route", t("word.route"), [["", t("word.none")], ...this.map.routes.map((r) => [r.route, r.route])], this.route, (route) => { this.route = route; this.remember(); this.paint(); this.tell(); }),
      el("span", { class: "find" }, el("label", { for: "find" }, t("map.find")),
        el("input", { id: "find", type: "search", value: this.wanted, autocomplete: "off", placeholder: t("map.find.such"), onchange: (e) => { this.wanted = e.target.value.trim(); this.find(); } })),
      el("div", { class: "tools" },
        el("button", { type: "button", onclick: () => this.save("svg") }, t("map.save", { kind: "SVG" })),
        el("button", { type: "button", onclick: () => this.save("png") }, t("map.save", { kind: "PNG" }))));
  }

  zoom() {
    const button = (sign, label, act) => el("button", { type: "button", "aria-label": label, title: label, onclick: act }, sign);
    return el("div", { class: "map-zoom" }, button("+", t("map.nearer"), () => this.view.zoom(1.4)), button("−", t("map.farther"), () => this.view.zoom(1 / 1.4)), button("⤢", t("map.whole"), () => this.view.whole()));
  }

  colour() {
    this.colours = coloursOf(this.canvas.parentElement);
    this.paint();
  }

  /** paint draws one frame at the screen's own resolution. */
  paint() {
    const [w, h] = this.view.size;
    const dense = devicePixelRatio || 1;
    const [across, down] = [Math.round(w * dense), Math.round(h * dense)];
    if (this.canvas.width !== across || this.canvas.height !== down) Object.assign(this.canvas, { width: across, height: down });
    const c = this.canvas.getContext("2d");
    c.setTransform(dense, 0, 0, dense, 0, 0);
    draw(canvasBrush(c, this.colours, this.view.place, [w, h]), this.floor, this.view, this);
  }

  shade() {
    this.remember();
    this.canvas.setAttribute("aria-label", t("map.picture", { by: t("map.by." + this.overlay.name) }));
    this.legend.replaceChildren(legend(this.shades, this.floor));
    const by = t("map.by." + this.overlay.name);
    const { overlay, shades } = this;
    this.table.replaceChildren(table(t("map.table"), [
      { head: t("word.rack"), value: (r) => r.rack, cell: (r) => el("a", { href: this.rackHref(r) }, r.rack) },
      { head: by, n: true, unit: overlay.unit, decimals: overlay.decimals ?? 0, value: (r) => shades.value(r), cell: (r) => shades.text(r) || "–" },
      { head: t("word.cell"), value: (r) => r.cell },
      { head: t("map.by.free"), n: true, value: (r) => r.lanes_free },
      { head: t("map.see"), bare: true, value: () => "", cell: (r) => el("button", { type: "button", class: "small", "aria-label": t("map.see.rack", { rack: r.rack }), onclick: () => this.look(r) }, t("map.see")) },
    ], this.floor.racks, { sort: "-1" }));
    this.paint();
  }

  rackHref(r) { return `/cells/${seg(r.cell)}?plan=${this.plan.id}#rack-${seg(r.rack)}`; }

  /** remember keeps what is shown in the address, so that it can be passed on. */
  remember() {
    const query = new URLSearchParams(location.search);
    for (const [key, value] of [["by", this.overlay === overlays[0] ? "" : this.overlay.name], ["route", this.route], ["find", this.wanted]]) {
      if (value) query.set(key, value); else query.delete(key);
    }
    history.replaceState(null, "", `${location.pathname}${query.size ? "?" + query : ""}${location.hash}`);
  }

  /** look goes to a rack or cell and tells of it. */
  look(thing) {
    this.view.on(thing.box ?? { left: thing.x - 4, right: thing.x + 4, bottom: thing.y - 4, top: thing.y + 4 });
    this.choose(thing);
    this.canvas.scrollIntoView({ block: "nearest" });
  }

  choose(thing) {
    this.chosen = thing ?? null;
    this.paint();
    this.tell();
  }

  /** tell says in words what is chosen and what is searched for. */
  tell() {
    const { chosen } = this;
    const route = this.map.routes.find((r) => r.route === this.route);
    this.found.replaceChildren(...[
      chosen?.rack && el("p", {}, el("a", { href: this.rackHref(chosen) }, chosen.rack), ` · ${t("lanes.used.free", { used: chosen.lanes_used, free: chosen.lanes_free })} · ${t("map.brought", { n: num(chosen.brought_per_hour, 1) })} · ${amount(chosen.effort, "kg/h")}`,
        chosen.lifting_index !== null && ` · ${t("map.lift", { index: num(chosen.lifting_index, 2) })}`, chosen.not_to_be_lifted && ` · ${t("map.no-lift")}`, " · ", el("a", { href: `/racks/${seg(chosen.rack)}?plan=${this.plan.id}` }, t("map.built"))),
      chosen?.box && el("p", {}, el("a", { href: `/cells/${seg(chosen.cell)}?plan=${this.plan.id}` }, chosen.cell), ` ${chosen.name}`, chosen.lanes_short > 0 && ` · ${t("lanes.short", { n: chosen.lanes_short })}`, chosen.containers_unplaced > 0 && ` · ${t("containers.unplaced", { n: chosen.containers_unplaced })}`),
      route && el("p", {}, el("a", { href: `/routes/${seg(route.route)}?plan=${this.plan.id}` }, t("map.route", { route: route.route })), `: ${route.racks.map((r, i) => `${i + 1} ${r}`).join(", ")}`),
      this.places,
    ].filter(Boolean));
  }

  /** find looks for a part, rack, cell or station by its code, or part of it. */
  async find() {
    this.remember();
    this.places = null;
    const wanted = this.wanted.toLowerCase();
    if (!wanted) return this.tell();
    try {
      const lanes = this.lanes ??= await all(`/plans/${this.plan.id}/lanes`);
      const has = (...texts) => texts.some((text) => text.toLowerCase().includes(wanted));
      const racks = new Map(this.floor.racks.map((r) => [r.rack, r]));
      const hits = [
        ...this.floor.cells.filter((c) => has(c.cell, c.name)).map((c) => [t("map.found.cell", { cell: c.cell, name: c.name }), c]),
        ...this.floor.racks.filter((r) => has(r.rack)).map((r) => [t("map.found.rack", { rack: r.rack, cell: r.cell }), r]),
        ...lanes.filter((l) => l.part && has(l.part)).map((l) => [t("map.found.lane", { part: l.part, rack: l.rack, level: String(l.level), lane: String(l.lane) }), racks.get(l.rack)]),
      ];
      hits.sort((a, b) => Number(exact(b, wanted)) - Number(exact(a, wanted)));
      this.places = hits.length
        ? el("div", {}, el("p", {}, t("map.found", { n: hits.length, wanted: this.wanted })), el("ul", {}, hits.slice(0, most).map(([text, thing]) => el("li", {}, thing ? el("button", { type: "button", class: "small", onclick: () => this.look(thing) }, text) : el("span", { class: "quiet" }, text)))))
        : el("p", {}, t("map.found.none", { wanted: this.wanted }));
      if (hits[0]?.[1]) this.look(hits[0][1]); else this.tell();
    } catch (error) {
      say(error.message, { bad: true });
    }
  }

  /** save writes what is seen as a file. */
  async save(kind) {
    const name = `${this.plan.plant.replace(/[^\p{L}\p{N}]+/gu, "-")}-${this.plan.id}-${this.overlay.name}.${kind}`;
    const paint = (brush) => draw(brush, this.floor, this.view, this);
    if (kind === "png") return this.canvas.toBlob((blob) => blob ? save(name, blob) : say(t("map.no-picture"), { bad: true }));
    save(name, new Blob([svgOf(`${this.plan.plant}: ${t("map.by." + this.overlay.name)}`, this.colours, this.view.place, this.view.size, paint)], { type: "image/svg+xml" }));
  }
}

const exact = ([text], wanted) => text.toLowerCase().split(/[\s,:]+/).includes(wanted);
