// Where a route's time goes.
import { ask, seg } from "../ask.js";
import { el } from "../element.js";
import { told } from "./steps.js";

/** tell explains a route. */
export const tell = async ({ plan, route }) => el("div", {}, told((await ask(`/plans/${plan}/routes/${seg(route)}/explanation`)).sections));
