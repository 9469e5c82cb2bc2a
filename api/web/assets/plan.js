// Which plant and plan a page is about, and the picker in the header.
import { all, ask, seg } from "./ask.js";
import { el } from "./element.js";
import { when } from "./numbers.js";
import { t } from "./words.js";

const few = 30; // plans in the picker

/** planOf finds the plan a page is about: the one its address names, else the
 *  latest of the plant it names, else of the first plant that has one. It fills
 *  the picker and lets the header lead on to the same plan. A page with the plan
 *  in the path of its address says which (named) and where others are shown (to). */
export async function planOf({ named, to } = {}) {
  const query = new URLSearchParams(location.search);
  if (named) query.set("plan", named);
  else named = query.get("plan");
  const plan = named ? await ask(`/plans/${seg(named)}/summary`) : null;
  const plants = await all("/plants");
  const name = plan?.plant ?? query.get("plant");
  const plant = name ? plants.find((p) => p.plant === name) : plants.find((p) => p.latest_plan) ?? plants[0];
  if (name && !plant) throw Object.assign(new Error(t("plan.unknown-plant", { plant: name })), { status: 404 });
  const found = plan ?? (plant?.latest_plan ? await ask(`/plans/${plant.latest_plan}/summary`) : null);
  lead(query);
  pick(plants, plant, found, to);
  return { plants, plant, plan: found };
}

/** thePlan is planOf for pages that are nothing without a plan. */
export async function thePlan(about) {
  const { plan } = await planOf(about);
  if (!plan) throw Object.assign(new Error(t("plan.none")), { status: 404 });
  return plan;
}

/** lead carries plant and plan of the address on to the groups. */
function lead(query) {
  const kept = new URLSearchParams([...query].filter(([key]) => key === "plant" || key === "plan"));
  if (kept.size === 0) return;
  for (const a of document.querySelectorAll(".mast nav a, .mast .name")) a.search = kept;
}

async function pick(plants, plant, plan, to = (id) => "?" + new URLSearchParams({ plan: id })) {
  const place = document.getElementById("pick");
  if (plants.length > 1) place.append(choice(t("pick.plant"), "pick-plant", plants.map((p) => [p.plant, p.plant]), plant?.plant,
    (value) => { location.assign("/?" + new URLSearchParams({ plant: value })); }));
  if (!plan || plant.plans < 2) return;
  const stored = await all(`/plants/${seg(plant.plant)}/plans`).catch(() => [plan]);
  const items = stored.reverse().filter((p, i) => i < few || p.id === plan.id);
  place.append(choice(t("pick.plan"), "pick-plan",
    items.map((p) => [String(p.id), p.id === plant.latest_plan ? t("pick.latest", { id: String(p.id) }) : t("pick.older", { id: String(p.id), when: when(p.created, plan.settings.time_zone) })]),
    String(plan.id), (value) => { location.assign(to(value)); }));
}

function choice(label, id, list, value, changed) {
  return el("span", {}, el("label", { for: id }, label), " ",
    el("select", { id, onchange: (e) => changed(e.target.value) }, list.map(([v, text]) => el("option", { value: v, selected: v === value }, text))));
}
