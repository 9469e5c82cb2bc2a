// Finding loops of a plan by letters of a part, station, cell or container.
import { all, ask, seg } from "../ask.js";
import { el, word } from "../element.js";
import { num } from "../numbers.js";
import { loading, failure } from "../states.js";
import { table } from "../table.js";
import { whyButton } from "../why.js";
import { t } from "../words.js";

const most = 100; // loops shown at once
const pause = 250; // milliseconds between two letters

/** finder is a field and what it finds; wanted is what it begins with, and changed
 *  is told of what is looked for. */
export function finder(plan, wanted = "", changed = () => {}) {
  const place = el("div", { "aria-live": "polite" });
  const field = el("input", { id: "find-loop", type: "search", autocomplete: "off", spellcheck: "false", value: wanted, placeholder: t("loops.find.such") });
  let asked = 0;
  let timer;
  field.addEventListener("input", () => { clearTimeout(timer); timer = setTimeout(find, pause); });
  field.addEventListener("keydown", (e) => { if (e.key === "Enter") { clearTimeout(timer); find(); } });
  if (wanted) find();
  return el("div", {}, el("p", { class: "tools" }, el("label", { for: "find-loop" }, t("loops.find")), field), place);

  async function find() {
    const letters = field.value.trim();
    const turn = ++asked;
    changed(letters);
    if (!letters) return place.replaceChildren();
    if (!place.firstChild) place.replaceChildren(loading());
    try {
      const page = await ask(`/plans/${plan.id}/loops?${new URLSearchParams({ find: letters, limit: most })}`);
      const parts = [...new Set(page.items.map((l) => l.part))];
      const lanes = parts.length <= 20 ? (await Promise.all(parts.map((p) => all(`/plans/${plan.id}/lanes?part=${seg(p)}`)))).flat() : [];
      if (turn === asked) place.replaceChildren(found(plan, { total: 0, ...page }, lanes, letters));
    } catch (error) {
      if (turn === asked) place.replaceChildren(failure(error, find));
    }
  }
}

function found(plan, page, lanes, letters) {
  if (page.items.length === 0) return el("p", { class: "note" }, t("loops.find.none", { wanted: letters }));
  const of = (l) => lanes.filter((x) => x.part === l.part && x.cell === l.cell && x.station === l.station).map((x) => `${x.rack}/${x.level}-${x.lane}`);
  return el("div", {}, el("p", { class: "quiet" }, page.total > page.items.length ? t("loops.find.some", { shown: page.items.length, n: page.total }) : t("loops.find.n", { n: page.total })),
    table(t("loops.find.found"), [
      { head: t("word.part"), value: (l) => l.part, cell: (l) => l.part },
      { head: t("word.cell"), value: (l) => l.cell, cell: (l) => el("a", { href: `/cells/${seg(l.cell)}?plan=${plan.id}` }, l.cell) },
      { head: t("word.station"), value: (l) => l.station },
      lanes.length > 0 && { head: t("loops.find.lies"), wide: true, value: (l) => of(l).join(" · ") },
      { head: t("word.containers"), n: true, value: (l) => l.containers },
      { head: t("word.lanes"), n: true, value: (l) => l.lanes, cell: (l) => l.lanes ? num(l.lanes) : word("bad", t("word.none")) },
      { head: t("loops.pieces"), n: true, decimals: 1, value: (l) => l.pieces_per_hour },
      { head: t("word.route"), value: (l) => l.route, cell: (l) => l.route ? el("a", { href: `/routes/${seg(l.route)}?plan=${plan.id}` }, l.route) : "—" },
      { head: t("map.title"), bare: true, value: () => "", cell: (l) => el("a", { href: "/map?" + new URLSearchParams({ plan: plan.id, find: l.part }), "aria-label": t("loops.find.map", { part: l.part }) }, t("map.see")) },
      { head: t("word.why"), bare: true, value: () => "", cell: (l) => whyButton("loop", { plan: plan.id, part: l.part, cell: l.cell, station: l.station }) },
    ].filter(Boolean), page.items));
}
