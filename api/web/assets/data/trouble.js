// What is wrong with files: kinds of findings with their count and remedy, the
// places of each, and the cell in its sheet.
import { el, section, word } from "../element.js";
import { num } from "../numbers.js";
import { part } from "../states.js";
import { table } from "../table.js";
import { t } from "../words.js";
import { countsText, gravity, place } from "./findings.js";

const around = 8; // rows shown before a cell and after it

/** trouble shows the findings of a reading; excerpt fetches the rows around a
 *  place, tools stand beside the heading. */
export function trouble(reading, files, excerpt, ...tools) {
  const view = el("div", { id: "place" });
  const here = (f) => f.origin.row && files.some((file) => file.name === f.origin.file);
  const rows = reading.codes.map((c) => ({ ...c, list: reading.findings.filter((f) => f.code === c.code) }));
  const open = (row, at) => { view.replaceChildren(shown(row, at)); view.querySelector("h3").focus(); };
  return section("trouble", t("findings.title"), countsText(reading),
    tools.length > 0 && el("div", { class: "tools filters" }, tools),
    rows.length === 0 ? el("p", { class: "note" }, t("findings.none")) : table(t("findings.title"), [
      { head: t("findings.kind"), value: (r) => r.title || r.code, words: (r) => r.code, cell: (r) => [el("span", { lang: "en" }, r.title || r.code), el("small", {}, el("code", {}, r.code))] },
      { head: t("word.state"), value: (r) => t("findings.is." + r.severity), cell: (r) => gravity(r.severity) },
      { head: t("trouble.count"), n: true, value: (r) => r.count },
      { head: t("trouble.remedy"), wide: true, value: (r) => r.list[0].remedy, cell: (r) => el("span", { lang: "en" }, r.list[0].remedy) },
      { head: t("trouble.place"), wide: true, value: (r) => place(r.list[0].origin), cell: (r) => placeOf(r) },
    ], rows), view);

  function placeOf(r) {
    const text = short(r.list[0].origin) || t("trouble.plant");
    if (!r.list.some(here) && r.count === 1) return text;
    return el("button", { type: "button", class: "small", id: "go-" + r.code, onclick: () => open(r, 0) }, text, r.count > 1 && ` +${num(r.count - 1)}`);
  }

  /** shown is one finding of a kind, with the cell that it is about. */
  function shown(r, at) {
    const f = r.list[at];
    const step = (to, text) => el("button", { type: "button", disabled: to < 0 || to >= r.list.length, onclick: () => open(r, to) }, text);
    return el("div", { class: "note" }, el("h3", { tabindex: -1 }, gravity(f.severity), " ", place(f.origin) || t("trouble.plant")),
      el("p", { lang: "en" }, el("strong", {}, f.summary)), f.detail && el("p", { lang: "en" }, f.detail),
      f.remedy && el("p", {}, el("strong", {}, t("findings.remedy")), " ", el("span", { lang: "en" }, f.remedy)),
      r.count > 1 && el("div", { class: "tools" }, step(at - 1, t("trouble.before")), step(at + 1, t("trouble.after")),
        el("span", { class: "quiet" }, t("of", { part: at + 1, all: r.list.length }), r.list.length < r.count && ` — ${t("trouble.most", { n: r.list.length, all: r.count })}`)),
      here(f) ? part(async () => cells(await excerpt(f.origin, around, headingOf(f.origin)), f.origin)) : null);
  }

  /** headingOf is where the headings of a sheet stand. */
  function headingOf(origin) {
    const m = reading.mapped.filter((x) => x.sheet === origin.sheet && x.row && x.row < origin.row).at(-1);
    return m ? { heading: m.row, lines: m.lines } : { heading: 0, lines: 0 };
  }
}

const short = (o) => o.row ? `${o.sheet}!${o.column}${o.row}` : o.sheet || o.file;

/** cells draws a part of a sheet with a cell, or a whole row, marked. */
function cells(excerpt, origin) {
  const width = Math.max(1, ...excerpt.rows.map((r) => r.cells.length), columnOf(origin.column) + 1);
  const letters = Array.from({ length: width }, (_, i) => lettersOf(i));
  const marked = (r, i) => r.row === origin.row && (!origin.column || letters[i] === origin.column);
  const frame = el("div", { class: "frame cells", tabindex: 0, role: "region", "aria-label": t("trouble.cells", { sheet: origin.sheet }) }, el("table", {},
    el("thead", {}, el("tr", {}, el("th", { scope: "col" }, t("data.row")), letters.map((l) => el("th", { scope: "col" }, l)))),
    el("tbody", {}, excerpt.rows.map((r) => el("tr", {}, el("th", { scope: "row" }, String(r.row)),
      letters.map((_, i) => el("td", { class: marked(r, i) && "here", "aria-current": marked(r, i) && "true" }, r.cells[i] ?? "")))))));
  requestAnimationFrame(() => {
    const cell = frame.querySelector(".here");
    if (cell) frame.scrollLeft = cell.offsetLeft - frame.clientWidth / 2;
  });
  return el("div", {}, !excerpt.rows.some((r) => r.row === origin.row) && el("p", {}, word("warn", t("trouble.blank", { row: String(origin.row) }))), frame);
}

/** columnOf and lettersOf count columns from 0, as a spreadsheet letters them. */
const columnOf = (letters) => [...letters].reduce((n, l) => n * 26 + l.charCodeAt(0) - 64, 0) - 1;

function lettersOf(column) {
  let text = "";
  for (let n = column + 1; n > 0; n = Math.floor((n - 1) / 26)) text = String.fromCharCode(65 + (n - 1) % 26) + text;
  return text;
}
