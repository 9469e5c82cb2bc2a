// What the floor worked to: publications, the latest first, and the way back to one.
import { el, section } from "../element.js";
import { num, when } from "../numbers.js";
import { empty } from "../states.js";
import { table } from "../table.js";
import { t } from "../words.js";
import { publish } from "./publish.js";

/** history lists the publications of a plant. */
export function history(plan, floor, drafts) {
  if (floor.before.length === 0) return section("history", t("draft.history"), null, empty(el("p", {}, t("draft.history.none"))));
  const current = floor.published.id;
  const name = (p) => drafts.find((d) => d.id === p.draft)?.name ?? "";
  return section("history", t("draft.history"), t("draft.history.about"), table(t("draft.history"), [
    { head: t("draft.plan"), value: (p) => t("plan.number", { id: String(p.plan) }), cell: (p) => [el("a", { href: `/plans/${p.plan}` }, t("plan.number", { id: String(p.plan) })),
      p.id === current && el("small", {}, t("draft.history.now"))] },
    { head: t("draft.history.when"), value: (p) => p.created, cell: (p) => when(p.created, plan.settings.time_zone) },
    { head: t("draft.people"), value: (p) => p.by },
    { head: t("draft.history.what"), wide: true, value: (p) => p.draft ? name(p) || t("draft.number", { id: String(p.draft) }) : t("draft.history.plan"),
      cell: (p) => p.draft ? el("a", { href: `/drafts/${p.draft}` }, name(p) || t("draft.number", { id: String(p.draft) })) : t("draft.history.plan") },
    { head: t("draft.note"), wide: true, value: (p) => p.note },
    { head: t("draft.carry"), n: true, value: (p) => p.changed.containers, 
      cell: (p) => el("a", { href: "/moves?" + new URLSearchParams({ plan: p.plan, ...p.plan_before && { since: p.plan_before } }) }, num(p.changed.containers)) },
    { head: t("draft.act"), bare: true, value: (p) => p.plan === floor.published.plan ? "" : t("draft.back"), cell: (p) => p.plan === floor.published.plan ? "" :
      el("button", { type: "button", class: "small", "aria-label": t("draft.back.to", { plan: String(p.plan) }), onclick: () => publish({ plan: p.plan, floor }, () => location.reload()) }, t("draft.back")) },
  ], floor.before));
}
