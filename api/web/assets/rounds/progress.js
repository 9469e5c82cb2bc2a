// How far a round is by its events, as the server reckons it: a phone without a network
// must know by itself. A test holds the two against each other.

/** live lists the events that count, by the device's time, then id: none twice, none that
 *  was undone. */
export function live(events) {
  const by = new Map(events.map((e) => [e.id, e]));
  const undone = new Set(events.filter((e) => e.kind === "undone").map((e) => e.undoes));
  return [...by.values()].filter((e) => e.kind !== "undone" && !undone.has(e.id))
    .sort((a, b) => Date.parse(a.at) - Date.parse(b.at) || (a.id < b.id ? -1 : 1));
}

/** progress returns the sheet of a round with what its events say, and nothing else. */
export function progress(sheet, events) {
  const s = structuredClone(sheet);
  Object.assign(s, { state: "to_come", started: "", ended: "" });
  for (const take of s.takes) take.took = null;
  for (const v of s.visits) {
    Object.assign(v, { took_back: null, skipped: null });
    for (const l of v.lanes) Object.assign(l, { brought: null, short: null, skipped: null });
  }
  for (const e of live(events)) apply(s, e);
  for (const v of s.visits) spread(v);
  s.stops_ticked = s.visits.filter((v) => v.ticked).length;
  s.short = sum(s.visits.flatMap((v) => v.lanes.map((l) => l.short ?? 0)));
  s.skipped = sum(s.visits.map((v) => v.lanes.length ? v.lanes.filter((l) => l.skipped).length : v.skipped ? 1 : 0));
  return s;
}

export const sum = (list) => list.reduce((a, b) => a + b, 0);

/** stateOf is the state of a round by its events. */
export function stateOf(events) {
  const list = live(events);
  return list.length === 0 ? "to_come" : list.some((e) => e.kind === "ended") ? "done" : "under_way";
}

function apply(s, e) {
  if (s.state === "to_come") Object.assign(s, { state: "under_way", started: e.at });
  const visit = s.visits[e.stop - 1];
  const lane = visit?.lanes.find((l) => l.level === e.level && l.lane === e.lane);
  const containers = e.containers ?? 0; // none is left out
  switch (e.kind) {
    case "started":
      s.started = e.at;
      break;
    case "ended":
      Object.assign(s, { state: "done", ended: e.at });
      break;
    case "took":
      for (const take of s.takes) if (take.part === e.part) take.took = containers;
      break;
    case "empties":
      if (visit) visit.took_back = containers;
      break;
    case "skipped":
      if (lane) Object.assign(lane, { brought: null, short: null, skipped: skip(e) });
      else if (visit && !e.level) visit.skipped = skip(e);
      break;
    case "brought":
    case "short":
      if (lane) Object.assign(lane, { [e.kind]: containers, skipped: null });
  }
}

const skip = (e) => ({ reason: e.reason, text: e.text ?? "", who: e.who ?? "", at: e.at });

/** ticked reports whether something was said of a lane. */
export const ticked = (lane) => lane.brought !== null || lane.short !== null || lane.skipped !== null;

/** spread gives the lanes of which nothing was said the skip of their stop. */
function spread(visit) {
  for (const l of visit.lanes) if (!ticked(l)) l.skipped = visit.skipped;
  visit.ticked = visit.lanes.every(ticked) && (visit.lanes.length > 0 || visit.skipped !== null || visit.took_back !== null);
}

/** nextOpen is the number of the first stop after one of which something is open, else of
 *  the first of all, else that of the end: one more than the last. */
export function nextOpen(sheet, after) {
  const open = sheet.visits.map((v, i) => v.ticked ? 0 : i + 1).filter(Boolean);
  return open.find((n) => n > after) ?? open[0] ?? sheet.visits.length + 1;
}

/** gaps reports whether something is missing at a stop. */
export const gaps = (visit) => visit.skipped !== null || visit.lanes.some((l) => l.short !== null || l.skipped !== null);
