// The catalogue: every text that a person reads, in the language of the page.
// Texts that come from the server, findings above all, stay English.
import { num } from "./numbers.js";

const root = document.documentElement;
const { default: words } = await import(`./words/${root.lang}.js`);
const plural = new Intl.PluralRules(root.lang);

/** t is the text of a key, with {name} replaced by args.name; a number is
 *  written as the language writes it. Where a text has plural forms, args.n
 *  chooses among them. */
export function t(key, args = {}) {
  const text = words[key];
  const form = typeof text === "object" ? text[plural.select(args.n)] ?? text.other : text ?? key;
  return form.replace(/\{(\w+)\}/g, (_, name) => typeof args[name] === "number" ? num(args[name]) : args[name]);
}

// What the server wrote in English is put into the language of the page.
if (root.classList.contains("waiting")) {
  for (const e of document.querySelectorAll("[data-t]")) e.textContent = t(e.dataset.t);
  for (const e of document.querySelectorAll("[data-t-label]")) e.setAttribute("aria-label", t(e.dataset.tLabel));
  root.classList.remove("waiting");
}
