// What a file holds and what its columns seem to mean: questions, a table of
// columns for each sheet, and its first rows as they would be understood.
import { el, section, word } from "../element.js";
import { table } from "../table.js";
import { say } from "../say.js";
import { t } from "../words.js";

const sure = { stated: "good", canonical: "good", synonym: "good", words: "warn", asked: "bad", none: "" };
const marks = ["point", "comma"]; // decimal marks, as a mapping names them
const few = 2; // tables that are shown opened
const narrow = matchMedia("(max-width: 46rem)").matches;

/** questions asks what is not certain, each with one button for an answer. */
export function questions(reading, change) {
  const asked = reading.mapped.flatMap((m, i) => m.columns.map((c, j) => [m, c, i, j])).filter(([, c]) => c.certainty === "asked");
  if (asked.length === 0 && !reading.decimal_asked) return null;
  const answer = (id, text, act) => el("button", { type: "button", id, onclick: () => change(act) }, text);
  return section("questions", t("asked.title"), t("asked.about"), el("ul", { class: "list frame" },
    reading.decimal_asked && el("li", {}, el("p", {}, el("strong", {}, t("asked.decimal"))), el("div", { class: "tools" },
      marks.map((mark) => answer("ask-" + mark, t("asked.decimal." + mark), (m) => { m.decimal = mark; })))),
    asked.map(([m, c, i, j]) => el("li", {}, el("p", {}, el("strong", {}, t("asked.heading", { heading: c.heading, sheet: m.sheet }))), c.samples.length > 0 && el("p", { class: "quiet" }, t("asked.samples", { values: c.samples.join(" · ") })), el("div", { class: "tools" },
      c.candidates.map((field, n) => answer(`ask-${i}-${j}-${n}`, field, (mapping) => mean(mapping.tables[i], j, field))),
      answer(`ask-${i}-${j}-none`, t("asked.none"), (mapping) => mean(mapping.tables[i], j, "")))))));
}

/** mean says what a heading means; another one that meant the same does not
 *  any more. */
function mean(mapped, j, field) {
  const other = mapped.columns.find((c, k) => k !== j && field && c.column === field);
  if (other) {
    Object.assign(other, { column: "", unit: "", certainty: "none" });
    say(t("mean.freed", { heading: other.heading, column: field }));
  }
  Object.assign(mapped.columns[j], { column: field, unit: "", certainty: field ? "stated" : "none" });
}

/** meaning shows every table with its columns; state.open has those opened. */
export function meaning(reading, kinds, state, change) {
  const left = [...reading.tables];
  const shown = reading.mapped.map((m) => {
    const at = left.findIndex((p) => m.kind && p.sheet === m.sheet && p.kind === m.kind);
    return at < 0 ? null : left.splice(at, 1)[0];
  });
  state.open ??= new Set(reading.mapped.flatMap((m, i) => opens(reading, m) ? [i] : []));
  const decimal = el("select", { id: "decimal", onchange: (e) => change((m) => { m.decimal = e.target.value; m.asked = false; }) },
    el("option", { value: "" }, t("mean.decimal.shown")), marks.map((mark) => el("option", { value: mark, selected: mark === reading.decimal }, t("mean.decimal." + mark))));
  return section("meaning", t("mean.meaning"), reading.known && !state.mapping ? t("mean.known") : t("mean.about-meaning"),
    el("div", { class: "tools filters" }, reading.encoding && encodingOf(reading, state, change), el("label", { for: "decimal" }, t("mean.decimal")), decimal),
    el("div", { class: "frame" }, reading.mapped.map((m, i) => one(m, i, shown[i], kinds, state, change))));
}

/** opens reports whether a table is shown opened at first: where it is one of
 *  few, or has something to look at; on a phone only then. */
const opens = (reading, m) => !narrow && reading.mapped.length <= few || !m.kind && reading.mapped.length === 1 || m.columns.some((c) => c.certainty === "words" || c.certainty === "asked");

function encodingOf(reading, state, change) {
  const names = [...new Set([reading.encoding, ...state.encodings ?? []])];
  return [el("label", { for: "encoding-is" }, t("mean.encoding")), el("select", { id: "encoding-is", onchange: (e) => change((m) => { m.encoding = e.target.value; }) },
    names.map((name) => el("option", { value: name, selected: name === reading.encoding }, name)))];
}

