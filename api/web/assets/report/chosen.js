// Which cells the report is about: a list to tick, kept in the address.
import { el } from "../element.js";
import { t } from "../words.js";

const many = 12; // cells that deserve a search

/** chosen is the control; changed is called with the codes, none for all cells. */
export function chosen(cells, picked, changed) {
  const set = new Set(picked.filter((c) => cells.some((x) => x.cell === c)));
  const told = el("span", { role: "status" });
  const boxes = cells.map((c) => {
    const input = el("input", { type: "checkbox", value: c.cell, checked: set.has(c.cell), onchange: () => { set[input.checked ? "add" : "delete"](c.cell); tell(); } });
    return el("label", { class: "tick" }, input, el("span", {}, el("b", {}, c.cell), c.name && c.name !== c.cell && el("small", {}, c.name)));
  });
  const search = cells.length > many && el("input", { type: "search", "aria-label": t("report.cells.find"), placeholder: t("report.cells.find"), oninput: () => {
    const wanted = search.value.trim().toLowerCase();
    for (const b of boxes) b.hidden = !b.textContent.toLowerCase().includes(wanted);
  } });
  const all = el("button", { type: "button", class: "small", onclick: () => { set.clear(); for (const b of boxes) b.firstChild.checked = false; tell(); } }, t("report.cells.all"));
  const box = el("details", { class: "chosen", id: "chosen" }, el("summary", {}, told), el("div", { class: "tools" }, search, all),
    el("fieldset", {}, el("legend", {}, t("report.cells.legend")), el("div", { class: "ticks" }, boxes)));
  write();
  return box;

  function write() { told.textContent = set.size === 0 ? t("report.cells.every", { n: cells.length }) : t("report.cells.some", { n: set.size, list: [...set].sort().join(", ") }); }

  function tell() {
    write();
    changed([...set].sort());
  }
}
