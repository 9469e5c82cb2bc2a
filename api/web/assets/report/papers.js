// What can be printed or saved from a plan; each address asks for the chosen cells only.
import { el } from "../element.js";
import { t } from "../words.js";

const kinds = { lane: 1, rack: 2 };
const sizes = { metric: ["63.5x38.1", "99.1x38.1", "99.1x67.7", "page:100x60"], inch: ["4x2in", "4x3.33in", "page:4x3in"] };

/** papers lists the papers of a plan. cells are the chosen ones, none for all; since is the
 *  id of the plan that the report compares with, "" for none; build tells that racks are to
 *  be built. */
export function papers(plan, cells, since, build) {
  const at = `/api/v1/plans/${plan.id}/`;
  const query = (more = {}) => {
    const q = new URLSearchParams(more);
    for (const c of cells) q.append("cells", c);
    return q.size ? `?${q}` : "";
  };
  const sinceQuery = since ? { since } : {};
  return el("ul", { class: "papers" },
    paper("report", [["report-xlsx", at + "report.xlsx" + query(sinceQuery), t("report.xlsx"), true], ["report-pdf", at + "report.pdf" + query(sinceQuery), t("report.pdf")]]),
    labels(plan, at, query),
    paper("cards", [["cards", at + "cards.pdf" + query(), t("report.pdf")]]),
    paper("routes", [["routes", at + "routes.pdf" + query(), t("report.pdf")]]),
    build ? paper("build", [["build", at + "build.pdf" + query(), t("report.pdf")]]) : el("li", {}, el("div", {}, el("h3", {}, t("report.paper.build")), el("p", {}, t("report.about.none")))));
}

function paper(name, links) {
  return el("li", {}, el("div", {}, el("h3", {}, t("report.paper." + name)), el("p", {}, t("report.about." + name))),
    el("div", { class: "tools" }, links.map(([id, href, kind, save]) => link(id, href, name, kind, save))));
}

const link = (id, href, name, kind, save) => el("a", { id, class: "button", href, download: save, target: save ? null : "_blank", "aria-label": `${kind}: ${t("report.paper." + name)}` }, kind);

/** labels asks for lanes or racks, and for the size of the sheet. */
function labels(plan, at, query) {
  const inch = plan.settings.length_unit === "in" || plan.settings.length_unit === "ft";
  const list = inch ? [...sizes.inch, ...sizes.metric] : [...sizes.metric, ...sizes.inch];
  const kind = el("select", { id: "label-kind", "aria-label": t("report.label.kind") }, Object.keys(kinds).map((value) => el("option", { value }, t("report.label." + value))));
  const size = el("select", { id: "label-size", "aria-label": t("report.label.size") }, el("option", { value: "" }, t("report.label.usual")), list.map((s) => el("option", { value: s }, sizeText(s))));
  const a = link("labels", "", "labels", t("report.pdf"));
  const set = () => { a.href = at + "labels.pdf" + query({ kind: kind.value, ...size.value && { size: size.value } }); };
  kind.addEventListener("change", set);
  size.addEventListener("change", set);
  set();
  return el("li", {}, el("div", {}, el("h3", {}, t("report.paper.labels")), el("p", {}, t("report.about.labels"))), el("div", { class: "tools" }, kind, size, a));
}

/** sizeText writes a size of a label as people do. */
function sizeText(s) {
  const [, page, w, h, inch] = s.match(/^(page:)?([\d.]+)x([\d.]+)(in)?$/);
  const text = `${w} × ${h} ${inch ? "in" : "mm"}`;
  return page ? t("report.label.page", { size: text }) : text;
}
