// A brush on a canvas; its colours are those of the style sheet.

const names = ["ground", "sheet", "hole", "ink", "quiet", "line", "edge", "accent", "bad", "step0", "step1", "step2", "step3", "step4", "onstep"];

/** coloursOf reads the map's colours where an element stands, light or dark. */
export function coloursOf(element) {
  const probe = document.createElement("span");
  element.append(probe);
  const colours = Object.fromEntries(names.map((name) => {
    probe.style.color = `var(--${name})`;
    return [name, getComputedStyle(probe).color];
  }));
  probe.remove();
  return colours;
}

/** canvasBrush paints with place(spot) → [x, y] in pixels. */
export function canvasBrush(c, colours, place, size) {
  const path = (points) => points.forEach((p, i) => c[i ? "lineTo" : "moveTo"](...place(p)));
  const stroke = ({ stroke, width, dash, thin }) => {
    c.globalAlpha = thin ?? 1;
    c.strokeStyle = colours[stroke];
    c.lineWidth = width;
    c.setLineDash(dash ?? []);
    c.lineCap = dash ? "butt" : "round";
    c.stroke();
    c.globalAlpha = 1;
  };
  return {
    ground() {
      c.fillStyle = colours.ground;
      c.fillRect(0, 0, ...size);
      c.lineJoin = c.lineCap = "round";
      c.textAlign = "center";
      c.textBaseline = "middle";
    },
    box(b, style) {
      const [x, y] = place({ x: b.left, y: b.top });
      const [right, bottom] = place({ x: b.right, y: b.bottom });
      c.beginPath();
      c.roundRect(x, y, right - x, bottom - y, style.round);
      c.fillStyle = colours[style.fill];
      c.fill();
      stroke(style);
    },
    line(points, style) {
      c.beginPath();
      path(points);
      stroke(style);
    },
    dot(p, radius, style) {
      c.beginPath();
      c.arc(...place(p), radius, 0, 7);
      c.fillStyle = colours[style.fill];
      c.fill();
    },
    arrow(from, to, size, style) {
      const points = head(place(from), place(to), size);
      c.beginPath();
      points.forEach((p, i) => c[i ? "lineTo" : "moveTo"](...p));
      c.fillStyle = colours[style.fill];
      c.fill();
    },
    text(text, p, style) {
      const [x, y] = place(p);
      c.font = `${style.weight ?? 400} ${style.size}px system-ui, "Noto Sans", sans-serif`;
      if (style.halo) {
        c.strokeStyle = colours.ground;
        c.lineWidth = 3;
        c.setLineDash([]);
        c.strokeText(text, x, y - (style.up ?? 0));
      }
      c.fillStyle = colours[style.fill];
      c.fillText(text, x, y - (style.up ?? 0));
    },
  };
}

/** head is the triangle in the middle of a way, pointing along it. */
export function head([x1, y1], [x2, y2], size) {
  const far = Math.hypot(x2 - x1, y2 - y1) || 1;
  const [ux, uy] = [(x2 - x1) / far, (y2 - y1) / far];
  const [x, y] = [(x1 + x2) / 2, (y1 + y2) / 2];
  return [[x + ux * size, y + uy * size], [x - ux * size - uy * size * 0.7, y - uy * size + ux * size * 0.7], [x - ux * size + uy * size * 0.7, y - uy * size - ux * size * 0.7]];
}
