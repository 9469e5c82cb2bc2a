// How a cell stands, in a word; and what it is short of, by lane width.
import { el, word } from "../element.js";
import { seg } from "../ask.js";
import { t } from "../words.js";

/** isShort reports whether something of a cell lies nowhere. */
export const isShort = (c) => c.lanes_short > 0 || c.containers_unplaced > 0;

/** byShort orders cells, those that lack most first. */
export const byShort = (cells) => [...cells].sort((a, b) => b.lanes_short - a.lanes_short || b.containers_unplaced - a.containers_unplaced);

/** stateText says how a cell stands. */
export function stateText(c) {
  if (c.lanes_short > 0) return t("lanes.short", { n: c.lanes_short });
  if (c.containers_unplaced > 0) return t("containers.unplaced", { n: c.containers_unplaced });
  return c.lanes_free === 0 ? t("cell.full") : t("cell.enough");
}

/** state is the same as a marked word. */
export const state = (c) => word(isShort(c) ? "bad" : c.lanes_free === 0 ? "warn" : "good", stateText(c));

/** shortWidths lists the lane widths a cell lacks lanes of: "420 mm: 2". */
export const shortWidths = (c, u) => c.balance.filter((b) => b.needed > b.placed).map((b) => t("cells.width.short", { width: u.length(b.width_mm), n: b.needed - b.placed })).join(" · ");

/** cellLink leads to a cell, its name below it. */
export const cellLink = (plan, c) => [el("a", { href: `/cells/${seg(c.cell)}?plan=${plan.id}` }, c.cell),
  c.name && c.name !== c.cell && el("small", {}, c.name)];

/** widthState says whether a cell has the lanes of one width. */
export const widthState = (b) => b.needed > b.placed ? t("lanes.short", { n: b.needed - b.placed }) : t("cell.enough");
