// The API, read from its own OpenAPI document.
import { ask } from "../ask.js";
import { el, section, titled } from "../element.js";
import { begin } from "../shell.js";
import { show } from "../states.js";
import { t } from "../words.js";

begin(async () => {
  const doc = await ask("/openapi.json");
  titled(t("docs.title"));
  const operations = Object.entries(doc.paths).sort().flatMap(([path, item]) =>
    Object.entries(item).map(([method, op]) => ({ path, method: method.toUpperCase(), ...op })));
  show(el("h1", {}, t("docs.title")), el("p", { class: "sub", lang: "en" }, doc.info.description),
    el("p", {}, el("a", { href: "/api/v1/openapi.json" }, t("docs.document"))),
    section("operations", t("docs.operations"), t("docs.about", { n: operations.length, version: doc.info.version || t("docs.unnamed") }),
      el("div", { class: "frame" }, el("ul", { class: "list", lang: "en" }, operations.map(operation)))));
});

function operation(op) {
  const parameters = (op.parameters ?? []).filter((p) => p.name !== "If-None-Match");
  const answers = Object.entries(op.responses ?? {}).map(([status, r]) => `${status === "default" ? t("docs.otherwise") : status} ${Object.keys(r.content ?? {}).join(", ")}`.trim());
  return el("li", { id: op.operationId },
    el("div", { class: "head" }, el("span", { class: "word" }, op.method), el("strong", {}, op.path)),
    el("p", {}, op.summary, op.description && ". " + op.description),
    parameters.length > 0 && el("p", { class: "quiet" }, parameters.map((p, i) => [i > 0 && "; ", el("code", {}, p.name), ` (${p.in})`, p.description && " " + p.description])),
    el("p", { class: "quiet" }, t("docs.answers", { list: answers.join(" · ") })));
}
