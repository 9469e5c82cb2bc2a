// How a rack is built: what to buy, how the bars are cut, which piece is which, in what
// order they go together.
import { el, section } from "../element.js";
import { amount, num } from "../numbers.js";
import { table } from "../table.js";
import { t } from "../words.js";
import { role } from "./holds.js";

/** building is the part of the page from buying to bolting. */
export function building(build, built, u) {
  return section("build", t("rack.build"), t("rack.build.about", { kit: built.kit }),
    piece("buy", sum(built, u), buys(built, u)),
    piece("cut", t("rack.cut.about"), build.cut_lists.map((c) => cuts(c, u))),
    piece("made", t("rack.made.about"), groups(built, u)),
    piece("steps", null, steps(built)));
}

/** piece is a part of the section with its heading. */
const piece = (name, about, ...content) => el("div", { class: "apart", id: name }, el("h3", {}, t("rack." + name)), about && el("p", { class: "quiet" }, about), content);

function sum(built, u) {
  const { mass_kg: mass, cost, mass_unknown: unweighed, price_unknown: unpriced } = built.total;
  return [mass !== null && t(unweighed.length ? "rack.mass.least" : "rack.mass", { mass: u.mass(mass) }),
    cost !== null && t(unpriced.length ? "rack.cost.least" : "rack.cost", { cost: num(cost, 2) }), cost === null && t("rack.cost.none")].filter(Boolean).join(" · ");
}

const buys = (built, u) => table(t("rack.buy"), [
  { head: t("rack.item"), value: (b) => b.part },
  { head: t("rack.kind"), value: (b) => t("rack.item." + b.kind) },
  { head: t("rack.number"), n: true, value: (b) => b.count },
  { head: t("rack.together"), n: true, value: (b) => b.length_mm ?? null, cell: (b) => b.length_mm ? u.tape(b.length_mm) : "—" },
  { head: t("rack.weighs"), n: true, value: (b) => b.mass_kg, cell: (b) => b.mass_kg === null ? "—" : u.mass(b.mass_kg) },
  { head: t("report.price"), n: true, decimals: 2, value: (b) => b.cost },
], built.buys);

/** cuts draws how the bars of one part are cut; the saw's way is the waste between. */
function cuts(c, u) {
  return el("div", { class: "cuts" },
    el("h4", {}, c.part), el("p", { class: "quiet" }, [t("rack.cut.sum", { n: c.pieces, length: u.tape(c.used_mm), waste: amount(c.waste * 100, "%", 1) }),
      c.kerf_mm > 0 && t("rack.cut.kerf", { kerf: u.tape(c.kerf_mm) }), c.proved && t("rack.cut.proved")].filter(Boolean).join(" · ")),
    el("ul", {}, c.patterns.map((p) => pattern(p, u))),
    c.uncut.length > 0 && el("p", {}, t("rack.cut.uncut", { marks: c.uncut.map((x) => `${x.mark} (${u.tape(x.length_mm)})`).join(", ") })));
}

function pattern(p, u) {
  const bar = el("div", { class: "cut-bar", "aria-hidden": "true" }, p.cuts.flatMap((c) => Array.from({ length: c.count }, () => length(c.length_mm, u.tape(c.length_mm)))), p.rest_mm > 0 && length(p.rest_mm, "", "rest"));
  const text = p.cuts.map((c) => t("rack.cut.alike", { n: num(c.count), length: u.tape(c.length_mm) })).join(", ");
  return el("li", {}, el("p", {}, el("strong", {}, t(p.on_hand ? "rack.cut.store" : "rack.cut.bar", { n: p.times, length: u.tape(p.stock_mm) })), `: ${text}; `, t("rack.cut.rest", { length: u.tape(p.rest_mm) })), bar);
}

function length(mm, text, kind = "") {
  const e = el("span", { class: kind || null }, text);
  e.style.flexGrow = String(Math.max(mm, 1));
  return e;
}

/** groups lists pieces that are made alike; holes are measured from a piece's first end. */
const groups = (built, u) => table(t("rack.made"), [
  { head: t("rack.role"), value: (g) => role(g.role) },
  { head: t("rack.number"), n: true, value: (g) => g.count },
  { head: t("rack.marks"), wide: true, value: (g) => g.marks.join(", ") },
  { head: t("rack.item"), value: (g) => g.part },
  { head: t("rack.length"), ...u.tapeOf((g) => g.length_mm) },
  { head: t("rack.holes"), wide: true, value: (g) => [...new Set(g.holes_mm)].map((h) => u.tape(h)).join(" · ") },
], built.groups);

const steps = (built) => el("ol", { class: "in-order", lang: "en" }, built.steps.map((s) => el("li", {}, el("strong", {}, s.title), el("p", {}, s.text), s.caution && el("p", { class: "caution" }, s.caution))));
