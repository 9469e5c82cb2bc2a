// Numbers, measures and moments as this person's language and units write them.

/** locale is the language of the page; English dates begin with the day. */
export const locale = document.documentElement.lang === "en" ? "en-GB" : document.documentElement.lang;

const writers = new Map();

/** num writes a number with at most so many decimals. */
export function num(value, decimals = 0) {
  if (!writers.has(decimals)) writers.set(decimals, new Intl.NumberFormat(locale, { maximumFractionDigits: decimals }));
  return writers.get(decimals).format(value);
}

const plain = new Intl.NumberFormat(locale, { maximumFractionDigits: 6, useGrouping: false });

/** bare writes a number as a spreadsheet of the language reads it. */
export const bare = (value) => plain.format(value);

/** amount writes a number with the symbol of its unit, which is the same in
 *  every language. */
export const amount = (value, symbol, decimals = 0) => `${num(value, decimals)}\u00a0${symbol}`;

const lengths = { mm: [1, 0], cm: [10, 1], m: [1000, 3], in: [25.4, 2], ft: [304.8, 2] };
const masses = { kg: [1, 1], g: [0.001, 0], t: [1000, 3], lb: [0.45359237, 1], oz: [0.45359237 / 16, 0] };
const chosen = { metric: ["mm", "kg"], inch: ["in", "lb"] };

/** units returns writers of lengths (mm) and masses (kg): in the plant's units,
 *  or in those this person chose. length(mm) and mass(kg) are texts; lengthOf
 *  and massOf are the parts of a table's column. tape(mm) is as fine as what is
 *  measured and cut by: a tenth of a millimetre, a sixteenth of an inch. */
export function units(settings) {
  const [length, mass] = chosen[document.documentElement.dataset.units] ?? [settings.length_unit, settings.mass_unit];
  const l = measure(lengths, length, "mm");
  const m = measure(masses, mass, "kg");
  const tape = { in: inches, ft: inches }[l.unit] ?? ((v) => amount(v / lengths[l.unit][0], l.unit, { mm: 1, cm: 2, m: 4 }[l.unit]));
  const tapeOf = (get) => ({ ...l.column(get), decimals: 4, cell: (row) => tape(get(row)) });
  return { length: l.text, lengthOf: l.column, lengthUnit: l.unit, tape, tapeOf, mass: m.text, massOf: m.column, massUnit: m.unit };
}

function measure(table, wanted, usual) {
  const unit = table[wanted] ? wanted : usual;
  const [size, decimals] = table[unit];
  return {
    unit,
    text: (v) => amount(v / size, unit, decimals),
    column: (get) => ({ n: true, unit, decimals, value: (row) => get(row) / size }),
  };
}

/** inches writes mm as a tape shows them: "59 1/16 in". */
function inches(mm) {
  const sixteenths = Math.round(Math.abs(mm) / 25.4 * 16);
  const whole = Math.floor(sixteenths / 16);
  let [part, of] = [sixteenths % 16, 16];
  while (part > 0 && part % 2 === 0) [part, of] = [part / 2, of / 2];
  const text = [whole > 0 || part === 0 ? num(whole) : "", part > 0 ? `${part}/${of}` : ""].filter(Boolean).join("\u00a0");
  return `${mm < 0 && sixteenths > 0 ? "−" : ""}${text}\u00a0in`;
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
    return new Intl.DateTimeFormat(locale, { ...options, timeZone });
  } catch {
    return new Intl.DateTimeFormat(locale, { ...options, timeZone: "UTC" });
  }
}

/** nextOf returns the next few clock times after now; a day begins anew. */
export function nextOf(departures, now, few) {
  const later = departures.filter((d) => d >= now).sort();
  const tomorrow = departures.filter((d) => d < now).sort();
  return [...later, ...tomorrow].slice(0, few);
}
