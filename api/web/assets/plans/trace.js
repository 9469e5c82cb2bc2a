// What one loop lived through on a day: its containers over time, the rounds that
// came, when it ran short; as a chart and as a table.
import { ask } from "../ask.js";
import { el, section, word } from "../element.js";
import { amount, clock, locale, num } from "../numbers.js";
import { table } from "../table.js";
import { t } from "../words.js";
import { Chart, narrow, svg } from "./chart.js";
import { waiting } from "./waiting.js";

/** traceOf plays a loop again and shows a day of it in place. */
export function traceOf(plan, loop, place, weeks = 1, replication = 1) {
  const { part, cell, station } = loop;
  const query = new URLSearchParams({ part, cell, station, weeks, replication });
  waiting(place, t("trace.waiting"), (signal) => ask(`/plans/${plan.id}/trace?${query}`, { signal }), (trace) => new Traced(plan, loop, trace, place).element);
}

class Traced {
  constructor(plan, loop, trace, place) {
    Object.assign(this, { plan, loop, trace, place });
    this.points = trace.points.map((p) => ({ ...p, time: Date.parse(p.at) }));
    this.days = daysOf(trace.shifts);
    this.shortages = shortagesOf(this.points);
    this.day = el("div");
    this.element = this.whole();
  }

  whole() {
    const { trace, loop } = this;
    const first = this.shortages.length ? Math.max(0, this.days.findIndex((d) => d.to > this.shortages[0].from)) : 0;
    const days = el("select", { id: "trace-day", onchange: (e) => this.draw(this.days[e.target.value]) }, this.days.map((d, i) =>
      el("option", { value: i, selected: i === first }, this.name(d))));
    const again = (id, label, value, values, act) => [el("label", { for: id }, label), el("select", { id, onchange: (e) => act(Number(e.target.value)) }, values.map((v) => el("option", { value: v, selected: v === value }, num(v))))];
    const times = Math.max(trace.replication, Math.min(20, Number(this.plan.settings.simulation_replications) || 1));
    const tools = el("div", { class: "tools filters" }, el("label", { for: "trace-day" }, t("trace.day")), days,
      again("trace-weeks", t("trace.weeks"), trace.weeks, [1, 2, 3, 4], (n) => traceOf(this.plan, loop, this.place, n, trace.replication)),
      again("trace-play", t("trace.replication"), trace.replication, Array.from({ length: times }, (_, i) => i + 1), (n) => traceOf(this.plan, loop, this.place, trace.weeks, n)));
    if (this.days.length) this.draw(this.days[first]);
    const s = section("loop", t("trace.title", loop), this.summary(), tools, this.day);
    s.querySelector("h2").tabIndex = -1;
    return s;
  }

  summary() {
    const { loop, trace } = this;
    const n = this.shortages.length;
    return [t("trace.about", { containers: t("containers", { n: trace.containers }), pieces: t("pieces", { n: trace.pack }), replication: num(trace.replication), weeks: t("plays.weeks", { n: trace.weeks }) }),
      n ? t("trace.short", { n }) : t("trace.kept"), loop.cause && t("trace.cause", { cause: t("plays.cause." + loop.cause), why: t("plays.because." + loop.cause) })].filter(Boolean).join(" ");
  }

  /** name is a day with the mark of a shortage, so that a bad one is found. */
  name(d) {
    const text = new Intl.DateTimeFormat(locale, { weekday: "short", day: "numeric", month: "short", timeZone: "UTC" }).format(new Date(d.day + "T12:00:00Z"));
    return this.within(d).length ? t("trace.day.short", { day: text }) : text;
  }

  within(d) { return this.shortages.filter((s) => s.from < d.to && s.to > d.from); }
  /** moment is a time of the day shown, with the weekday where it is another one. */
  moment(ms, d) {
    if (ms >= d.from && ms <= d.to) return this.clock(ms);
    return new Intl.DateTimeFormat(locale, { weekday: "short", hour: "2-digit", minute: "2-digit", hourCycle: "h23", timeZone: this.trace.zone }).format(new Date(ms));
  }

  clock(ms) { return clock(this.trace.zone, new Date(ms)); }

  draw(d) {
    const before = this.points.findLast((p) => p.time <= d.from);
    const points = this.points.filter((p) => p.time > d.from && p.time <= d.to);
    this.day.replaceChildren(el("div", { class: "frame picture" }, el("figure", {}, this.chart(d, before, points), this.legend())), this.shortTable(d), this.table(points));
  }

  chart(d, before, points) {
    const shown = before ? [{ ...before, time: d.from }, ...points] : points;
    const most = Math.max(this.trace.containers, ...shown.map((p) => p.full), ...shown.map(away));
    const chart = new Chart({ x: [d.from, d.to, t("trace.across"), (ms) => this.clock(ms)], y: [0, most * 1.2 + 0.5, t("trace.up")], ticks: hours(d), label: this.label(d, points) });
    for (const rest of rests(d)) chart.root.prepend(svg("rect", { class: "rest", x: chart.x(rest.from), y: chart.head, width: chart.x(rest.to) - chart.x(rest.from), height: chart.foot - chart.head }));
    chart.add("defs", {}, svg("pattern", { id: "hatch", width: 9, height: 8, patternUnits: "userSpaceOnUse", patternTransform: "rotate(45)" }, svg("rect", { class: "hatch", width: 1.5, height: 8 })));
    for (const s of this.within(d)) {
      const [from, to] = [chart.x(Math.max(s.from, d.from)), chart.x(Math.min(s.to, d.to))];
      chart.add("rect", { class: "short", x: from, y: chart.head, width: Math.max(3, to - from), height: chart.foot - chart.head });
      chart.text(Math.min(from + 4, chart.width - 60), chart.head + 46, t("trace.mark"), { class: "short-name" });
    }
    const held = (of) => shown.length ? [...shown.map((p) => [p.time, of(p)]), [d.to, of(shown.at(-1))]] : [];
    chart.stairs(held((p) => p.full), "full");
    chart.stairs(held(away), "away");
    for (const p of points) {
      const x = chart.x(p.time);
      if (p.event === "deliver") chart.add("path", { class: "came", d: `M${x} ${chart.head + 4}l5 10h-10z` });
      if (p.event === "visit") chart.add("path", { class: "took", d: `M${x} ${chart.head + 28}l5-10h-10z` });
    }
    return chart.root;
  }

