// One revision of a plant's facts: what it changed, its rows, its findings.
import { all, ask, seg } from "../ask.js";
import { crumb, el, section, titled } from "../element.js";
import { when } from "../numbers.js";
import { planOf } from "../plan.js";
import { planAgain } from "../plans/run.js";
import { begin } from "../shell.js";
import { part, show } from "../states.js";
import { t } from "../words.js";
import { changeTable } from "./changes.js";
import { findingsAt } from "./findings.js";
import { ledger } from "./ledger.js";

begin(async () => {
  const { plant, plan } = await planOf();
  if (!plant) throw Object.assign(new Error(t("data.none")), { status: 404 });
  const number = location.pathname.split("/").at(-1);
  const at = `/plants/${seg(plant.plant)}/revisions/${seg(number)}`;
  const [revision, plans] = await Promise.all([ask(at), all(`/plants/${seg(plant.plant)}/plans`)]);
  const made = plans.filter((p) => p.revision_number === revision.number);
  const run = el("div");
  const name = t("data.revision.n", { n: String(revision.number) });
  titled(name, plant.plant);
  show(crumb("/data?" + new URLSearchParams({ plant: plant.plant }), t("data.title"), plant.plant),
    el("div", { class: "lead" }, el("div", {}, el("h1", {}, name), el("p", { class: "sub" }, t("revision.stored", { when: when(revision.created, plan?.settings.time_zone), hash: revision.revision.slice(0, 12) }))),
      el("div", { class: "tools" }, revision.number === plant.revisions && planAgain(plant.plant, t("done.make"), run),
        el("a", { class: "button", href: `/api/v1${at}/workbook.xlsx`, download: true }, t("data.book")))), run,
    el("p", {}, made.length ? [t("revision.plans"), " ", made.map((p) => el("a", { class: "chip", href: "/?" + new URLSearchParams({ plan: p.id }) }, t("plan.number", { id: String(p.id) })))] : t("revision.unplanned")),
    part(() => changesOf(at, revision.number)), ledger(revision.sheets), findingsAt(at + "/findings"));
});

async function changesOf(at, number) {
  if (number === 1) return section("changes", t("changes.title"), t("changes.first"));
  const changes = await ask(at + "/changes");
  return section("changes", t("changes.title"), t("changes.against", { n: String(changes.against) }),
    changes.sheets.length ? changeTable(changes) : el("p", { class: "note" }, t("changes.none", { n: String(changes.against) })));
}
