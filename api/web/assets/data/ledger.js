// What became of the rows of each sheet.
import { el, section } from "../element.js";
import { table } from "../table.js";
import { t } from "../words.js";

/** ledger counts the rows of sheets; kind says what a sheet was read as, where
 *  that is known. */
export function ledger(sheets) {
  const columns = [
    { head: t("data.sheet"), value: (s) => s.sheet, cell: (s) => [s.sheet, s.file !== s.sheet && el("small", {}, s.file)] },
    "kind" in (sheets[0] ?? {}) && { head: t("ledger.kind"), value: (s) => s.kind || t("mean.not-read") },
    { head: t("ledger.rows"), n: true, value: (s) => s.rows },
    { head: t("ledger.used"), n: true, value: (s) => s.used },
    { head: t("ledger.reported"), n: true, value: (s) => s.reported },
    { head: t("ledger.skipped"), n: true, value: (s) => s.skipped },
  ].filter(Boolean);
  return section("ledger", t("ledger.title"), t("ledger.about"), table(t("ledger.title"), columns, sheets));
}
