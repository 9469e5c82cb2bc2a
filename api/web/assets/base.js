// What all pages share: asking the API, building elements, writing numbers.

/** ask fetches JSON; a failure is an Error with the problem's detail. */
export async function ask(path, options = {}) {
  let answer;
  try {
    answer = await fetch("/api/v1" + path, { headers: { Accept: "application/json" }, ...options });
  } catch {
    throw new Error("The server does not answer. Is it still running?");
  }
  const body = await answer.json().catch(() => null);
  if (!answer.ok) {
    const more = (body?.errors ?? []).map((e) => `${e.location}: ${e.message}`).join("; ");
    const error = new Error([body?.detail ?? `The server answered ${answer.status}.`, more].filter(Boolean).join(" "));
    error.status = answer.status;
    throw error;
  }
  return body;
}

/** all fetches every page of a list. */
export async function all(path) {
  const items = [];
  const join = path.includes("?") ? "&" : "?";
  for (let cursor = ""; ;) {
    const page = await ask(`${path}${join}limit=1000${cursor && "&cursor=" + encodeURIComponent(cursor)}`);
    items.push(...page.items);
    if (!page.next) return items;
    cursor = page.next;
  }
}

/** seg writes a code as a part of an address. */
export const seg = encodeURIComponent;

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

const numbers = new Map();

/** num writes a number with at most so many decimals. */
export function num(value, decimals = 0) {
  if (!numbers.has(decimals)) numbers.set(decimals, new Intl.NumberFormat("en", { maximumFractionDigits: decimals }));
  return numbers.get(decimals).format(value);
}

/** count writes "1 lane" or "2 lanes". */
export const count = (n, one, many = one + "s") => `${num(n)} ${n === 1 ? one : many}`;

const lengthUnits = { mm: [1, 0], cm: [10, 1], m: [1000, 3], in: [25.4, 2], ft: [304.8, 2] };
const massUnits = { kg: [1, 1], g: [0.001, 0], t: [1000, 3], lb: [0.45359237, 1], oz: [0.45359237 / 16, 0] };

/** units returns writers of lengths (mm) and masses (kg) in the plant's units. */
export function units(settings) {
  const write = (table, unit, fallback) => {
    const [size, decimals] = table[unit] ?? table[fallback];
    return (v) => `${num(v / size, decimals)} ${table[unit] ? unit : fallback}`;
  };
  return { length: write(lengthUnits, settings.length_unit, "mm"), mass: write(massUnits, settings.mass_unit, "kg") };
}

/** when writes a moment in the plant's time zone. */
export function when(text, zone) {
  return inZone({ dateStyle: "medium", timeStyle: "short" }, zone).format(new Date(text));
}

/** clock tells the time of day at the plant as "07:30". */
export function clock(zone, at = new Date()) {
  return inZone({ hour: "2-digit", minute: "2-digit", hourCycle: "h23" }, zone).format(at);
}

function inZone(options, timeZone) {
  try {
    return new Intl.DateTimeFormat("en-GB", { ...options, timeZone });
  } catch {
    return new Intl.DateTimeFormat("en-GB", { ...options, timeZone: "UTC" });
  }
}

/** nextOf returns the next few clock times after now; a day begins anew. */
export function nextOf(departures, now, few) {
  const later = departures.filter((d) => d >= now).sort();
  const tomorrow = departures.filter((d) => d < now).sort();
  return [...later, ...tomorrow].slice(0, few);
}

/** table builds a table; on a narrow window each row becomes a card. A column
 *  is {head, cell(row), n: number, wide, bare}; the first one heads its row. */
export function table(caption, columns, rows) {
  const head = el("tr", { role: "row" }, columns.map((c) => el("th", { scope: "col", role: "columnheader", class: c.n && "n" }, c.head)));
  const body = rows.map((row) => el("tr", { role: "row" }, columns.map((c, i) => {
    const attributes = { "data-head": c.head, class: [c.n && "n", c.wide && "wide", c.bare && "bare"].filter(Boolean).join(" ") || null };
    return i === 0
      ? el("th", { ...attributes, scope: "row", role: "rowheader" }, c.cell(row))
      : el("td", { ...attributes, role: "cell" }, c.cell(row));
  })));
  return el("table", { class: "cards", role: "table", "aria-label": caption },
    el("thead", { role: "rowgroup" }, head), el("tbody", { role: "rowgroup" }, body));
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

/** word marks a state by a word; its colour only helps. */
export const word = (kind, text) => el("span", { class: `word ${kind}` }, text);

/** section is a part of a page with its heading. */
export function section(id, title, about, ...rest) {
  const tools = rest.filter((r) => r?.classList?.contains("filters"));
  return el("section", { id, "aria-labelledby": id + "-title" },
    el("div", { class: "bar-head" }, el("div", {}, el("h2", { id: id + "-title" }, title), about && el("p", {}, about)), tools),
    rest.filter((r) => !tools.includes(r)));
}

/** show puts a page's content in its place. */
export function show(...content) {
  const place = document.getElementById("content");
  place.replaceChildren(...content.flat(Infinity).filter(Boolean));
  place.setAttribute("aria-busy", "false");
  if (location.hash) document.getElementById(decodeURIComponent(location.hash.slice(1)))?.scrollIntoView();
}

/** failed says what went wrong and offers to try again. */
export function failed(error) {
  console.debug(error);
  show(el("div", { class: "note bad", role: "alert" },
    el("h1", {}, error.status === 404 ? "Not here" : "This did not work"), el("p", {}, error.message),
    el("p", {}, el("a", { href: "/" }, "To the plant")),
    el("button", { onclick: () => location.reload() }, "Try again")));
}

/** foot ends a page. */
export function foot(...content) {
  document.getElementById("foot").replaceChildren(...content);
}

/** planOf finds the plan a page is about: the one its address names, else the
 *  latest of the plant it names, else of the first plant. */
export async function planOf() {
  const query = new URLSearchParams(location.search);
  if (query.get("plan")) return { plan: await ask(`/plans/${seg(query.get("plan"))}/summary`), named: true };
  const plants = await all("/plants");
  const name = query.get("plant");
  if (name && !plants.some((p) => p.plant === name)) throw Object.assign(new Error(`There is no plant “${name}”.`), { status: 404 });
  const plant = name ? plants.find((p) => p.plant === name) : plants.find((p) => p.latest_plan) ?? plants[0];
  return { plants, plant, plan: plant?.latest_plan ? await ask(`/plans/${plant.latest_plan}/summary`) : null };
}
