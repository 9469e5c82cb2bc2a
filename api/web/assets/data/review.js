// Files that were handed in: what they hold, what is wrong with them, what they
// would change, and taking them in. The files and all answers stay with the
// page until they are stored, whatever the connection does.
import { ask, seg } from "../ask.js";
import { dialog } from "../dialog.js";
import { crumb, el, section, titled, word } from "../element.js";
import { save } from "../map/picture.js";
import { num } from "../numbers.js";
import { planAgain } from "../plans/run.js";
import { say } from "../say.js";
import { failure, show } from "../states.js";
import { t } from "../words.js";
import { changeTable } from "./changes.js";
import { countsText } from "./findings.js";
import { ledger } from "./ledger.js";
import { inEncoding, mappingOf, textOf } from "./mapping.js";
import { meaning, questions } from "./meaning.js";
import { tooLarge, upload, uploadFor } from "./upload.js";
import { trouble } from "./trouble.js";

const listed = 200; // findings of a kind that are listed
const unnamed = "new"; // a plant that has no name yet

/** review shows files for a plant, null for a new one. */
export async function review(files, plants, plant) {
  const state = { plant, name: null, onto: Boolean(plant?.revisions), mapping: null, reading: null, stored: false };
  const kinds = await ask("/sheets");
  const at = el("div", { id: "at" });
  const place = el("div");
  const head = el("h1", { tabindex: -1 }, t("review.title", { files: files.map((f) => f.name).join(", ") }));
  let running = null;
  titled(t("data.title"));
  show(crumb(location.pathname + location.search, t("review.back")), head, el("div", { id: "target" }), at, place);
  addEventListener("beforeunload", (e) => { if (state.mapping && !state.stored) e.preventDefault(); });
  head.focus();
  if (tooLarge(files)) at.replaceChildren(el("div", { class: "note bad", role: "alert" }, el("p", {}, t("review.large", { size: num(files.reduce((n, f) => n + f.size, 0) / 1024 / 1024, 1) })), el("p", {}, t("review.large.remedy"))));
  else await read();

  function address(end, more = {}) {
    return `/plants/${seg(state.plant?.plant ?? unnamed)}/${end}?${new URLSearchParams({ ...(state.onto ? { onto: -1 } : {}), ...more })}`;
  }

  function sent(told) {
    running?.abort();
    running = new AbortController();
    return { mapping: state.mapping ? textOf(state.mapping) : "", told, signal: running.signal };
  }

  /** read asks what the files hold; a later call ends an earlier one. What was
   *  shown before rests until the new answer stands in its place. */
  async function read() {
    state.held ||= document.activeElement?.id;
    place.inert = true;
    const told = waiting(t("review.sending"), t("review.reading"));
    try {
      const before = state.reading;
      state.reading = await uploadFor(address("proposals", { findings: listed }), files, sent(told));
      if (before) keepCertainty(before, state.reading);
      at.replaceChildren();
      draw();
    } catch (error) {
      if (error.name !== "AbortError") lost(error, read);
    }
  }

  /** waiting shows how far files are sent, then that they are read. */
  function waiting(sending, then) {
    const bar = el("progress", { max: 1, value: 0, "aria-label": t("run.progress") });
    const text = el("span", { role: "status" }, sending);
    at.replaceChildren(el("div", { class: "run" }, bar, text));
    return (share) => {
      bar.value = share;
      if (share < 1) return;
      bar.removeAttribute("value");
      text.textContent = then;
    };
  }

  function lost(error, again) {
    at.replaceChildren(failure(error, again), el("p", { class: "quiet" }, t("review.kept")));
  }

  /** change changes what was understood and reads the files by it. */
  function change(act) {
    state.mapping = mappingOf(state.reading);
    act(state.mapping);
    read();
  }

  function draw() {
    const r = state.reading;
    document.getElementById("target").replaceChildren(target());
    const body = r.mapped.length === 0 ? [encodings(r), refused(r)] : [
      ways(r), r.encodings.length > 0 && encodings(r), questions(r, change), meaning(r, kinds, state, change), ledger(r.sheets),
      trouble(r, files, excerpt, annotated()), changesOf(r), accept(r)];
    place.replaceChildren(...body.filter(Boolean));
    place.inert = false;
    if (state.held) (document.getElementById(state.held) ?? place.querySelector("#questions button, .summary a"))?.focus();
    state.held = "";
    say(r.mapped.length === 0 ? t("review.refused") : r.questions.length ? t("review.asks", { n: r.questions.length }) : t("review.read"));
  }

  /** ways says in a line what came out, and leads to each part of the page. */
  function ways(r) {
    const way = (id, text) => el("li", {}, el("a", { href: "#" + id }, text));
    const changed = (r.changes?.sheets ?? []).reduce((n, s) => n + s.added + s.removed + s.changed, 0);
    return el("nav", { "aria-label": t("review.ways") }, el("ul", { class: "summary" },
      r.questions.length > 0 && way("questions", t("review.asks", { n: r.questions.length })), way("meaning", t("mean.meaning")),
      way("ledger", t("review.rows", { n: r.sheets.filter((s) => files.some((f) => f.name === s.file)).reduce((n, s) => n + s.used, 0) })), way("trouble", countsText(r) || t("findings.none")),
      r.changes?.against > 0 && way("changes", t("review.changes", { n: changed })), way("take", t("accept.title"))));
  }

  /** target chooses the plant, and what becomes of sheets that are not there. */
  function target() {
    const choose = el("select", { id: "into", onchange: (e) => {
      state.plant = plants.find((p) => p.plant === e.target.value) ?? null;
      state.onto = Boolean(state.plant?.revisions);
      read();
    } }, plants.map((p) => el("option", { value: p.plant, selected: p === state.plant }, p.plant)), el("option", { value: "", selected: !state.plant }, t("review.new")));
    const keep = el("input", { type: "checkbox", id: "onto", checked: state.onto, onchange: () => { state.onto = keep.checked; read(); } });
    return el("div", { class: "tools" }, plants.length > 0 && [el("label", { for: "into" }, t("review.into")), choose],
      state.plant?.revisions > 0 && el("span", { class: "check" }, keep, el("label", { for: "onto" }, t("review.onto", { n: String(state.plant.revisions) }))));
  }

  /** encodings asks how a text is written; each answer shows what it would be. */
  function encodings(r) {
    state.encodings = r.encodings.map((e) => e.encoding);
    if (r.encodings.length === 0) return null;
    return section("encoding", t("asked.encoding"), t("asked.encoding.about"), el("ul", { class: "list frame" }, r.encodings.map((e) =>
      el("li", { class: "head" }, el("button", { type: "button", id: "in-" + e.encoding, onclick: () => { state.mapping = inEncoding(e.encoding); read(); } }, e.encoding), " ", el("span", {}, e.line)))));
  }

  /** refused says why nothing was read; where the encoding is asked, that is
   *  all there is to it. */
  function refused(r) {
    const why = r.findings.filter((f) => r.encodings.length === 0 || f.code !== "sheet.not-utf-8");
    if (why.length === 0) return null;
    return el("div", { class: "note bad" }, el("h2", {}, t("review.refused")), why.map((f) => el("div", { lang: "en" },
      el("p", {}, el("strong", {}, f.origin.file), " ", el("strong", {}, f.summary)), el("p", {}, f.detail), el("p", {}, el("strong", { lang: document.documentElement.lang }, t("findings.remedy")), " ", f.remedy))),
    el("a", { class: "button", href: location.pathname + location.search }, t("review.another")));
  }

  function excerpt(origin, around, heading) {
    const query = new URLSearchParams({ file: origin.file, sheet: origin.sheet, row: origin.row, around, ...heading });
    return uploadFor(`/plants/${seg(state.plant?.plant ?? unnamed)}/proposals/excerpt?${query}`, files, { mapping: state.mapping ? textOf(state.mapping) : "" });
  }

  /** annotated fetches the workbook with its findings in it, of other files a
   *  copy of their rows as a workbook. */
  function annotated() {
    const own = files.length === 1 && /\.xls[xm]$/i.test(files[0].name);
    const named = files.length === 1 ? files[0].name.replace(/\.[^.]*$/, "") : state.plant?.plant ?? state.reading.name;
    const button = el("button", { type: "button", id: "annotated", onclick: async () => {
      button.disabled = true;
      try {
        save(named + " — " + t("trouble.annotated.file") + ".xlsx", await upload(address("proposals/annotated.xlsx"), files, { mapping: state.mapping ? textOf(state.mapping) : "" }));
      } catch (error) {
        say(error.message, { bad: true });
      }
      button.disabled = false;
    } }, t(own ? "trouble.annotated" : "trouble.annotated.copy"));
    return own ? button : [button, el("span", { class: "quiet" }, t("trouble.annotated.copy.about"))];
  }

  function changesOf(r) {
    if (!r.changes) return null;
    if (r.changes.against === 0) return section("changes", t("changes.title"), t("changes.first"));
    const about = t("changes.against", { n: String(r.changes.against) });
    return section("changes", t("changes.title"), about, r.changes.sheets.length ? changeTable(r.changes) : el("p", { class: "note" }, t("changes.none", { n: String(r.changes.against) })));
  }

  /** accept is the end: storing the facts, with or without the wrong rows. */
  function accept(r) {
    const left = r.sheets.reduce((n, s) => n + s.reported, 0);
    const name = el("input", { id: "name", maxlength: 100, value: state.name ?? r.name, oninput: () => { state.name = name.value; }, required: true, autocomplete: "off" });
    const blocked = r.questions.length > 0 ? t("accept.asked") : !r.changes ? t("accept.nothing") : "";
    const button = el("button", { type: "button", class: "main", id: "accept", disabled: blocked !== "", onclick: () => store(r, left, name.value.trim()) },
      r.errors ? t("accept.without", { n: left }) : t("accept.do"));
    return section("take", t("accept.title"), null, el("div", { class: "note" },
      r.errors > 0 ? el("p", {}, word("bad", t("findings.count.error", { n: r.errors })), " ", t("accept.errors", { n: left })) : el("p", {}, t("accept.right")),
      blocked && el("p", {}, el("strong", {}, blocked), r.questions.length > 0 && [" ", el("a", { href: "#questions" }, t("accept.answer"))]),
      !state.plant && el("p", { class: "tools" }, el("label", { for: "name" }, t("accept.name")), name),
      el("div", { class: "tools" }, button)));
  }

  async function store(r, left, name) {
    const plant = state.plant?.plant ?? name;
    if (!plant) return say(t("accept.unnamed"), { bad: true });
    if (!state.plant && plants.some((p) => p.plant === plant)) return say(t("accept.taken", { plant }), { bad: true });
    if (r.errors && await dialog(t("accept.sure"), el("p", {}, t("accept.sure.about", { n: left })), [["yes", t("accept.without", { n: left }), "main"], ["", t("dialog.cancel"), ""]]) !== "yes") return;
    await take(r, plant);
  }

  /** take stores the facts. Doing it again is safe: the same facts are stored
   *  once, and another revision that came meanwhile is told of. */
  async function take(r, plant) {
    const button = document.getElementById("accept");
    button.disabled = true;
    const query = new URLSearchParams({ against: r.changes.against, leave_out: r.errors > 0, ...(state.onto ? { onto: -1 } : {}) });
    const told = waiting(t("accept.sending"), t("accept.storing"));
    try {
      done(await uploadFor(`/plants/${seg(plant)}/imports?${query}`, files, sent(told)));
    } catch (error) {
      button.disabled = false;
      if (error.name !== "AbortError") lost(error, error.status === 409 ? read : () => take(r, plant));
      at.scrollIntoView();
    }
  }

  function done(made) {
    state.stored = true;
    const run = el("div");
    const href = `/data/revisions/${made.revision_number}?${new URLSearchParams({ plant: made.plant })}`;
    document.getElementById("target").replaceChildren();
    place.replaceChildren();
    at.replaceChildren(el("div", { class: "note" }, el("h2", { tabindex: -1, id: "done" }, made.stored ? t("done.stored", { plant: made.plant, n: String(made.revision_number) }) : t("done.same", { n: String(made.revision_number) })),
      el("p", {}, t("done.plan")), el("div", { class: "tools" }, planAgain(made.plant, t("done.make"), run), el("a", { class: "button", href }, t("done.see"))), run));
    document.getElementById("done").focus();
  }
}

/** keepCertainty remembers why a column was understood as it was: the mapping
 *  that was sent says it of all, though the person changed one. */
function keepCertainty(before, now) {
  for (const m of now.mapped) {
    const was = before.mapped.find((x) => x.sheet === m.sheet && x.kind === m.kind && x.row === m.row);
    for (const c of m.columns) {
      const old = was?.columns.find((x) => x.heading === c.heading && x.column === c.column);
      if (old && c.certainty === "stated" && old.certainty !== "asked") c.certainty = old.certainty;
    }
  }
}
