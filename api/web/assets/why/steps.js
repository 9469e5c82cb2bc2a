// What the panels of "Why?" are made of: steps of a calculation, and what the
// server tells in sentences.
import { el } from "../element.js";
import { place } from "../data/findings.js";
import { t } from "../words.js";

/** stepList draws a calculation: [what, how, result]; how has the figures in it. */
export const stepList = (list) => el("ol", { class: "steps" }, list.map(([what, how, result]) =>
  el("li", {}, el("span", {}, what), how && el("code", {}, how), el("strong", {}, result))));

/** told draws sentences with the figures they rest on and where each can be
 *  changed; the sentences are the server's. */
export const told = (sections) => sections.filter((s) => s.sentences.length).map((s) => el("section", { class: "told", lang: "en" }, el("h3", {}, s.title),
  s.sentences.map((x) => [el("p", {}, x.text), x.values.length > 0 && el("ul", {}, x.values.map((v) =>
    el("li", {}, `${v.name}: `, el("b", {}, v.text), source(v) && el("span", { class: "quiet" }, ` — ${source(v)}`))))])));

/** source says where a figure can be changed. */
function source(value) {
  return place(value.origin) || (value.setting ? t("why.setting", { key: value.setting }) : "");
}
