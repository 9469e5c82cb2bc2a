// A mapping as the page holds it, and as the text that the API takes.

/** mappingOf is the mapping of a reading, to be changed. */
export const mappingOf = (reading) => structuredClone({
  encoding: reading.encoding, delimiter: reading.delimiter, decimal: reading.decimal, asked: reading.decimal_asked, tables: reading.mapped,
});

/** inEncoding is a mapping that says no more than how texts are written. */
export const inEncoding = (encoding) => ({ encoding, delimiter: "", decimal: "", asked: false, tables: [] });

/** textOf writes a mapping. */
export function textOf(m) {
  const lines = ["lanewright mapping 1"];
  if (m.encoding) lines.push(`encoding: ${m.encoding}`);
  if (m.delimiter) lines.push(`delimiter: ${m.delimiter}`);
  if (m.decimal) lines.push(`decimal: ${m.decimal}`);
  else if (m.asked) lines.push("decimal: ? point or comma");
  for (const table of m.tables) {
    lines.push(`sheet: ${JSON.stringify(table.sheet)}`, `read as: ${table.kind || "-"}`);
    if (!table.kind) continue;
    if (table.row) lines.push(`headings: row ${table.row}, ${table.lines} lines`);
    for (const c of table.columns) lines.push(`${JSON.stringify(c.heading)} = ${meaning(c)}`);
  }
  return lines.join("\n") + "\n";
}

function meaning(c) {
  if (c.certainty === "asked") return `? ${c.candidates.join(" or ")}`;
  if (!c.column) return "-";
  return c.unit ? `${c.column} in ${c.unit}` : c.column;
}
