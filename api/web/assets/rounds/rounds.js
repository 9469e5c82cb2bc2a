// The way into the rounds: which route and shift, once; then the next round, the others of
// the shift, and the day at a glance.
import { all, answered, seg } from "../ask.js";
import { el, section, titled, word } from "../element.js";
import { clock } from "../numbers.js";
import { begin } from "../shell.js";
import { empty, show } from "../states.js";
import { t } from "../words.js";
import { ticking, until } from "./countdown.js";
import { day } from "./day.js";
import { choose, chosen, holding, secured } from "./device.js";
import { keep } from "./logbook.js";
import { outbox } from "./outbox.js";
import { stateOf } from "./progress.js";

const soon = 3; // rounds that are kept for when the network goes
const dayLong = 86_400_000;
const every = 60_000; // ms between two looks at the rounds

begin(async () => {
  let again = () => {};
  let look = () => {};
  const safe = secured(() => { all("/plants").catch(console.debug); look(); });
  const box = await outbox({ changed: () => again(), answered: () => look() });
  const plants = (await all("/plants")).filter((p) => p.latest_plan);
  const wanted = new URLSearchParams(location.search).get("plant");
  if (wanted && !plants.some((p) => p.plant === wanted)) throw Object.assign(new Error(t("plan.unknown-plant", { plant: wanted })), { status: 404 });
  const notes = () => [box.bar, !safe && el("p", { class: "strip warn", id: "insecure" }, t("rounds.insecure"))];
  if (plants.length === 0) show(el("h1", {}, t("rounds.title")), empty(el("p", {}, t("plan.none"))));
  else if (!chosen() || wanted && chosen().plant !== wanted) await ask();
  else await work();

  /** ask asks what this phone is for. */
  async function ask(plant = wanted ?? chosen()?.plant ?? plants[0].plant) {
    again = look = () => {};
    if (!plants.some((p) => p.plant === plant)) plant = plants[0].plant;
    const zone = chosen()?.zone;
    const { body } = await answered("/rounds?" + new URLSearchParams({ plant, day: date(Date.now(), zone), limit: 1000 }));
    const kept = chosen() ?? {};
    const field = (id, label, control) => el("p", { class: "stack" }, el("label", { for: id }, label), control);
    const select = (id, list, value) => el("select", { id }, list.map((v) => el("option", { value: v, selected: v === value }, v)));
    const [which, route, shift] = [select("plant", plants.map((p) => p.plant), plant), select("route", body.routes, kept.route), select("shift", body.shifts, kept.shift ?? shiftNow(body.items))];
    which.addEventListener("change", () => ask(which.value));
    const who = el("input", { id: "who", maxlength: 80, autocomplete: "off", value: kept.who ?? "" });
    titled(t("rounds.title"), plant);
    show(el("div", { class: "beside" }, el("form", { class: "round setup", onsubmit: (e) => {
      e.preventDefault();
      choose({ plant, route: route.value, shift: shift.value, who: who.value.trim(), zone: body.zone });
      work();
    } }, el("h1", {}, t("rounds.setup")), notes(),
    plants.length > 1 && field("plant", t("pick.plant"), which),
    body.routes.length === 0 ? empty(el("p", {}, t("rounds.none.today", { day: body.day }))) : [
      field("route", t("word.route"), route), field("shift", t("word.shift"), shift),
      field("who", t("rounds.who"), who),
      el("div", { class: "act" }, el("button", { id: "choose", class: "main" }, t("rounds.choose")))]), day(plant, body.zone)));
  }

  /** work shows the next round of what was chosen. */
  async function work() {
    const { plant, route, shift, who } = chosen();
    const place = el("div", { class: "round" });
    const glance = day(plant, chosen().zone);
    titled(t("route.name", { route }), plant);
    const held = holding(() => again());
    let found = null, drawing = false, drawn = "";
    again = async () => {
      if (drawing || !found) return;
      drawing = true;
      await draw();
      drawing = false;
    };
    look = fetchRounds;
    await look();
    show(el("div", { class: "beside" }, place, glance));
    const timer = setInterval(seen, every);
    document.addEventListener("visibilitychange", seen);

    function seen() {
      if (!place.isConnected) {
        clearInterval(timer);
        document.removeEventListener("visibilitychange", seen);
      } else if (document.visibilityState === "visible") look();
    }

    /** fetchRounds fetches the rounds, and those to come once more to be kept. */
    async function fetchRounds() {
      try {
        found = await roundsNow(chosen());
        found.away = found.kept !== "";
        choose({ ...chosen(), zone: found.zone });
      } catch (error) {
        if (!found) throw error;
        found.away = true;
      }
      await draw();
      if (!found.away) await Promise.all(found.items.filter(ahead).slice(0, soon).map((r) => keep(r.round)));
    }

    async function draw() {
      for (const r of found.items) {
        const own = stateOf(await box.queue?.made(r.round) ?? []);
        if (r.state === "to_come" || own === "done") r.state = own;
      }
      const next = nextRound(found.items);
      const mark = JSON.stringify([found.items, next?.round, found.away && found.read]);
      if (held() || mark === drawn) return;
      drawn = mark;
      const [come, gone] = [true, false].map((is) => found.items.filter((r) => r !== next && ahead(r) === is));
      const others = [...come, ...gone.reverse()]; // those that matter now first
      const focused = document.activeElement?.id;
      place.replaceChildren(...[
        el("h1", {}, t("route.name", { route })),
        el("p", { class: "sub" }, [t("timetable.shift", { shift }), who].filter(Boolean).join(" · ")), ...notes(),
        found.away && el("p", { class: "strip warn", id: "stale" }, el("span", {}, t("rounds.stale", { time: clock(found.zone, new Date(found.kept || found.read)) })),
          el("button", { type: "button", id: "refresh", onclick: () => look() }, t("states.again"))),
        next ? card(next, found.zone) : empty(el("p", {}, t("rounds.none", { route, shift }))),
        others.length > 0 && section("others", t("rounds.others"), null, el("ul", { class: "hours" }, others.map((r) => other(r, found.zone)))),
        el("div", { class: "act" }, next && el("a", { id: "open", class: "button main", href: `/rounds/${seg(next.round)}` }, next.state === "under_way" ? t("rounds.go.on") : t("rounds.open")),
          el("button", { type: "button", id: "change", onclick: () => ask(plant) }, t("rounds.change")),
          el("a", { class: "button", href: `/routes/${seg(route)}?` + new URLSearchParams({ plan: found.plan }) }, t("rounds.timetable")),
          el("a", { class: "button", href: `/api/v1/plans/${found.plan}/routes/${seg(route)}/sheet.pdf` }, t("rounds.paper"))),
      ].flat().filter(Boolean));
      if (focused) document.getElementById(focused)?.focus({ preventScroll: true });
    }
  }
});

