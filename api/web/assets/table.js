// The table of all pages: sorted by the buttons in its head, filtered, copied
// into a spreadsheet, drawn in steps. On a narrow window each row is a card.
import { el } from "./element.js";
import { bare, locale, num } from "./numbers.js";
import { say } from "./say.js";
import { t } from "./words.js";

const step = matchMedia("(max-width: 46rem)").matches ? 25 : 100; // rows, or cards, drawn at once
const many = 8; // rows that deserve a filter
const tall = 15; // rows that deserve a window of their own, with the head held

const collator = new Intl.Collator(locale, { numeric: true, sensitivity: "base" });

/** table builds a table. A column is
 *    head      its heading
 *    value     function of a row: the number or text it is sorted, filtered and copied by
 *    cell      function of a row: what stands there, where that is more than the value
 *    n, unit, decimals   a number, the symbol of its unit, its decimals
 *    words     function of a row: more words that the filter finds it by
 *    copied    columns that stand for it on the clipboard, where one does not say it all
 *    wide, bare          on a card: over the whole width, without its heading
 *  and the first one heads its row. sort is the column it is sorted by at first,
 *  "-" before it for descending: "2" or "-2"; else the rows stay as they came. */
export function table(caption, columns, rows, { sort = "", empty = t("table.empty") } = {}) {
  const state = { sort, wanted: "" };
  let found = rows;
  const body = el("tbody", { role: "rowgroup" });
  const heads = columns.map((c, i) => el("th", { scope: "col", role: "columnheader", class: c.n && "n" },
    el("button", { type: "button", onclick: () => sortBy(i) }, c.head, el("span", { class: "arrow", "aria-hidden": "true" }))));
  const frame = el("div", { class: rows.length > tall ? "frame tall" : "frame" },
    el("table", { class: "cards", role: "table", "aria-label": caption },
      el("thead", { role: "rowgroup" }, el("tr", { role: "row" }, heads)), body));
  const told = el("span", { class: "quiet", role: "status" });
  const more = el("div", { class: "more-row" });
  const order = el("select", { "aria-label": t("table.order"), class: "narrow", onchange: (e) => set(e.target.value) },
    el("option", { value: "" }, t("table.order.given")),
    columns.flatMap((c, i) => [[`${i}`, t("table.order.up", { column: c.head })], [`-${i}`, t("table.order.down", { column: c.head })]])
      .map(([value, text]) => el("option", { value }, text)));
  const filter = el("input", { type: "search", "aria-label": t("table.filter.of", { table: caption }), placeholder: t("table.filter"), autocomplete: "off", oninput: (e) => { state.wanted = e.target.value; arrange(); } });

  const watch = new IntersectionObserver((seen) => { if (seen.some((s) => s.isIntersecting)) draw(step); }, { rootMargin: "400px" });
  frame.append(more);
  addEventListener("beforeprint", drawAll);
  set(sort);
  return el("div", { class: "grid" },
    el("div", { class: "grid-tools" }, rows.length > many && [filter, told], rows.length > 1 && order,
      rows.length > 0 && el("button", { type: "button", class: "small", onclick: copy }, t("table.copy"))), frame);

  /** sortBy goes from ascending to descending to the order as it came. */
  function sortBy(i) {
    set({ [`${i}`]: `-${i}`, [`-${i}`]: "" }[state.sort] ?? `${i}`);
  }

  function set(to) {
    state.sort = to;
    order.value = to;
    heads.forEach((th, i) => th.setAttribute("aria-sort", { [`${i}`]: "ascending", [`-${i}`]: "descending" }[to] ?? "none"));
    arrange();
  }

  function arrange() {
    const wanted = state.wanted.toLocaleLowerCase(locale).split(/\s+/).filter(Boolean);
    found = wanted.length ? rows.filter((row) => { const text = textOf(row); return wanted.every((w) => text.includes(w)); }) : rows;
    if (state.sort) found = sorted(found, columns[Math.abs(state.sort)], state.sort.startsWith("-"));
    told.textContent = wanted.length ? t("table.found", { n: found.length, all: rows.length }) : t("table.rows", { n: rows.length });
    body.replaceChildren();
    draw(step);
  }

  /** draw adds so many rows. */
  function draw(count) {
    const drawn = body.rows.length;
    body.append(...found.slice(drawn, drawn + count).map(line));
    watch.disconnect();
    const left = found.length - body.rows.length;
    if (found.length === 0) more.replaceChildren(el("span", { class: "quiet" }, state.wanted ? t("table.nothing") : empty));
    else more.replaceChildren(...left > 0 ? [el("span", { class: "quiet" }, t("table.drawn", { n: found.length, drawn: body.rows.length })),
      el("button", { type: "button", onclick: () => draw(step) }, t("table.more"))] : []);
    if (left > 0) watch.observe(more);
  }

  /** drawAll is for paper; a table that is gone stops listening. */
  function drawAll() {
    if (frame.isConnected) draw(Infinity);
    else removeEventListener("beforeprint", drawAll);
  }

  function line(row) {
    return el("tr", { role: "row" }, columns.map((c, i) => {
      const attributes = { "data-head": c.head, class: [c.n && "n", c.wide && "wide", c.bare && "bare", isNone(c.value(row)) && "none"].filter(Boolean).join(" ") || null };
      const content = c.cell ? c.cell(row) : shown(c, row);
      return i === 0 ? el("th", { ...attributes, scope: "row", role: "rowheader" }, content) : el("td", { ...attributes, role: "cell" }, content);
    }));
  }

  function textOf(row) {
    return columns.map((c) => c.words ? `${shown(c, row)} ${c.words(row)}` : shown(c, row)).join("\t").toLocaleLowerCase(locale);
  }

  /** copy puts what is found, in its order and with its heads, on the clipboard. */
  async function copy() {
    const all = columns.flatMap((c) => c.copied ?? [c]);
    const lines = [all.map((c) => field(c.unit ? `${c.head} (${c.unit})` : c.head)), ...found.map((row) => all.map((c) => field(c.value(row))))];
    try {
      await toClipboard(lines.map((fields) => fields.join("\t")).join("\n"));
      say(t("table.copied", { n: found.length }));
    } catch {
      say(t("table.uncopied"), { bad: true });
    }
  }
}

