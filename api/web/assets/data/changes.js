// What differs between two revisions: counts by sheet, then row by row.
import { el, word } from "../element.js";
import { table } from "../table.js";
import { t } from "../words.js";

const kinds = { added: "good", removed: "bad", changed: "warn" };

/** counts says how many rows of a sheet differ: "3 added, 1 changed". */
const counts = (s) => Object.keys(kinds).filter((k) => s[k] > 0).map((k) => t("changes.n." + k, { n: s[k] })).join(", ");

/** changedText says in a line what differs. */
export const changedText = (changes) => changes.sheets.map((s) => t("changes.sheet", { sheet: s.sheet, what: counts(s) })).join(" · ");

/** changeTable has a row for each value that differs, and for each row that is
 *  new or gone. */
export function changeTable(changes) {
  const rows = changes.sheets.flatMap((s) => s.rows.flatMap((r) => r.values.length
    ? r.values.map((v) => ({ sheet: s.sheet, what: r.what, key: r.key, ...v }))
    : [{ sheet: s.sheet, what: r.what, key: r.key, column: "", old: "", new: "" }]));
  const shown = changes.sheets.reduce((n, s) => n + s.rows.length, 0);
  const all = changes.sheets.reduce((n, s) => n + s.added + s.removed + s.changed, 0);
  return el("div", {}, el("p", {}, changedText(changes), shown < all && ` — ${t("changes.shown", { shown, all })}`), table(t("changes.title"), [
    { head: t("changes.row"), value: (r) => r.key },
    { head: t("data.sheet"), value: (r) => r.sheet },
    { head: t("changes.what"), value: (r) => t("changes." + r.what), cell: (r) => word(kinds[r.what], t("changes." + r.what)) },
    { head: t("data.column"), value: (r) => r.column },
    { head: t("changes.old"), value: (r) => r.old },
    { head: t("changes.new"), value: (r) => r.new },
  ], rows));
}