/** card is the next round with its countdown. */
function card(r, zone) {
  const left = el("p", { class: "left", role: "timer" });
  return el("div", { class: "card", id: "next" },
    el("p", { class: "time" }, clock(zone, new Date(r.leaves))),
    ticking(left, () => {
      const [kind, text] = r.state === "under_way" ? ["good", t("rounds.state.under_way")] : until(r, Date.now());
      left.replaceChildren(word(kind, text));
    }),
    el("p", {}, t("rounds.card", { stops: t("rounds.stops", { n: r.stops }), vehicle: r.vehicle_type, market: r.market })));
}

function other(r, zone) {
  const late = r.state === "to_come" && !ahead(r);
  const gaps = [r.short && t("rounds.short.n", { n: r.short }), r.skipped && t("rounds.skipped.n", { n: r.skipped })].filter(Boolean).join(", ");
  return el("li", {}, el("a", { href: `/rounds/${seg(r.round)}` }, el("strong", {}, clock(zone, new Date(r.leaves))),
    el("span", {}, late ? word("bad", t("rounds.state.missed")) : word({ done: "good", under_way: "warn" }[r.state] ?? "", t("rounds.state." + r.state)), gaps && [" ", gaps])));
}

/** ahead reports whether a round can still be driven in its time. */
const ahead = (r) => Date.parse(r.back) > Date.now();

/** nextRound is the one under way, else the first that can still be driven in its time. */
function nextRound(items) {
  return items.findLast((r) => r.state === "under_way") ?? items.find((r) => r.state === "to_come" && ahead(r));
}

/** shiftNow is the shift of the round that leaves next; of the last where all have left. */
const shiftNow = (rounds) => (rounds.find((r) => Date.parse(r.leaves) >= Date.now()) ?? rounds.at(-1))?.shift;

/** roundsNow fetches the rounds of the working of a shift that is now or next: it may have
 *  begun on the day before, or begin on the day after. */
async function roundsNow({ plant, route, shift, zone }) {
  let best = null;
  for (const days of [-1, 0, 1]) {
    const { body, kept } = await answered("/rounds?" + new URLSearchParams({ plant, route, shift, day: date(Date.now() + days * dayLong, zone), limit: 1000 }));
    const found = { ...body, kept, read: Date.now() };
    if (body.items.some(ahead)) return found;
    if (days <= 0) best = body.items.length || !best ? found : best;
  }
  return best;
}

/** date is the day of a moment at the plant, as "2026-10-19". */
function date(moment, zone) {
  const local = (timeZone) => new Intl.DateTimeFormat("en-CA", { dateStyle: "short", timeZone }).format(moment);
  try {
    return local(zone);
  } catch {
    return local("UTC");
  }
}