/** one is a table; what is inside is built when it is opened. */
function one(m, i, preview, kinds, state, change) {
  const counted = (what) => m.columns.filter((c) => c.certainty === what).length;
  const asked = counted("asked");
  const words = counted("words");
  const inside = el("div", { class: "inside" });
  const fill = () => { if (!inside.firstChild) inside.append(settingsOf(m, i, kinds, change), m.kind ? columnTable(m, i, kinds, change) : "", preview ? previewOf(preview) : ""); };
  const details = el("details", { id: `table-${i}`, open: state.open.has(i), ontoggle: () => {
    if (details.open) { fill(); state.open.add(i); } else state.open.delete(i);
  } }, el("summary", {}, el("strong", {}, m.sheet), " ", m.kind ? t("mean.read-as", { kind: m.kind }) : t("mean.not-read"), " ",
    asked ? word("bad", t("mean.n.asked", { n: asked })) : words ? word("warn", t("mean.n.words", { n: words })) : m.kind ? word("good", t("mean.n.sure", { n: m.columns.filter((c) => c.column).length })) : ""), inside);
  if (details.open) fill();
  return details;
}

function settingsOf(m, i, kinds, change) {
  const kind = el("select", { id: `kind-${i}`, onchange: (e) => change((mapping) => { Object.assign(mapping.tables[i], { kind: e.target.value, row: 0, lines: 1, columns: [] }); }) },
    el("option", { value: "" }, t("mean.keep-out")), kinds.map((k) => el("option", { value: k.kind, selected: k.kind === m.kind }, k.kind)));
  const row = el("input", { id: `row-${i}`, type: "number", min: 1, max: 2000000, value: m.row, onchange: (e) => {
    const n = Number(e.target.value);
    if (Number.isInteger(n) && n > 0 && n !== m.row) change((mapping) => { Object.assign(mapping.tables[i], { row: n, lines: 1, columns: [] }); });
  } });
  return el("div", { class: "tools" }, el("label", { for: kind.id }, t("mean.kind")), kind,
    m.kind && [el("label", { for: row.id }, m.lines === 2 ? t("mean.row.two") : t("mean.row")), row]);
}

function columnTable(m, i, kinds, change) {
  const fields = kinds.find((k) => k.kind === m.kind)?.columns ?? [];
  const missing = fields.filter((f) => f.required && !m.columns.some((c) => c.column === f.column));
  const rows = m.columns.map((c, j) => ({ c, j, units: fields.find((f) => f.column === c.column)?.units ?? [] }));
  const meant = ({ c, j }) => el("select", { id: `means-${i}-${j}`, "aria-label": t("mean.means.of", { heading: c.heading }), onchange: (e) => change((mapping) => mean(mapping.tables[i], j, e.target.value)) },
    c.certainty === "asked" && el("option", { value: "?", selected: true, disabled: true }, t("mean.by.asked")),
    el("option", { value: "", selected: c.certainty === "none" }, t("mean.keep-out")),
    fields.map((f) => el("option", { value: f.column, selected: f.column === c.column }, f.required ? t("mean.needed", { column: f.column }) : f.column)));
  const unit = ({ c, j, units }) => units.length === 0 ? "—" : el("select", { id: `unit-${i}-${j}`, "aria-label": t("mean.unit.of", { heading: c.heading }), onchange: (e) => change((mapping) => { mapping.tables[i].columns[j].unit = e.target.value; }) },
    el("option", { value: "" }, t("mean.unit.shown")), [...new Set([...units, c.unit].filter(Boolean))].map((u) => el("option", { value: u, selected: u === c.unit }, u)));
  return el("div", {}, missing.length > 0 && el("p", {}, word("warn", t("mean.missing", { columns: missing.map((f) => f.column).join(", ") }))), table(t("mean.columns.of", { sheet: m.sheet }), [
    { head: t("mean.heading"), value: ({ c }) => c.heading },
    { head: t("mean.means"), wide: true, value: ({ c }) => c.column || t("mean.keep-out"), cell: meant },
    { head: t("mean.unit"), value: ({ c, units }) => units.length ? c.unit || t("mean.unit.shown") : "", cell: unit },
    { head: t("mean.by"), value: ({ c }) => t("mean.by." + c.certainty), cell: ({ c }) => word(sure[c.certainty], t("mean.by." + c.certainty)) },
  ], rows));
}

/** previewOf shows the first rows as they would be understood; the server marks
 *  a value that can not be read by a question mark before it. */
function previewOf(p) {
  const unread = (text) => text.startsWith("? ");
  const states = { used: "good", reported: "bad", skipped: "" };
  return el("div", { class: "preview" }, el("h3", {}, t("mean.preview", { n: p.rows.length })), table(t("mean.preview.of", { sheet: p.sheet }), [
    { head: t("data.row"), n: true, value: (r) => r.row },
    { head: t("mean.became"), value: (r) => t("mean.row." + r.state), cell: (r) => word(states[r.state], t("mean.row." + r.state)) },
    ...p.columns.map((column, k) => ({ head: column, value: (r) => r.values[k], cell: (r) => unread(r.values[k]) ? word("bad", r.values[k]) : r.values[k] || "—" })),
  ], p.rows));
}
