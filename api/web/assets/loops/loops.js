// Where is a part used? Loops of all cells by letters of their codes.
import { crumb, el, titled } from "../element.js";
import { thePlan } from "../plan.js";
import { remember } from "../plans/here.js";
import { begin } from "../shell.js";
import { show } from "../states.js";
import { t } from "../words.js";
import { finder } from "./find.js";

begin(async () => {
  const plan = await thePlan();
  titled(t("loops.find.title"), plan.plant);
  show(crumb("/cells?" + new URLSearchParams({ plan: plan.id }), t("cells.title"), t("plan.number", { id: String(plan.id) })),
    el("h1", {}, t("loops.find.title")), el("p", { class: "sub" }, t("loops.find.about")),
    finder(plan, new URLSearchParams(location.search).get("find") ?? "", (find) => remember({ find })));
  document.getElementById("find-loop").focus();
});
