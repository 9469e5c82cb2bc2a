// All cells: lanes needed, there, free and short, over all widths or of one.
import { all, seg } from "../ask.js";
import { crumb, el, figures, section, titled, track, word } from "../element.js";
import { num, units } from "../numbers.js";
import { thePlan } from "../plan.js";
import { begin } from "../shell.js";
import { part, show } from "../states.js";
import { table } from "../table.js";
import { whyButton } from "../why.js";
import { t } from "../words.js";
import { byShort, cellLink, isShort, shortWidths, state, stateText, widthState } from "./state.js";

begin(async () => {
  const plan = await thePlan();
  const cells = await all(`/plans/${plan.id}/cells`);
  titled(t("cells.title"), plan.plant);
  show(
    crumb("/?" + new URLSearchParams({ plan: plan.id }), plan.plant, t("plan.number", { id: String(plan.id) })),
    el("h1", {}, t("cells.title")), el("p", { class: "sub" }, howMany(cells), " ", el("a", { href: "/loops?" + new URLSearchParams({ plan: plan.id }) }, t("loops.find.title")),
      " · ", el("a", { href: "/drafts?" + new URLSearchParams({ plan: plan.id }) }, t("draft.all"))),
    keyFigures(cells), cellSection(plan, cells), part(async () => rackSection(plan, await all(`/plans/${plan.id}/racks`))));
});

/** howMany says how many cells lack lanes. */
function howMany(cells) {
  const short = cells.filter(isShort).length;
  return short ? t("cells.short", { n: short, all: cells.length }) : t("cells.fine", { n: cells.length });
}

function keyFigures(cells) {
  const sum = (key) => cells.reduce((n, c) => n + c[key], 0);
  const short = sum("lanes_short");
  return figures([
    [t("lanes.needed"), num(sum("lanes_needed")), t("loops", { n: sum("loops") })],
    [t("lanes.there"), num(sum("lanes_there")), t("racks", { n: sum("racks") })],
    [t("lanes.free"), num(sum("lanes_free")), t("lanes.used", { n: sum("lanes_used") })],
    [t("lanes.lacking"), num(short), short ? word("bad", t("containers.unplaced", { n: sum("containers_unplaced") })) : word("good", t("cell.enough"))],
  ]);
}

function cellSection(plan, cells) {
  const u = units(plan.settings);
  const widths = [...new Set(cells.flatMap((c) => c.balance.map((b) => b.width_mm)))].sort((a, b) => a - b);
  const place = el("div");
  const draw = (width) => place.replaceChildren(width ? ofWidth(plan, cells, Number(width), u) : ofAll(plan, cells, u));
  draw("");
  const chosen = el("select", { id: "width", onchange: (e) => draw(e.target.value) },
    el("option", { value: "" }, t("cells.width.all")), widths.map((w) => el("option", { value: w }, u.length(w))));
  return section("cells", t("cells.balance"), t("cells.balance.about"),
    el("div", { class: "tools filters" }, el("label", { for: "width" }, t("cells.width")), chosen), place);
}

function ofAll(plan, cells, u) {
  return table(t("cells.title"), [
    { head: t("word.cell"), value: (c) => c.cell, words: (c) => c.name, cell: (c) => cellLink(plan, c) },
    { head: t("lanes.lacking"), bare: true, wide: true, value: (c) => c.lanes_short, words: stateText, cell: state },
    { head: t("cells.width.lacking"), wide: true, value: (c) => shortWidths(c, u) },
    { head: t("lanes.needed"), n: true, value: (c) => c.lanes_needed },
    { head: t("lanes.there"), n: true, value: (c) => c.lanes_there },
    { head: t("lanes.free"), n: true, value: (c) => c.lanes_free },
    { head: t("cells.use"), n: true, unit: "%", value: (c) => use(c) * 100, cell: (c) => [`${num(use(c) * 100)}\u00a0%`, track(use(c))] },
    { head: t("cells.unplaced"), n: true, value: (c) => c.containers_unplaced },
    { head: t("word.racks"), n: true, value: (c) => c.racks, cell: (c) => [num(c.racks), c.racks_proposed > 0 && el("small", {}, t("racks.new", { n: c.racks_proposed }))] },
    { head: t("word.area"), value: (c) => c.area },
    { head: t("word.why"), bare: true, value: () => "", cell: (c) => whyButton("cell", { plan: plan.id, cell: c.cell }) },
  ], byShort(cells));
}

/** use is the share of a cell's lanes that have a part. */
const use = (c) => c.lanes_there ? c.lanes_used / c.lanes_there : 0;

/** ofWidth shows one lane width in the cells that need it. */
function ofWidth(plan, cells, width, u) {
  const rows = cells.flatMap((c) => c.balance.filter((b) => b.width_mm === width).map((b) => ({ ...c, ...b, lacking: b.needed - b.placed })))
    .sort((a, b) => b.lacking - a.lacking);
  return table(t("cells.of-width", { width: u.length(width) }), [
    { head: t("word.cell"), value: (c) => c.cell, words: (c) => c.name, cell: (c) => cellLink(plan, c) },
    { head: t("lanes.lacking"), bare: true, wide: true, value: (c) => c.lacking, words: widthState, cell: (c) => word(c.lacking > 0 ? "bad" : "good", widthState(c)) },
    { head: t("lanes.needed"), n: true, value: (c) => c.needed },
    { head: t("lanes.given"), n: true, value: (c) => c.placed },
    { head: t("lanes.room"), n: true, value: (c) => c.room },
    { head: t("word.area"), value: (c) => c.area },
  ], rows);
}

/** rackSection lists racks, the proposed ones first. */
function rackSection(plan, racks) {
  const u = units(plan.settings);
  const added = racks.filter((r) => r.proposed).length;
  const kind = (r) => r.proposed ? t("rack.proposed") : t("rack.standing");
  return section("racks", t("word.racks"), added ? t("racks.added", { n: added }) : t("racks.standing"), table(t("word.racks"), [
    { head: t("word.rack"), value: (r) => r.rack, cell: (r) => el("a", { href: `/racks/${seg(r.rack)}?plan=${plan.id}` }, r.rack) },
    { head: t("word.state"), bare: true, value: kind, cell: (r) => word(r.proposed ? "warn" : "", kind(r)) },
    { head: t("word.type"), value: (r) => r.rack_type },
    { head: t("word.cell"), value: (r) => r.cell },
    { head: t("racks.serves"), value: (r) => r.stations.join(", ") },
    { head: t("word.width"), ...u.lengthOf((r) => r.width_mm) },
    { head: t("racks.used"), n: true, value: (r) => r.lanes_used },
    { head: t("lanes.free"), n: true, value: (r) => r.lanes_free },
    { head: t("word.containers"), n: true, value: (r) => r.containers },
  ], [...racks].sort((a, b) => Number(b.proposed) - Number(a.proposed)), { empty: t("racks.none") }));
}
