// One rack: how it stands, what lies on it, what holds it, and how it is built.
import { all, ask, codeOf, seg } from "../ask.js";
import { item } from "../data/findings.js";
import { crumb, el, figures, section, titled, word } from "../element.js";
import { amount, units } from "../numbers.js";
import { thePlan } from "../plan.js";
import { begin, foot } from "../shell.js";
import { part, show } from "../states.js";
import { t } from "../words.js";
import { whyButton } from "../why.js";
import { building } from "./building.js";
import { lanes, levels, stops } from "./lanes.js";
import { governing, holds } from "./holds.js";
import { views } from "./views.js";

begin(async () => {
  const plan = await thePlan();
  const rack = await ask(`/plans/${plan.id}/racks/${seg(codeOf())}`);
  const built = rack.build.racks[0];
  const u = units(plan.settings);
  const name = t("rack.name", { rack: rack.rack });
  titled(name, plan.plant);
  show(crumb(`/cells/${seg(rack.cell)}?plan=${plan.id}`, rack.cell, `${plan.plant}, ${t("plan.number", { id: String(plan.id) })}`),
    lead(plan, rack, name), keyFigures(rack, built, u), views(plan, rack),
    levels(rack, built, u), part(async () => lanes(plan, rack, await loopsOf(plan, rack), u)), stops(plan, rack),
    holds(built, u), found(rack, built), built.kit ? building(rack.build, built, u) : section("build", t("rack.build"), t("rack.unbuilt")), cautions(rack.build.cautions));
  foot(t("foot.plan", { id: String(plan.id), revision: String(plan.revision_number), seed: String(plan.seed), version: plan.version }), t("rack.caution"));
});

function lead(plan, rack, name) {
  const to = (href, text) => el("a", { class: "button", href }, text);
  return el("div", { class: "lead" },
    el("div", {}, el("h1", {}, name),
      el("p", { class: "sub" }, [rack.rack_type, t("rack.serves", { stations: rack.stations.join(", ") || t("rack.nobody") })].filter(Boolean).join(" · ")),
      el("p", { class: "sub" }, word(rack.proposed ? "warn" : "", rack.proposed ? t("rack.proposed") : t("rack.standing")), " ", whyButton("rack", { plan: plan.id, rack: rack.rack }))),
    el("div", { class: "tools" },
      el("a", { class: "button", id: "sheet", target: "_blank", href: `/api/v1/plans/${plan.id}/racks/${seg(rack.rack)}.pdf` }, `${t("report.sheet")} (${t("report.pdf")})`),
      to(`/cells/${seg(rack.cell)}?plan=${plan.id}#rack-${seg(rack.rack)}`, t("rack.in-cell")), to(`/map?plan=${plan.id}&find=${seg(rack.rack)}`, t("rack.on-map"))));
}

function keyFigures(rack, built, u) {
  const of = (kind, used) => rack.lanes.filter((l) => l.kind === kind && (!used || l.part)).length;
  const worst = governing(built);
  return figures([
    [t("rack.size"), u.length(built.width_mm || rack.width_mm), t("rack.size.more", { depth: u.length(built.depth_mm || rack.depth_mm), height: u.length(built.height_mm || rack.height_mm) })],
    [t("word.lanes"), t("of", { part: of("supply", true), all: of("supply") }), t("lanes.return", { n: of("return") })],
    [t("rack.full"), built.screening ? u.mass(built.screening.load_kg) : "—", t("rack.own", { mass: u.mass(built.screening?.own_mass_kg ?? rack.own_mass_kg) })],
    [t("rack.used"), worst ? amount(worst.share * 100, "%") : "—", worst ? worst.share > 1 ? word("bad", worst.text) : worst.text : t("rack.used.none")],
  ]);
}

/** loopsOf are the loops of all cells that have parts on the rack. */
async function loopsOf(plan, rack) {
  const cells = [...new Set(rack.lanes.map((l) => l.cell).filter(Boolean))];
  return (await Promise.all(cells.map((c) => all(`/plans/${plan.id}/loops?cell=${seg(c)}`)))).flat();
}

/** found lists what was found about the rack, and about building it, once each. */
function found(rack, built) {
  const seen = new Set();
  const list = [...rack.findings, ...built.findings, ...rack.build.findings].filter((f) => !seen.has(f.code + f.summary) && seen.add(f.code + f.summary));
  return section("findings", t("findings.title"), list.length ? null : t("findings.none"), list.length > 0 && el("div", { class: "frame" }, el("ul", { class: "list" }, list.map(item))));
}

/** cautions stand with everything that shows a rack; they are the server's words. */
const cautions = (list) => section("cautions", t("rack.cautions"), null, el("ul", { class: "cautions", lang: "en" }, list.map((c) => el("li", {}, c))));

