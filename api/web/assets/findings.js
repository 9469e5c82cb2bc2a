// The list of findings with its filters; plant and cell pages show it.
import { ask, count, el, num, section, table, word } from "./base.js";

const few = 10;
const kinds = [["error", "errors", "bad"], ["warning", "warnings", "warn"], ["note", "notes", ""]];

/** findings shows the findings of a plan, or of one cell of it. */
export function findings(plan, cell = "") {
  const state = { severity: "", code: "", cursor: "" };
  const list = el("ul", { class: "list" });
  const more = el("div", { class: "more-row" });
  const filters = el("div", { class: "tools filters", role: "group", "aria-label": "Which findings" });

  async function load(anew) {
    if (anew) state.cursor = "";
    const query = new URLSearchParams({ limit: few });
    for (const [k, v] of Object.entries({ ...state, cell })) if (v) query.set(k, v);
    try {
      const page = await ask(`/plans/${plan}/findings?${query}`);
      if (anew) list.replaceChildren();
      list.append(...page.items.map(item));
      if (page.total === 0) list.replaceChildren(el("li", { class: "quiet" }, "Nothing to report here."));
      state.cursor = page.next ?? "";
      draw(page);
    } catch (error) {
      more.replaceChildren(el("span", { role: "alert" }, error.message), el("button", { onclick: () => load(anew) }, "Try again"));
    }
  }

  function draw(page) {
    const all = page.errors + page.warnings + page.notes;
    const choose = (severity) => () => { state.severity = severity; state.code = ""; load(true); };
    const button = (severity, text) => el("button", { "aria-pressed": String(state.severity === severity), onclick: choose(severity) }, text);
    const codes = page.codes.filter((c) => !state.severity || c.severity === state.severity);
    const select = el("select", { "aria-label": "Kind of finding", onchange: (e) => { state.code = e.target.value; load(true); } },
      el("option", { value: "" }, "all kinds"),
      codes.map((c) => el("option", { value: c.code, selected: c.code === state.code }, `${c.code} (${num(c.count)})`)));
    const held = document.activeElement?.closest?.(".filters") === filters ? [...filters.children].indexOf(document.activeElement) : -1;
    filters.replaceChildren(button("", `all ${num(all)}`), ...kinds.map(([s, many]) => button(s, count(page[many], s))), select);
    filters.children[held]?.focus();
    const shown = list.querySelectorAll("li > .head").length;
    more.replaceChildren(el("span", { class: "quiet" }, `${num(shown)} of ${num(page.total)} shown`),
      state.cursor ? el("button", { onclick: () => load(false) }, `Show ${num(Math.min(few, page.total - shown))} more`) : "");
  }

  load(true);
  return section("findings", "Findings", "What the planner noticed, the gravest first, with where it stood and what to do.",
    filters, el("div", { class: "frame" }, list, more));
}

/** item is one finding. */
function item(f) {
  const [, , kind] = kinds.find(([s]) => s === f.severity);
  return el("li", {},
    el("div", { class: "head" }, word(kind, f.severity), el("strong", {}, f.summary)),
    el("p", { class: "quiet" }, [place(f.origin), el("code", {}, f.code)].filter(Boolean).flatMap((x, i) => i ? [" · ", x] : [x])),
    f.remedy && el("p", {}, el("strong", {}, "What to do: "), f.remedy),
    (f.detail || f.source) && el("details", {}, el("summary", {}, "Why"), el("p", {}, f.detail), f.source && el("p", { class: "quiet" }, "After: " + f.source)));
}

/** place writes an origin as a spreadsheet would: "plant.xlsx, Parts!C41". */
function place(o) {
  if (!o.file && !o.sheet) return "";
  const cell = o.row ? `!${o.column}${o.row}` : "";
  return [o.file, o.sheet && o.sheet + cell].filter(Boolean).join(", ");
}

/** unplaced lists loops without a lane. */
export function unplaced(list) {
  return el("div", { class: "frame" }, table("Loops without a lane", [
    { head: "Part", cell: (u) => u.part },
    { head: "Station", cell: (u) => u.station },
    { head: "Containers", n: true, cell: (u) => num(u.containers) },
    { head: "Why", wide: true, bare: true, cell: (u) => [u.detail, el("small", {}, el("code", {}, u.reason))] },
  ], list));
}
