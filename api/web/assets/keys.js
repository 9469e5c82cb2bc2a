// Single keys that do something on a page, and the help that lists them. They
// rest while somebody types, and can be switched off in Display.
import { dialog } from "./dialog.js";
import { el } from "./element.js";
import { t } from "./words.js";

const known = [];

/** onKey binds a key; help says in a few words what it does. */
export function onKey(key, help, act) {
  known.push({ key, help, act });
}

/** keyHelp lists the keys of this page. */
export function keyHelp() {
  const rows = [...known.map((k) => [k.key, k.help]), ["Tab", t("keys.tab")], ["Esc", t("keys.escape")]];
  return dialog(t("keys.title"), [
    document.documentElement.dataset.keys === "off" && el("p", { class: "quiet" }, t("keys.off")),
    el("dl", { class: "keys" }, rows.map(([key, help]) => el("div", {}, el("dt", {}, el("kbd", {}, key)), el("dd", {}, help)))),
  ].filter(Boolean));
}

document.addEventListener("keydown", (e) => {
  if (document.documentElement.dataset.keys === "off" || e.defaultPrevented || e.ctrlKey || e.metaKey || e.altKey || e.isComposing) return;
  if (e.target.closest?.("input, select, textarea, [contenteditable]") || document.querySelector("dialog[open]")) return;
  const found = known.find((k) => k.key === e.key);
  if (!found) return;
  e.preventDefault();
  found.act();
});
