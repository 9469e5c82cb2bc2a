// A draft, its edits and its state in words.
import { ask, seg } from "../ask.js";
import { dialog } from "../dialog.js";
import { el, word } from "../element.js";
import { num } from "../numbers.js";
import { t } from "../words.js";

/** address writes a lane's address as it stands on its label: RACK/LEVEL-LANE. */
export const address = (at) => at.rack + (at.level ? `/${at.level}` : "") + (at.lane ? `-${at.lane}` : "");

/** places writes where a loop lies. */
export const places = (spots) => spots.length ? spots.map(address).join(", ") : t("draft.nowhere");

/** tag is the entity tag of a draft as it was seen. */
export const tag = (d) => ({ "If-Match": `"draft-${d.id}-${d.version}"` });

/** editText says an edit in words; loops are those it names, before and after it, where
 *  that is known. */
export function editText(e, loops = []) {
  const [one, other] = loops;
  const name = (l) => l ? t("draft.loop", { part: l.part, station: l.station }) : "";
  const args = {
    loop: name(e.loop), other: name(e.with), n: e.containers ?? 0,
    from: one ? places(one.before.spots) : e.from ? address(e.from) : "", to: one && e.kind !== "pin" ? places(one.after.spots) : e.to ? address(e.to) : t("draft.where.it.lies"),
    there: other ? places(other.before.spots) : "",
    container: e.container ?? "", was: one?.before.container ?? "", pack: one?.after.pack ?? e.pack ?? 0,
    min: num(e.interval_min ?? 0, 1), old: one ? num(one.before.interval_min, 1) : "",
  };
  if (e.kind === "move") return t(!args.from ? "draft.is.move.to" : e.containers ? "draft.is.move.some" : "draft.is.move", args);
  const told = one && ["swap", "container", "interval"].includes(e.kind);
  return told ? t("draft.did." + e.kind, args) : t("draft.is." + e.kind, args);
}

/** sizeText says what an edit made of a loop's number of containers. */
export const sizeText = (l) => l.before.containers === l.after.containers ? "" : t("draft.sized", { part: l.part, before: l.before.containers, after: l.after.containers });

/** editCells are the cells that an edit names. */
export const editCells = (e) => [...new Set([e.loop, e.with].filter(Boolean).map((l) => l.cell))];

/** cellLink leads to a cell as a draft leaves it. */
export const cellLink = (draft, cell) => el("a", { href: `/cells/${seg(cell)}?` + new URLSearchParams({ plan: draft.plan, draft: draft.id }) }, cell);

/** standing says how an open draft stands to what the floor works to: [kind, text]. */
export function standing(d, floor) {
  if (d.published_plan) return ["good", t("draft.published", { plan: String(d.published_plan) })];
  if (floor.published && floor.published.plan !== d.plan) return ["warn", t("draft.other.published", { plan: String(floor.published.plan) })];
  if (!floor.published && floor.latest > d.plan) return ["warn", t("draft.later.plan", { plan: String(floor.latest) })];
  return ["", t("draft.open")];
}

/** floorOf tells what the floor of a plant works to, and its latest plan. */
export async function floorOf(name) {
  const [published, plant] = await Promise.all([ask(`/plants/${seg(name)}/published?limit=100`), ask(`/plants/${seg(name)}`)]);
  return { published: published.current, latest: plant.latest_plan, before: published.items, plant: name };
}

/** stateWord is standing as a marked word. */
export const stateWord = (d, floor) => word(...standing(d, floor));

/** throwAway removes a draft after a question; where somebody changed it since it was
 *  seen it stays, and that is told. */
export async function throwAway(d, edits) {
  const answer = await dialog(t("draft.throw.title", { name: d.name }), el("p", {}, edits ? t("draft.throw.about", { n: edits }) : t("draft.throw.empty")),
    [["throw", t("draft.throw"), "main"], ["", t("dialog.cancel"), ""]]);
  if (answer !== "throw") return false;
  try {
    await ask(`/drafts/${d.id}`, { method: "DELETE", headers: tag(d) });
  } catch (error) {
    throw error.status === 412 ? new Error(t("draft.throw.changed", { by: error.problem?.since?.at(-1)?.by ?? d.by })) : error;
  }
  return true;
}
