// What is known of one round: its sheet, what was ticked by anybody, and what this phone
// has ticked, sent or not.
import { answered, ask, seg } from "../ask.js";
import { chosen } from "./device.js";
import { live, progress } from "./progress.js";

/** Logbook of a round; queue is null where this browser keeps nothing. */
export class Logbook {
  #name; #queue; #sheet; #ticks = []; #own = []; #busy = false;
  /** next is the round of the same route and shift after this one, or null. */
  next = null;
  /** asOf is the moment of what is shown of others; away is that it could not be had anew. */
  asOf = 0;
  away = false;

  constructor(name, queue) {
    [this.#name, this.#queue] = [name, queue];
  }

  /** read fetches the round. */
  async read() {
    const path = `/rounds/${seg(this.#name)}`;
    const [sheet, ticks] = await Promise.all([answered(path), answered(path + "/ticks")]);
    [this.#sheet, this.#ticks] = [sheet.body, ticks.body.ticks];
    const kept = [sheet.kept, ticks.kept].filter(Boolean).sort();
    [this.asOf, this.away] = [kept.length ? Date.parse(kept[0]) : Date.now(), kept.length > 0];
    await this.recall();
  }

  /** refresh fetches the round again, if it can be had. */
  async refresh() {
    if (this.#busy || !this.#sheet) return;
    this.#busy = true;
    try {
      await this.read();
    } catch (error) {
      console.debug(error);
      this.away = true;
    }
    this.#busy = false;
  }

  /** recall reads what this phone has made. */
  async recall() {
    this.#own = await this.#queue?.made(this.#name) ?? [];
  }

  /** fetchNext finds the round after this one, and has it kept for when the network goes. */
  async fetchNext() {
    const { plant, day, route, shift, leaves } = this.#sheet;
    const { items } = await ask("/rounds?" + new URLSearchParams({ plant, day, route, shift, limit: 1000 }));
    this.next = items.find((r) => Date.parse(r.leaves) > Date.parse(leaves)) ?? null;
    if (this.next) await keep(this.next.round);
  }

  /** live lists the entries that count. */
  live() { return live([...this.#ticks, ...this.#own]); }

  /** sheet is the sheet with how far the round is. */
  sheet() { return progress(this.#sheet, [...this.#ticks, ...this.#own]); }

  /** under reports whether the vehicle has left the market. */
  under() { return this.live().some((e) => e.kind === "started" || e.kind === "ended" || e.stop); }

  /** others lists the entries that count and were not made by this phone. */
  others() {
    const mine = this.#mine();
    return this.live().filter((e) => !mine.has(e.id));
  }

  /** last lists the entries of this phone's last act that count. */
  last() {
    const mine = this.#mine();
    const list = this.live().filter((e) => mine.has(e.id));
    return list.filter((e) => Date.parse(e.at) === Date.parse(list.at(-1).at));
  }

  /** enter puts the entries of one act into the queue. They are of one moment, so that they
   *  are taken back together; it is later than all before, whatever the phone's clock does. */
  async enter(entries) {
    const before = Math.max(0, ...this.#own.map((e) => Date.parse(e.at)));
    const at = new Date(Math.max(Date.now(), before + 1)).toISOString();
    const who = chosen()?.who;
    await this.#queue.add(this.#name, ...entries.map((e) => ({ ...e, at, ...(who && { who }) })));
    await this.recall();
  }

  /** takenBack are the entries that take back what counts and matches. */
  takenBack(matches) {
    return this.live().filter(matches).map((e) => ({ kind: "undone", undoes: e.id }));
  }

  /** mark changes when what is shown of this round does. */
  mark() {
    return JSON.stringify([this.sheet(), this.others(), this.last().map((e) => e.id), this.away && this.asOf, this.next]);
  }

  #mine() { return new Set(this.#own.map((e) => e.id)); }
}

/** keep has a round kept for when the network goes. */
export async function keep(name) {
  await Promise.allSettled(["", "/ticks"].map((part) => ask(`/rounds/${seg(name)}${part}`)));
}
