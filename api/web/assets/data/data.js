// The facts of a plant: its revisions, where files are handed in, and what is
// remembered about their columns.
import { all, ask, seg } from "../ask.js";
import { dialog } from "../dialog.js";
import { el, section, titled } from "../element.js";
import { when } from "../numbers.js";
import { planOf } from "../plan.js";
import { say } from "../say.js";
import { begin, foot } from "../shell.js";
import { part, show } from "../states.js";
import { table } from "../table.js";
import { t } from "../words.js";
import { changedText } from "./changes.js";
import { drop } from "./drop.js";
import { countsText } from "./findings.js";
import { review } from "./review.js";

const compared = 10; // revisions of which the list says what they changed

begin(async () => {
  const { plants, plant, plan } = await planOf();
  const zone = plan?.settings.time_zone;
  titled(t("data.title"));
  show(el("div", { class: "lead" }, el("div", {}, el("h1", {}, t("data.title")), el("p", { class: "sub" }, plant ? t("data.about", { plant: plant.plant }) : t("data.none"))),
    el("div", { class: "tools" }, el("a", { class: "button", href: "/api/v1/template.xlsx", download: true }, t("data.template")),
      plant?.revisions > 0 && el("a", { class: "button", href: bookOf(plant.plant, plant.revisions), download: true }, t("data.book")))),
  drop((files) => review(files, plants, plant ?? null).catch((error) => say(error.message, { bad: true }))),
  plants.length > 1 && plantList(plants, plant),
  plant && part(() => revisions(plant.plant, zone)), plant && part(() => mappings(plant.plant, zone)));
  foot(t("data.foot"));
});

const bookOf = (plant, n) => `/api/v1/plants/${seg(plant)}/revisions/${n}/workbook.xlsx`;

function plantList(plants, plant) {
  return section("plants", t("data.plants"), null, table(t("data.plants"), [
    { head: t("pick.plant"), value: (p) => p.plant, cell: (p) => el("a", { href: "/data?" + new URLSearchParams({ plant: p.plant }), "aria-current": p === plant && "true" }, p.plant) },
    { head: t("data.revisions"), n: true, value: (p) => p.revisions },
    { head: t("data.plans"), n: true, value: (p) => p.plans },
  ], plants));
}

async function revisions(plant, zone) {
  const [list, plans] = await Promise.all([all(`/plants/${seg(plant)}/revisions`), all(`/plants/${seg(plant)}/plans`)]);
  list.reverse();
  const changed = new Map(list.slice(0, compared).map((r) => [r.number, el("span", {}, r.number === 1 ? t("changes.first") : "…")]));
  tell(plant, changed);
  const made = (r) => plans.filter((p) => p.revision_number === r.number);
  return section("revisions", t("data.revisions"), t("data.revisions.about"), table(t("data.revisions"), [
    { head: t("data.revision"), value: (r) => r.number, cell: (r) => el("a", { href: `/data/revisions/${r.number}?${new URLSearchParams({ plant })}` }, t("data.revision.n", { n: String(r.number) })) },
    { head: t("data.when"), value: (r) => r.created, cell: (r) => when(r.created, zone) },
    { head: t("data.files"), value: (r) => [...new Set(r.sheets.map((s) => s.file))].join(", ") },
    { head: t("data.changed"), wide: true, value: (r) => changed.get(r.number)?.textContent ?? "", cell: (r) => changed.get(r.number) ?? "—" },
    { head: t("findings.title"), value: (r) => r.errors * 1e6 + r.warnings * 1e3 + r.notes, cell: (r) => countsText(r) || t("word.none") },
    { head: t("data.plans"), value: (r) => made(r).length, cell: (r) => made(r).length === 0 ? t("word.none") : made(r).slice(-3).map((p) => el("a", { class: "chip", href: "/?" + new URLSearchParams({ plan: p.id }) }, t("plan.number", { id: String(p.id) }))) },
  ], list));
}

/** tell fills in what revisions changed, one after the other. */
async function tell(plant, changed) {
  for (const [n, place] of changed) {
    if (n === 1) continue;
    try {
      const changes = await ask(`/plants/${seg(plant)}/revisions/${n}/changes`);
      place.textContent = changedText(changes) || t("word.none");
    } catch (error) {
      place.textContent = error.message;
    }
  }
}

async function mappings(plant, zone) {
  const list = await ask(`/plants/${seg(plant)}/mappings`);
  const place = el("div");
  const draw = () => place.replaceChildren(section("mappings", t("data.mappings"), t("data.mappings.about"), table(t("data.mappings"), [
    { head: t("data.mapping"), value: (m) => sheetsOf(m.text) },
    { head: t("data.when"), value: (m) => m.created, cell: (m) => when(m.created, zone) },
    { head: t("data.shape"), wide: true, value: (m) => m.shape, cell: (m) => el("div", { class: "tools" }, el("code", {}, m.shape),
      el("button", { type: "button", class: "small", onclick: () => dialog(t("data.mapping"), el("pre", { class: "text", tabindex: 0 }, m.text)) }, t("data.look")),
      el("button", { type: "button", class: "small", onclick: () => forget(m) }, t("data.forget"))) },
  ], list, { empty: t("data.mappings.none") })));
  draw();
  return place;

  async function forget(m) {
    if (await dialog(t("data.forget.sure"), el("p", {}, t("data.forget.about")), [["yes", t("data.forget"), "main"], ["", t("dialog.cancel"), ""]]) !== "yes") return;
    try {
      await ask(`/plants/${seg(plant)}/mappings/${seg(m.shape)}`, { method: "DELETE" });
      list.splice(list.indexOf(m), 1);
      draw();
      say(t("data.forgotten"));
    } catch (error) {
      say(error.message, { bad: true });
    }
  }
}

/** sheetsOf names the sheets that a mapping is about. */
const sheetsOf = (text) => [...text.matchAll(/^sheet: "(.*)"$/gm)].map((m) => m[1]).join(", ");
