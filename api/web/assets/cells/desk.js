// One cell on the desk: as the plan has it, or as a draft leaves it. Edits go to a draft,
// which the first of them begins; each says which version it was made on, so nobody's
// work is overwritten.
import { all, ask, seg, send } from "../ask.js";
import { t } from "../words.js";

/** openDesk fetches a cell of a plan, in a draft where one is named. */
export async function openDesk(plan, code, draft) {
  const desk = new Desk(plan, code);
  desk.draft = draft ? await ask(`/drafts/${seg(draft)}`) : null;
  if (desk.draft && desk.draft.plan !== plan.id) throw Object.assign(new Error(t("edit.other.plan", { draft: desk.draft.name })), { status: 404 });
  await desk.look();
  return desk;
}

class Desk {
  constructor(plan, code) {
    Object.assign(this, { plan, code, draft: null, data: null, was: null });
  }

  /** look fetches the cell as it is now; was is the cell before. */
  async look() {
    const at = this.draft ? `/drafts/${this.draft.id}/cells/` : `/plans/${this.plan.id}/cells/`;
    this.was = this.data;
    this.data = await ask(at + seg(this.code) + (this.draft ? "" : "/laid"));
  }

  /** drafts lists the open drafts of the plan. */
  async drafts() {
    return (await all(`/plans/${this.plan.id}/drafts`)).filter((d) => !d.published_plan);
  }

  /** closed tells that the draft was published and can not be changed. */
  get closed() { return Boolean(this.draft?.published_plan); }

  get tag() { return `"draft-${this.draft.id}-${this.draft.version}"`; }

  async begin(name, by) {
    this.draft = await send("POST", `/plans/${this.plan.id}/drafts`, { name, by }, { "Idempotency-Key": crypto.randomUUID() });
    return this.draft;
  }

  /** make makes edits as one step. Where somebody changed the draft meanwhile the error has
   *  status 412 and the problem lists their steps; merge makes them all the same, and what
   *  clashes is returned. */
  async make(edits, by, merge = false) {
    const made = await send("POST", `/drafts/${this.draft.id}/edits`, { by, edits, merge }, { "If-Match": this.tag, "Idempotency-Key": crypto.randomUUID() });
    this.draft = made;
    await this.look();
    return made.conflicts;
  }

  /** step takes the last step back ("undo") or makes it again ("redo"). */
  async step(kind, by) {
    this.draft = await send("POST", `/drafts/${this.draft.id}/${kind}`, { by }, { "If-Match": this.tag, "Idempotency-Key": crypto.randomUUID() });
    await this.look();
  }

  /** again fetches the draft and the cell as others left them. */
  async again() {
    if (this.draft) this.draft = await ask(`/drafts/${this.draft.id}`);
    await this.look();
  }

  /** fits asks of every level of the cell whether what is in the hand fits there. */
  async fits({ loop, from, containers }) {
    const query = new URLSearchParams({ ...nameOf(loop), ...from && { from_rack: from.rack, from_level: from.level }, ...containers && { containers } });
    const at = this.draft ? `/drafts/${this.draft.id}` : `/plans/${this.plan.id}`;
    return (await send("POST", `${at}/fits?${query}`, this.draft ? undefined : {})).levels;
  }

  /** why asks for the best other places of a loop and what would help it. */
  why(loop) {
    return ask(`/plans/${this.plan.id}/why?` + new URLSearchParams({ part: loop.part, cell: loop.cell, station: loop.station }));
  }

  reliefs() { return ask(`/plans/${this.plan.id}/cells/${seg(this.code)}/reliefs`); }

  loop(name) { return this.data.loops.find((l) => same(l, name)); }

  pin(name) { return this.data.pins.find((p) => same(p.loop, name))?.to; }

  lanesOf(name) { return this.data.lanes.filter((l) => l.part && same(l, name)); }

  /** levelsOf lists where a loop lies, level by level, with the containers there. */
  levelsOf(name) {
    const levels = [];
    for (const l of this.lanesOf(name)) {
      const at = levels.find((x) => x.rack === l.rack && x.level === l.level);
      if (at) at.containers += l.containers; else levels.push({ rack: l.rack, level: l.level, containers: l.containers });
    }
    return levels;
  }

  /** hand is what of a loop is taken by a place where it lies, or without one by what has
   *  no lane: all of it unless more lies elsewhere. n is how many containers that are. */
  hand(loop, at) {
    const levels = this.levelsOf(loop), lost = this.unplaced(loop)?.containers ?? 0;
    const here = at && levels.find((l) => l.rack === at.rack && l.level === at.level);
    if (here && levels.length + Boolean(lost) > 1) return { loop, from: { rack: here.rack, level: here.level }, n: here.containers };
    return !at && lost && levels.length ? { loop, containers: lost, n: lost } : this.whole(loop);
  }

  /** whole is all of a loop, taken in the hand. */
  whole(loop) { return { loop, n: loop.containers }; }

  unplaced(name) { return this.data.unplaced.find((u) => same(u, name)); }

  isClosed(lane) { return this.data.closed.some((c) => c.rack === lane.rack && c.level === lane.level && c.lane === lane.lane); }

  container(code) { return this.data.containers.find((c) => c.container === code); }
}

/** same reports whether two things are of one loop. */
export const same = (a, b) => a.part === b.part && a.cell === b.cell && a.station === b.station;

/** nameOf is the name of a loop, as edits have it. */
export const nameOf = ({ part, cell, station }) => ({ part, cell, station });

/** keyOf is the same as one text. */
export const keyOf = (l) => [l.part, l.cell, l.station].join("\u001f");

/** address writes a lane's address as it stands on its label: RACK/LEVEL-LANE. */
export const address = (at) => `${at.rack}/${at.level}` + (at.lane ? `-${at.lane}` : "");