const isNone = (v) => v === null || v === undefined || v === "";

/** shown is the value of a row as a text. */
function shown(column, row) {
  const v = column.value(row);
  if (isNone(v)) return "—";
  return typeof v === "number" ? num(v, column.decimals) + (column.unit ? "\u00a0" + column.unit : "") : String(v);
}

/** sorted orders rows by the values of a column; what has none comes last. */
function sorted(rows, column, down) {
  const way = down ? -1 : 1;
  return rows.map((row) => [column.value(row), row]).sort(([a], [b]) => {
    if (isNone(a) || isNone(b)) return isNone(a) - isNone(b);
    return way * (typeof a === "number" && typeof b === "number" ? a - b : collator.compare(a, b));
  }).map(([, row]) => row);
}

/** field writes a value for a spreadsheet. A text that would be taken for a
 *  formula gets an apostrophe before it. */
function field(v) {
  if (typeof v === "number") return bare(v);
  const text = String(v ?? "").replace(/[\t\r\n]+/g, " ");
  return /^[=+@-]/.test(text) ? "'" + text : text;
}

/** toClipboard also works where the page came over plain HTTP. */
async function toClipboard(text) {
  if (navigator.clipboard) return navigator.clipboard.writeText(text);
  const area = el("textarea", { readonly: true });
  area.value = text;
  document.body.append(area);
  area.select();
  const done = document.execCommand("copy");
  area.remove();
  if (!done) throw new Error("copy");
}
