// The drawings of a rack; which one is shown stands in the address.
import { ask, seg } from "../ask.js";
import { el, section } from "../element.js";
import { t } from "../words.js";

const kinds = ["front", "side", "plan"];

/** views shows one drawing at a time. */
export function views(plan, rack) {
  const query = new URLSearchParams(location.search);
  const frame = el("div", { class: "sheet-frame" });
  const buttons = kinds.map((k) => el("button", { type: "button", id: "view-" + k, onclick: () => draw(k) }, t("rack.view." + k)));
  const at = (k) => `/plans/${plan.id}/racks/${seg(rack.rack)}.svg?view=${k}`;

  function draw(kind) {
    buttons.forEach((b, i) => b.setAttribute("aria-pressed", String(kinds[i] === kind)));
    if (kind === kinds[0]) query.delete("view"); else query.set("view", kind);
    history.replaceState(null, "", `${location.pathname}?${query}${location.hash}`);
    const picture = el("img", { src: "/api/v1" + at(kind), alt: t("rack.view.of", { view: t("rack.view." + kind), rack: rack.rack }), width: 1188, height: 840 });
    picture.addEventListener("load", () => { frame.scrollLeft = (frame.scrollWidth - frame.clientWidth) / 2; });
    picture.addEventListener("error", async () => {
      const error = await ask(at(kind)).then(() => null, (e) => e);
      frame.replaceChildren(el("p", { class: "quiet", lang: "en" }, error?.message ?? t("states.failed")));
    });
    frame.replaceChildren(el("a", { href: "/api/v1" + at(kind), target: "_blank", "aria-label": t("rack.view.open", { view: t("rack.view." + kind) }) }, picture));
  }

  draw(kinds.includes(query.get("view")) ? query.get("view") : kinds[0]);
  return section("views", t("rack.views"), t("rack.views.about"), el("div", { class: "tools filters", role: "group", "aria-label": t("rack.views") }, buttons), frame);
}
