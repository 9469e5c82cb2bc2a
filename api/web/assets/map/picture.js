// The map as a file: an SVG written by a brush of its own, or its PNG.
import { head } from "./canvas.js";

/** svgOf writes what paint(brush) draws. */
export function svgOf(title, colours, place, [width, height], paint) {
  const out = [];
  const px = (n) => Math.round(n * 10) / 10;
  const list = (points) => points.map((p) => p.map(px).join(" ")).join("L");
  const line = (s) => `stroke="${colours[s.stroke]}" stroke-width="${s.width}"${s.dash ? ` stroke-dasharray="${s.dash.join(" ")}"` : ""}${s.thin ? ` stroke-opacity="${s.thin}"` : ""}`;
  paint({
    ground() { out.push(`<rect width="${px(width)}" height="${px(height)}" fill="${colours.ground}"/>`); },
    box(b, s) {
      const [x, y] = place({ x: b.left, y: b.top });
      const [right, bottom] = place({ x: b.right, y: b.bottom });
      out.push(`<rect x="${px(x)}" y="${px(y)}" width="${px(right - x)}" height="${px(bottom - y)}" rx="${s.round}" fill="${colours[s.fill]}" ${line(s)}/>`);
    },
    line(points, s) { out.push(`<path d="M${list(points.map(place))}" fill="none" stroke-linejoin="round" stroke-linecap="round" ${line(s)}/>`); },
    dot(p, radius, s) {
      const [x, y] = place(p);
      out.push(`<circle cx="${px(x)}" cy="${px(y)}" r="${radius}" fill="${colours[s.fill]}"/>`);
    },
    arrow(from, to, size, s) { out.push(`<path d="M${list(head(place(from), place(to), size))}Z" fill="${colours[s.fill]}"/>`); },
    text(text, p, s) {
      const [x, y] = place(p);
      const halo = s.halo ? ` stroke="${colours.ground}" stroke-width="3" paint-order="stroke"` : "";
      out.push(`<text x="${px(x)}" y="${px(y - (s.up ?? 0))}" font-size="${s.size}" font-weight="${s.weight ?? 400}" fill="${colours[s.fill]}" text-anchor="middle" dominant-baseline="central"${halo}>${escaped(text)}</text>`);
    },
  });
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${px(width)} ${px(height)}" width="${px(width)}" height="${px(height)}" font-family="system-ui, 'Noto Sans', sans-serif"><title>${escaped(title)}</title>\n${out.join("\n")}\n</svg>\n`;
}

const escaped = (text) => text.replace(/[&<>"]/g, (c) => `&#${c.charCodeAt(0)};`);

/** save hands a file to the person. */
export function save(name, blob) {
  const a = document.createElement("a");
  a.href = URL.createObjectURL(blob);
  a.download = name;
  a.click();
  setTimeout(() => URL.revokeObjectURL(a.href), 10000);
}
