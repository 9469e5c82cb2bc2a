// Building elements and the parts that all pages are made of.

/** el builds an element; text is always text, never markup. */
export function el(name, attributes = {}, ...children) {
  const e = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) {
    if (value === undefined || value === null || value === false) continue;
    if (key.startsWith("on")) e.addEventListener(key.slice(2), value);
    else e.setAttribute(key, value === true ? "" : value);
  }
  e.append(...children.flat(Infinity).filter((c) => c !== null && c !== undefined && c !== false).map((c) => c instanceof Node ? c : String(c)));
  return e;
}

/** track draws a share from 0 to 1 as a bar; the number stands beside it. */
export function track(share, over = false) {
  const fill = el("span");
  fill.style.width = `${Math.max(0, Math.min(1, share)) * 100}%`;
  return el("span", { class: over ? "track over" : "track", "aria-hidden": "true" }, fill);
}

/** figures lists key figures: [name, value, what else]. */
export function figures(list) {
  return el("dl", { class: list.length === 5 ? "figures five" : "figures" }, list.map(([name, value, more]) =>
    el("div", {}, el("dt", {}, name), el("dd", { class: "big" }, value), el("dd", { class: "more" }, more))));
}

/** word marks a state by a word; its colour only helps. Kinds are bad, warn,
 *  good and "". */
export const word = (kind, text) => el("span", { class: `word ${kind}` }, text);

/** section is a part of a page with its heading; filters and the tools of a
 *  table stand beside it. */
export function section(id, title, about, ...rest) {
  const tools = rest.filter((r) => r?.classList?.contains("filters"));
  const tables = rest.filter((r) => r?.classList?.contains("grid")).map((grid) => grid.firstChild);
  return el("section", { id, "aria-labelledby": id + "-title" },
    el("div", { class: "bar-head" }, el("div", {}, el("h2", { id: id + "-title" }, title), about && el("p", {}, about)), el("div", { class: "bar-tools" }, tools, tables)),
    rest.filter((r) => !tools.includes(r)));
}

/** crumb leads back to where a page belongs. */
export const crumb = (href, text, more) => el("p", { class: "crumb" }, el("a", { href }, text), more && ` · ${more}`);

/** titled names the window. */
export function titled(...parts) {
  document.title = [...parts, "Lanewright"].join(" · ");
}
