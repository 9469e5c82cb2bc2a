// The list of findings with its filters; plant and cell pages show it.
import { ask } from "../ask.js";
import { el, section, word } from "../element.js";
import { num } from "../numbers.js";
import { table } from "../table.js";
import { t } from "../words.js";

const few = 10;
const kinds = [["error", "errors", "bad"], ["warning", "warnings", "warn"], ["note", "notes", ""]];

/** findings shows the findings of a plan, or of one cell of it. */
export const findings = (plan, cell = "") => findingsAt(`/plans/${plan}/findings`, cell);

/** findingsAt shows the findings that an address of the API lists. */
export function findingsAt(address, cell = "") {
  const state = { severity: "", code: "", cursor: "" };
  const list = el("ul", { class: "list" });
  const more = el("div", { class: "more-row" });
  const filters = el("div", { class: "tools filters", role: "group", "aria-label": t("findings.which") });

  async function load(anew) {
    if (anew) state.cursor = "";
    const query = new URLSearchParams({ limit: few });
    for (const [k, v] of Object.entries({ ...state, cell })) if (v) query.set(k, v);
    try {
      const page = { total: 0, ...await ask(`${address}?${query}`) }; // a list of none has no total
      if (anew) list.replaceChildren();
      list.append(...page.items.map(item));
      if (page.total === 0) list.replaceChildren(el("li", { class: "quiet" }, t("findings.none")));
      state.cursor = page.next ?? "";
      draw(page);
    } catch (error) {
      more.replaceChildren(el("span", { role: "alert" }, error.message), el("button", { type: "button", onclick: () => load(anew) }, t("states.again")));
    }
  }

  function draw(page) {
    const choose = (severity) => () => { state.severity = severity; state.code = ""; load(true); };
    const button = (severity, text) => el("button", { type: "button", "aria-pressed": String(state.severity === severity), onclick: choose(severity) }, text);
    const codes = page.codes.filter((c) => !state.severity || c.severity === state.severity);
    const select = el("select", { "aria-label": t("findings.kind"), onchange: (e) => { state.code = e.target.value; load(true); } },
      el("option", { value: "" }, t("findings.kinds")),
      codes.map((c) => el("option", { value: c.code, selected: c.code === state.code }, `${c.code} (${num(c.count)})`)));
    const held = document.activeElement?.closest?.(".filters") === filters ? [...filters.children].indexOf(document.activeElement) : -1;
    filters.replaceChildren(button("", t("findings.all", { n: page.errors + page.warnings + page.notes })),
      ...kinds.map(([s, many]) => button(s, t("findings.count." + s, { n: page[many] }))), select);
    filters.children[held]?.focus();
    const shown = list.querySelectorAll("li > .head").length;
    more.replaceChildren(el("span", { class: "quiet" }, t("findings.shown", { shown, all: page.total })),
      state.cursor ? el("button", { type: "button", onclick: () => load(false) }, t("findings.more", { n: Math.min(few, page.total - shown) })) : "");
  }

  load(true);
  return section("findings", t("findings.title"), t("findings.about"), filters, el("div", { class: "frame" }, list, more));
}

/** item is one finding; its own sentences are the server's. */
export function item(f) {
  return el("li", {},
    el("div", { class: "head" }, gravity(f.severity), el("strong", { lang: "en" }, f.summary)),
    el("p", { class: "quiet" }, [place(f.origin), el("code", {}, f.code)].filter(Boolean).flatMap((x, i) => i ? [" · ", x] : [x])),
    f.remedy && el("p", {}, el("strong", {}, t("findings.remedy")), " ", el("span", { lang: "en" }, f.remedy)),
    (f.detail || f.source) && el("details", {}, el("summary", {}, t("findings.why")), el("p", { lang: "en" }, f.detail),
      f.source && el("p", { class: "quiet", lang: "en" }, t("findings.source", { source: f.source }))));
}

/** gravity marks an error, a warning or a note. */
export const gravity = (severity) => word(kinds.find(([s]) => s === severity)[2], t("findings.is." + severity));

/** countsText says how many findings there are: "2 errors, 1 note". */
export const countsText = (of) => kinds.filter(([, many]) => of[many] > 0).map(([s, many]) => t("findings.count." + s, { n: of[many] })).join(", ");

/** place writes an origin as a spreadsheet would: "plant.xlsx, Parts!C41". */
export function place(o) {
  if (!o.file && !o.sheet) return "";
  const cell = o.row ? `!${o.column}${o.row}` : "";
  return [o.file, o.sheet && o.sheet + cell].filter(Boolean).join(", ");
}

/** unplaced lists loops without a lane. */
export function unplaced(list) {
  return table(t("unplaced.title"), [
    { head: t("word.part"), value: (u) => u.part },
    { head: t("word.station"), value: (u) => u.station },
    { head: t("word.containers"), n: true, value: (u) => u.containers },
    { head: t("word.why"), wide: true, bare: true, value: (u) => u.detail, cell: (u) => [u.detail, el("small", {}, el("code", {}, u.reason))] },
  ], list);
}
