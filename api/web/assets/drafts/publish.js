// The one act that makes a plan the floor's: what it means on the floor, which rules it
// breaks, a note for the record. What is published is what the handlers see.
import { ask, send } from "../ask.js";
import { el, word } from "../element.js";
import { amount, num } from "../numbers.js";
import { failure, loading } from "../states.js";
import { keep, known } from "../who.js";
import { t } from "../words.js";
import { field, nameField } from "./fields.js";
import { tag } from "./tell.js";

/** publish opens the window for a draft, or for a plan as it is; done is called with the
 *  publication. what has draft or plan, and floor: what the floor works to now. */
export function publish(what, done) {
  const body = el("div", {}, loading());
  const title = what.draft ? t("draft.publish.title", { name: what.draft.name }) : t("draft.publish.plan", { plan: String(what.plan) });
  const box = el("dialog", { class: "publish", "aria-labelledby": "publish-title" }, el("h2", { id: "publish-title", tabindex: "-1" }, title), body);
  box.addEventListener("close", () => box.remove());
  document.body.append(box);
  box.showModal();
  box.querySelector("h2").focus();
  const fill = async () => {
    try {
      body.replaceChildren(form(what, await learn(what), box, done));
    } catch (error) {
      body.replaceChildren(failure(error, fill), el("div", { class: "tools" }, close(box)));
    }
  };
  fill();
}

const close = (box) => el("button", { type: "button", onclick: () => box.close() }, t("dialog.cancel"));

const addressOf = (what) => what.draft ? `/drafts/${what.draft.id}` : `/plans/${what.plan}`;

/** learn asks what publishing would change; nothing is stored. */
async function learn(what) {
  const at = addressOf(what);
  const since = what.floor.published?.plan ?? 0;
  const headers = what.draft ? tag(what.draft) : {};
  const comparison = what.draft ? `${at}/compare/${since}` : `/plans/${since}/compare/${what.plan}`;
  const [dry, moves, against] = await Promise.all([
    send("POST", `${at}/publish?dry_run=true`, { by: known() || t("draft.somebody") }, headers),
    ask(`${at}/moves${what.draft ? "" : "/list"}?since=${since}`),
    since ? ask(comparison) : null,
  ]);
  return { dry, moves, against, since };
}

function form(what, learnt, box, done) {
  const { dry } = learnt;
  const by = nameField("publish-by");
  const note = el("textarea", { id: "publish-note", maxlength: 2000, rows: 2 });
  const codes = [...new Set(dry.broken.map((f) => f.code))];
  const accept = codes.map((code) => el("input", { type: "checkbox", id: "accept-" + code, name: "accept", value: code, required: true }));
  const told = el("div", { role: "alert" });
  const go = el("button", { type: "submit", class: "main" }, t("draft.publish.go"));
  const submit = async (e) => {
    e.preventDefault();
    const name = by.querySelector("input").value.trim();
    go.disabled = true;
    keep(name);
    try {
      const made = await send("POST", `${addressOf(what)}/publish`, { by: name, note: note.value.trim(), accept: codes }, { ...what.draft && tag(what.draft), "Idempotency-Key": key });
      box.close();
      done(made);
    } catch (error) {
      go.disabled = false;
      told.replaceChildren(refused(error, box));
    }
  };
  const key = crypto.randomUUID();
  return el("form", { onsubmit: submit },
    codes.length > 0 && broken(dry.broken, accept), behind(what), onFloor(what, learnt), rounds(learnt.against), findings(learnt.against),
    by, field("publish-note", t("draft.publish.note"), note), told,
    el("div", { class: "tools" }, go, close(box)));
}

/** broken lists the rules that the plan breaks, each kind to be accepted. */
function broken(list, accept) {
  return el("fieldset", { class: "note bad" }, el("legend", {}, t("draft.publish.broken", { n: list.length })),
    accept.map((box) => {
      const of = list.filter((f) => f.code === box.value);
      return el("p", { class: "accept" }, box, el("label", { for: box.id }, t("draft.publish.accept"), " ",
        el("span", { lang: "en" }, of.slice(0, 3).map((f) => f.summary).join("; ")), of.length > 3 && ` ${t("draft.publish.more", { n: of.length - 3 })}`, " ", el("code", {}, box.value)));
    }));
}

/** behind warns where the draft does not stand on what the floor works to. */
function behind({ draft, floor }) {
  if (!draft || !floor.published || floor.published.plan === draft.plan) return null;
  return el("div", { class: "note bad" }, el("p", {}, t("draft.publish.behind", { plan: String(floor.published.plan), by: floor.published.by, own: String(draft.plan) })),
    el("p", {}, el("a", { href: `/drafts/${draft.id}?` + new URLSearchParams({ onto: floor.published.plan }) }, t("draft.onto.go", { plan: String(floor.published.plan) }))));
}

