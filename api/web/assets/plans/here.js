// The plan in the path of a page's address: /plans/12 and what lies below it.
import { crumb } from "../element.js";
import { thePlan } from "../plan.js";
import { t } from "../words.js";

/** planHere is thePlan of such a page; below is what follows the id in its address. */
export const planHere = (below = "") => thePlan({ named: location.pathname.split("/")[2], to: (id) => `/plans/${id}${below}` });

/** crumbs lead back to the plan, or from it to all plans. */
export const plansCrumb = (plan) => crumb("/plans?" + new URLSearchParams({ plan: plan.id }), t("plans.title"), plan.plant);
export const planCrumb = (plan) => crumb(`/plans/${plan.id}`, t("plans.plan.n", { id: String(plan.id) }), plan.plant);

/** remember puts what is chosen into the address without going anywhere; what is
 *  empty leaves it. */
export function remember(values) {
  const query = new URLSearchParams(location.search);
  for (const [key, value] of Object.entries(values)) {
    if (value === "" || value === null) query.delete(key);
    else query.set(key, value);
  }
  history.replaceState(null, "", query.size ? "?" + query : location.pathname);
}
