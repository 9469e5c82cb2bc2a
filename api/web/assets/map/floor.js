// The floor as shapes in metres, drawn from coordinates: what the canvas paints
// and the picture file writes. y grows upwards, as on a building's plan.

const apart = 0.15; // metres between racks that have one place

/** floorOf makes the shapes of a map: aisles, cells, racks and stations. */
export function floorOf(map) {
  const points = new Map(map.points.map((p) => [p.point, p]));
  const aisles = map.aisles.flatMap((a) => {
    const [from, to] = [points.get(a.from), points.get(a.to)];
    return from && to ? [{ ...a, from, to }] : [];
  });
  const racks = racksOf(map.racks, aisles);
  const cells = map.cells.flatMap((c) => cellOf(c, racks, map.stations));
  const routes = map.routes.map((r) => ({ ...r, points: r.points.flatMap((p) => points.get(p) ?? []) }));
  return { points: map.points, aisles, racks, cells, stations: map.stations, routes, box: boxOf([...map.points, ...racks.flatMap(corners), ...map.stations]) };
}

/** racksOf gives each rack with a place its rectangle: its width runs along the
 *  nearest aisle. Racks of one place stand side by side; a proposed rack, whose place
 *  nobody has decided, stands at the end of its cell's row. */
function racksOf(racks, aisles) {
  const placed = racks.filter((r) => r.x !== null && r.y !== null);
  const taken = new Map();
  const rows = new Map(); // cell -> the last rack of its row
  const drawn = new Map();
  for (const r of [...placed.filter((r) => !r.proposed), ...placed.filter((r) => r.proposed)]) {
    const row = r.proposed && rows.get(r.cell);
    const along = row ? row.along : alongX(r, aisles);
    const [w, h] = (along ? [r.width_mm, r.depth_mm] : [r.depth_mm, r.width_mm]).map((mm) => Math.max(mm, 300) / 1000);
    const key = `${r.x.toFixed(1)} ${r.y.toFixed(1)}`;
    const shift = taken.get(key) ?? 0;
    let spot = { x: r.x + (along ? shift : 0), y: r.y + (along ? 0 : shift) };
    if (row) spot = along ? { x: row.x + (row.w + w) / 2 + apart, y: row.y } : { x: row.x, y: row.y + (row.h + h) / 2 + apart };
    else taken.set(key, shift + (along ? w : h) + apart);
    const rack = { ...r, ...spot, w, h, along };
    const last = rows.get(r.cell);
    if (!last || (last.along ? rack.x > last.x : rack.y > last.y)) rows.set(r.cell, rack);
    drawn.set(r, rack);
  }
  return placed.map((r) => drawn.get(r));
}

/** alongX tells whether the aisle nearest to a place runs more along x. */
function alongX(place, aisles) {
  let best = Infinity;
  let along = true;
  for (const { from, to } of aisles) {
    const [dx, dy] = [to.x - from.x, to.y - from.y];
    const length = dx * dx + dy * dy;
    const s = length ? Math.max(0, Math.min(1, ((place.x - from.x) * dx + (place.y - from.y) * dy) / length)) : 0;
    const far = Math.hypot(place.x - from.x - s * dx, place.y - from.y - s * dy);
    if (far < best) [best, along] = [far, Math.abs(dx) >= Math.abs(dy)];
  }
  return along;
}

/** cellOf is the ground of a cell: around its racks and stations. Its name stands below
 *  where the stations are below the racks: away from the aisle. */
function cellOf(cell, racks, stations) {
  const [own, places] = [racks, stations].map((list) => list.filter((x) => x.cell === cell.cell));
  const spots = [...own.flatMap(corners), ...places];
  return spots.length ? [{ ...cell, box: grown(boxOf(spots), 0.6), below: mean(places) < mean(own) }] : [];
}

const mean = (spots) => spots.reduce((sum, s) => sum + s.y, 0) / spots.length;

export const corners = (r) => [{ x: r.x - r.w / 2, y: r.y - r.h / 2 }, { x: r.x + r.w / 2, y: r.y + r.h / 2 }];

export function boxOf(spots) {
  const box = { left: Infinity, right: -Infinity, bottom: Infinity, top: -Infinity };
  for (const { x, y } of spots) {
    box.left = Math.min(box.left, x); box.right = Math.max(box.right, x);
    box.bottom = Math.min(box.bottom, y); box.top = Math.max(box.top, y);
  }
  return spots.length ? box : { left: 0, right: 10, bottom: 0, top: 10 };
}

export const grown = (b, by) => ({ left: b.left - by, right: b.right + by, bottom: b.bottom - by, top: b.top + by });

/** at finds what lies at a spot: a rack, else a cell. */
export function at(floor, x, y, slack) {
  return floor.racks.find((r) => Math.abs(x - r.x) <= r.w / 2 + slack && Math.abs(y - r.y) <= r.h / 2 + slack)
    ?? floor.cells.find(({ box }) => x >= box.left && x <= box.right && y >= box.bottom && y <= box.top);
}
