// The API, read from its own OpenAPI document.
import { ask, el, failed, section, show } from "./base.js";

main().catch(failed);

async function main() {
  const doc = await ask("/openapi.json");
  const operations = Object.entries(doc.paths).sort().flatMap(([path, item]) =>
    Object.entries(item).map(([method, op]) => ({ path, method: method.toUpperCase(), ...op })));
  show(el("h1", {}, "The API"), el("p", { class: "sub" }, doc.info.description),
    section("operations", "Operations", `${operations.length} operations, version ${doc.info.version || "unnamed"}. The OpenAPI document has every field.`,
      el("div", { class: "frame" }, el("ul", { class: "list" }, operations.map(operation)))));
}

function operation(op) {
  const parameters = (op.parameters ?? []).filter((p) => p.name !== "If-None-Match");
  return el("li", { id: op.operationId },
    el("div", { class: "head" }, el("span", { class: "word" }, op.method), el("strong", {}, op.path)),
    el("p", {}, op.summary, op.description && ". " + op.description),
    parameters.length > 0 && el("p", { class: "quiet" }, parameters.map((p, i) => [i > 0 && "; ", el("code", {}, p.name), ` (${p.in})`, p.description && " " + p.description])),
    el("p", { class: "quiet" }, "Answers: " + Object.entries(op.responses ?? {}).map(([status, r]) => `${status === "default" ? "otherwise" : status} ${Object.keys(r.content ?? {}).join(", ")}`.trim()).join(" · ")));
}
