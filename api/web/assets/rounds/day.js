// A day's rounds at a glance, for a supervisor.
import { ask, seg } from "../ask.js";
import { el, figures, section, word } from "../element.js";
import { amount, clock, num } from "../numbers.js";
import { part } from "../states.js";
import { table } from "../table.js";
import { t } from "../words.js";

/** day is the section; the day can be changed. */
export function day(plant, zone) {
  const place = el("div");
  const choice = el("input", { type: "date", id: "day-choice", value: today(zone), onchange: look });
  const tools = el("div", { class: "tools filters" }, el("label", { for: "day-choice" }, t("day.which")), choice,
    el("button", { type: "button", onclick: look }, t("day.again")));
  look();
  return section("day", t("day.title"), null, tools, place);

  function look() {
    if (choice.value) place.replaceChildren(part(async () => glance(await ask(`/plants/${seg(plant)}/rounds/summary?` + new URLSearchParams({ day: choice.value })))));
  }
}

const today = (timeZone) => new Intl.DateTimeFormat("en-CA", { dateStyle: "short", timeZone }).format(Date.now());

function glance(s) {
  const time = (moment) => clock(s.zone, new Date(moment));
  const round = (r) => el("a", { href: `/rounds/${seg(r.round)}` }, `${t("route.name", { route: r.route })} · ${time(r.leaves)}`);
  return el("div", {},
    figures([
      [t("day.done"), t("of", { part: s.done, all: s.rounds }), s.under_way ? t("day.under.way", { n: s.under_way }) : s.earlier ? t("day.earlier", { n: s.earlier }) : t("day.as.of", { time: time(Date.now()) })],
      [t("day.late"), num(s.late), s.missed ? word("bad", t("day.missed", { n: s.missed })) : t("day.late.by", { time: amount(s.late_min, "min") })],
      [t("rounds.short"), num(s.short), t("word.containers")],
      [t("rounds.skipped"), num(s.skipped), s.reasons.map((r) => `${t("rounds.reason." + r.reason)} ${num(r.lanes)}`).join(", ") || t("word.lanes")],
    ]),
    s.late_rounds.length > 0 && [el("h3", {}, t("day.late")), table(t("day.late"), [
      { head: t("routes.round"), value: (r) => r.leaves, cell: round },
      { head: t("word.handler"), value: (r) => r.handler },
      { head: t("word.state"), value: (r) => r.state === "to_come" && r.back_late_min > s.late_min ? t("rounds.state.missed") : t("rounds.state." + r.state) },
      { head: t("day.start.late"), n: true, unit: "min", value: (r) => r.start_late_min },
      { head: t("day.back.late"), n: true, unit: "min", value: (r) => r.back_late_min },
    ], s.late_rounds)],
    s.misses.length > 0 && [el("h3", {}, t("day.misses")), s.misses_total > s.misses.length && el("p", {}, t("day.misses.some", { n: s.misses.length, all: s.misses_total })), table(t("day.misses"), [
      { head: t("round.lane"), value: (m) => m.address || m.rack },
      { head: t("word.part"), value: (m) => m.part },
      { head: t("day.what"), wide: true, value: (m) => m.skipped ? [t("round.not", { reason: t("rounds.reason." + m.skipped.reason) }), m.skipped.text].filter(Boolean).join(" ") : t("round.lacks", { n: m.short }) },
      { head: t("routes.round"), value: (m) => m.leaves, cell: round },
      { head: t("day.who"), value: (m) => m.skipped?.who ?? "" },
    ], s.misses)],
    s.strays.length > 0 && el("p", { class: "note" }, t("day.strays", { n: s.strays.length })));
}
