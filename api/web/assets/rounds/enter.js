// The questions of a round, with targets for a thumb in a glove: which lane, what number,
// how many short, why not.
import { el } from "../element.js";
import { t } from "../words.js";

const most = 1000; // what the server takes for one entry

/** question shows a dialog; make(done) builds what it asks, done(answer) ends it. The
 *  answer is null where it was closed. */
function question(title, make) {
  return new Promise((tell) => {
    let answer = null;
    const box = el("dialog", { class: "question", "aria-labelledby": "question-title" });
    const done = (value) => { answer = value; box.close(); };
    box.append(el("form", { method: "dialog", onsubmit: (e) => e.preventDefault() }, el("h2", { id: "question-title" }, title), make(done),
      el("button", { type: "button", class: "close", onclick: () => box.close() }, t("dialog.cancel"))));
    box.addEventListener("close", () => { box.remove(); tell(answer); });
    document.body.append(box);
    box.showModal();
  });
}

/** pick asks for one of a list of [value, text]. */
export function pick(title, list) {
  return question(title, (done) => list.map(([value, ...text]) =>
    el("button", { type: "button", class: "choice", onclick: () => done(value) }, text)));
}

/** number asks for a number of containers. */
export function number(title, value) {
  return question(title, (done) => {
    const field = stepper("number", t("word.containers"), value, 0);
    return [field.box, el("button", { type: "submit", class: "main", onclick: () => field.valid() && done(field.value()) }, t("rounds.enter"))];
  });
}

/** shortage asks how many were brought and how many are missing: {brought, short}. */
export function shortage(title, expected) {
  return question(title, (done) => {
    const brought = stepper("brought", t("rounds.brought"), Math.max(0, expected - 1), 0, () => lacks.set(Math.max(1, expected - brought.value())));
    const lacks = stepper("lacks", t("rounds.lacks"), 1, 1);
    return [brought.box, lacks.box, el("button", { type: "submit", class: "main", onclick: () =>
      brought.valid() && lacks.valid() && done({ brought: brought.value(), short: lacks.value() }) }, t("rounds.enter"))];
  });
}

/** reason asks why something is skipped: {reason, text}. */
export function reason(title, reasons) {
  return question(title, (done) => {
    const text = el("input", { id: "reason-text", maxlength: 200, autocomplete: "off", "aria-describedby": "reason-missing" });
    const missing = el("p", { id: "reason-missing", class: "missing", role: "alert" });
    return [
      el("p", { class: "stack" }, el("label", { for: "reason-text" }, t("rounds.reason.text")), text), missing,
      reasons.map((r) => el("button", { type: "button", class: "choice", id: "reason-" + r, onclick: () => {
        if (r === "other" && !text.value.trim()) {
          missing.textContent = t("rounds.reason.missing");
          text.focus();
        } else done({ reason: r, text: text.value.trim() });
      } }, t("rounds.reason." + r))),
    ];
  });
}

/** stepper is a number between two large buttons. */
function stepper(id, label, from, least, changed = () => {}) {
  const input = el("input", { id, inputmode: "numeric", autocomplete: "off", oninput: changed });
  const value = () => Number(input.value);
  const valid = () => {
    const fine = /^\d+$/.test(input.value.trim()) && value() >= least && value() <= most;
    input.setCustomValidity(fine ? "" : t("rounds.number.bad", { least, most }));
    return input.reportValidity();
  };
  const set = (n) => { input.value = String(Math.min(most, Math.max(least, n))); };
  const by = (n) => () => { set((value() || 0) + n); changed(); };
  set(from);
  return {
    value, valid, set,
    box: el("p", { class: "stepper" }, el("label", { for: id }, label),
      el("button", { type: "button", "aria-label": t("rounds.less", { what: label }), onclick: by(-1) }, "−"), input,
      el("button", { type: "button", "aria-label": t("rounds.more", { what: label }), onclick: by(1) }, "+")),
  };
}