function onFloor(what, { dry, moves, since }) {
  const c = dry.changed;
  const href = "/moves?" + new URLSearchParams({ ...what.draft ? { draft: what.draft.id } : { plan: what.plan }, ...since && { since } });
  return el("section", {}, el("h3", {}, t("draft.publish.floor")),
    el("p", {}, c.lanes === 0 ? t("draft.publish.same") : t(since ? "draft.publish.changed" : "draft.publish.first", { lanes: t("compare.lanes", { n: c.lanes }), racks: t("racks", { n: c.racks }), loops: t("loops", { n: c.loops }) })),
    moves.steps.length > 0 ? [
      el("p", {}, t("draft.moves.sum", { containers: t("containers", { n: moves.containers }), time: amount(moves.minutes, "min") }), " ", el("a", { href, target: "_blank" }, t("draft.moves.open"))),
      el("ul", { class: "plain" }, moves.shifts.slice(0, 12).map((s) => el("li", {}, t("draft.moves.shift", { cell: s.cell, when: shiftText(s), containers: t("containers", { n: s.containers }), time: amount(s.minutes, "min") })))),
      moves.shifts.length > 12 && el("p", { class: "quiet" }, t("draft.publish.more", { n: moves.shifts.length - 12 })),
    ] : c.containers > 0 && el("p", { class: "quiet" }, t("draft.moves.unknown")));
}

/** shiftText is day and shift of a part of a move list. */
export const shiftText = (s) => s.shift ? t("draft.moves.day.shift", { day: s.day, shift: s.shift }) : t("draft.moves.day", { day: s.day });

/** rounds says what changes for the handlers. */
function rounds(against) {
  if (!against) return null;
  return el("section", {}, el("h3", {}, t("draft.publish.rounds")), against.routes.length === 0 ? el("p", {}, t("draft.publish.rounds.same")) :
    el("ul", { class: "plain" }, against.routes.map((r) => el("li", {}, routeText(r)))));
}

/** routeText says what changes on a route. */
export function routeText({ before: a, after: b, racks_came: came, racks_gone: gone }) {
  if (!a) return t("draft.route.new", { route: b.route });
  if (!b) return t("draft.route.gone", { route: a.route });
  const change = (x, y, unit) => Math.abs(y - x) < 0.05 ? "" : `${num(x, 1)} → ${unit ? amount(y, unit, 1) : num(y, 1)}`;
  const round = change(a.round_min, b.round_min, "min");
  const load = change(a.load_planned, b.load_planned);
  return [t("draft.route", { route: b.route }), round && t("draft.route.round", { change: round }), load && t("draft.route.load", { change: load }),
    came.length > 0 && t("draft.route.came", { racks: came.join(", ") }), gone.length > 0 && t("draft.route.left", { racks: gone.join(", ") }),
    !round && !load && came.length + gone.length === 0 && t("draft.route.little")].filter(Boolean).join(" · ");
}

/** counted counts the findings that came, changed and went between two plans. */
export function counted(list) {
  const gone = list.filter((f) => f.gone).length, changed = list.filter((f) => f.was).length;
  return { came: list.length - gone - changed, changed, gone };
}

function findings(against) {
  if (!against) return null;
  const stay = against.findings_stay;
  const { came, changed, gone } = counted(against.findings);
  return el("section", {}, el("h3", {}, t("findings.title")),
    el("p", {}, t("draft.publish.stay", { errors: t("findings.count.error", { n: stay.errors }), warnings: t("findings.count.warning", { n: stay.warnings }), notes: t("findings.count.note", { n: stay.notes }) })),
    el("p", {}, came ? word("warn", t("draft.findings.came", { n: came })) : word("good", t("draft.findings.came.none")), " ",
      changed > 0 && [word("", t("draft.findings.changed", { n: changed })), " "], gone > 0 && word("good", t("draft.findings.gone", { n: gone }))));
}

/** refused tells why it was not published. */
function refused(error, box) {
  const since = error.problem?.since ?? [];
  return el("div", { class: "note bad" }, el("p", {}, since.length ? t("draft.stale", { by: [...new Set(since.map((s) => s.by))].join(", ") }) : error.message),
    since.length > 0 && el("button", { type: "button", onclick: () => { box.close(); location.reload(); } }, t("draft.stale.look")));
}
