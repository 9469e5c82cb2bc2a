// What holds a rack: how far each member is used, and how firmly it stands.
import { el, section, track, word } from "../element.js";
import { amount, num } from "../numbers.js";
import { table } from "../table.js";
import { t } from "../words.js";

const key = (text) => text.replace(/['’]/g, "").replaceAll(" ", "-");
/** role names what a member does. */
export const role = (r) => t("rack.role." + key(r));

/** against says a value and its limit in one unit. */
const against = (use, u) => use.value === null || use.limit === null ? "—" : use.unit === "mm"
  ? t("rack.against", { value: u.tape(use.value), limit: u.tape(use.limit) })
  : t("rack.against", { value: amount(use.value, use.unit, 1), limit: amount(use.limit, use.unit, 1) });

/** governing is the member that limits a rack; undefined where nothing is known. */
export function governing(built) {
  const [use] = built.screening?.uses ?? [];
  return use && use.share !== null ? { share: use.share, text: t("rack.governs", { mark: use.mark, role: role(use.role), by: t("rack.by." + key(use.by)) }) } : undefined;
}

/** worst keeps the most used of the members that do the same on a level. */
function worst(uses) {
  const seen = new Set();
  return uses.filter((m) => !seen.has(m.role + m.level) && seen.add(m.role + m.level));
}

/** holds lists the members and the edges that it could tip over. */
export function holds(built, u) {
  const s = built.screening;
  if (!s) return null;
  return section("holds", t("rack.holds"), t("rack.holds.about"), table(t("rack.holds"), [
    { head: t("rack.mark"), value: (m) => m.mark },
    { head: t("rack.role"), value: (m) => role(m.role) },
    { head: t("rack.by"), value: (m) => t("rack.by." + key(m.by)) },
    { head: t("rack.carries"), ...u.massOf((m) => m.load_kg) },
    { head: t("rack.value"), value: (m) => m.value, cell: (m) => against(m, u) },
    { head: t("rack.share"), n: true, unit: "%", value: (m) => m.share === null ? null : m.share * 100, cell: (m) => m.share === null ? "—" : [m.share > 1 ? word("bad", amount(m.share * 100, "%")) : amount(m.share * 100, "%"), track(m.share, m.share > 1)] },
  ], worst(s.uses)), el("div", { class: "apart" }, el("h3", {}, t("rack.tips")), el("p", { class: "quiet" }, t("rack.tips.about", { times: num(s.slenderness, 1) })), table(t("rack.tips"), [
    { head: t("rack.edge"), value: (x) => t("rack.edge." + key(x.edge)) },
    { head: t("rack.lean"), n: true, unit: "°", decimals: 1, value: (x) => x.angle_deg },
    { head: t("rack.push"), n: true, decimals: 2, value: (x) => x.push, cell: (x) => x.push === null ? "—" : x.push < 1 ? word("bad", num(x.push, 2)) : num(x.push, 2) },
  ], s.tips)));
}