  label(d, points) {
    return t("trace.label", { day: this.name(d), rounds: points.filter((p) => p.event === "visit").length, brought: points.reduce((n, p) => n + p.brought, 0), shortages: this.within(d).length });
  }

  legend() {
    const key = (draw, text) => el("span", {}, svg("svg", { viewBox: "0 0 28 14", class: "chart key", "aria-hidden": "true" }, draw), text);
    return el("figcaption", { class: "legend" }, key(svg("path", { class: "line full", d: "M1 7h26" }), t("trace.full")), key(svg("path", { class: "line away", d: "M1 7h26" }), t("trace.away")),
      key(svg("path", { class: "took", d: "M14 12l5-10h-10z" }), t("trace.visit")), key(svg("path", { class: "came", d: "M14 2l5 10h-10z" }), t("trace.deliver")),
      key(svg("rect", { class: "short", x: 4, y: 1, width: 20, height: 12 }), t("trace.mark")), key(svg("rect", { class: "rest", x: 4, y: 1, width: 20, height: 12 }), t("trace.rest")));
  }

  shortTable(d) {
    const list = this.within(d);
    if (!list.length) return el("p", {}, word("good", t("trace.day.kept")));
    return el("ul", { class: "list frame" }, list.map((s) => el("li", {}, el("div", { class: "head" }, word("bad", t("trace.mark")), el("strong", {}, t("trace.from", { from: this.moment(s.from, d), to: this.moment(s.to, d), time: lasting(s.to - s.from) })),
      el("span", {}, t("trace.missing", { n: num(s.missing, 1) }))),
    el("p", { class: "quiet" }, s.ended === "deliver" ? t("trace.ended", { round: s.round || "—" }) : t("trace.ended.not")))));
  }

  table(points) {
    return table(t("trace.table"), [
      { head: t("trace.time"), value: (p) => p.time, cell: (p) => this.clock(p.time) },
      { head: t("trace.event"), bare: true, value: (p) => t("trace.event." + p.event), cell: (p) => p.event === "short" ? word("bad", t("trace.event.short")) : t("trace.event." + p.event) },
      { head: t("trace.round"), value: (p) => p.round },
      { head: t("trace.full"), n: true, value: (p) => p.full },
      { head: t("trace.signals"), n: true, value: (p) => p.signals },
      { head: t("trace.under-way"), n: true, value: (p) => p.under_way },
      { head: t("trace.pieces"), n: true, decimals: 1, value: (p) => p.on_hand },
      { head: t("trace.lacks"), n: true, decimals: 1, value: (p) => p.missing },
    ], points);
  }
}

/** lasting writes how long something took, by the clock. */
const lasting = (ms) => ms < 2 * 3600000 ? amount(ms / 60000, "min", 1) : amount(ms / 3600000, "h", 1);
const away = (p) => p.signals + p.under_way;

/** daysOf gathers the workings that begin on one day. */
function daysOf(shifts) {
  const days = new Map();
  for (const s of shifts) {
    if (!s.work.length) continue;
    const day = s.work[0].from.slice(0, 10);
    const spans = s.work.map((w) => ({ from: Date.parse(w.from), to: Date.parse(w.to) }));
    if (!days.has(day)) days.set(day, { day, spans: [] });
    days.get(day).spans.push(...spans);
  }
  return [...days.values()].map((d) => ({ ...d, spans: d.spans.sort((a, b) => a.from - b.from), from: Math.min(...d.spans.map((s) => s.from)), to: Math.max(...d.spans.map((s) => s.to)) }));
}

/** rests are the stretches of a day in which nobody works. */
function rests(d) {
  const list = [];
  let end = d.from;
  for (const s of d.spans) {
    if (s.from > end) list.push({ from: end, to: s.from });
    end = Math.max(end, s.to);
  }
  return list;
}

/** shortagesOf finds each shortage: from the first piece missing to the delivery
 *  after which none is. */
function shortagesOf(points) {
  const list = [];
  let open = null;
  for (const p of points) {
    if (!open && (p.event === "short" || p.missing > 1e-9)) open = { from: p.time, missing: p.missing };
    if (!open) continue;
    open.missing = Math.max(open.missing, p.missing);
    if (p.event === "end" || p.event === "deliver" && p.missing <= 1e-9) {
      list.push({ ...open, to: p.time, ended: p.event, round: p.round });
      open = null;
    }
  }
  if (open) list.push({ ...open, to: points.at(-1).time, ended: "end", round: "" });
  return list;
}

/** hours are the full hours of a day that are named below a chart. */
function hours(d) {
  const hour = 3600000;
  const step = hour * Math.max(1, Math.ceil((d.to - d.from) / hour / (narrow ? 5 : 12)));
  const list = [];
  for (let at = Math.ceil(d.from / hour) * hour; at <= d.to; at += step) list.push(at);
  return list;
}
