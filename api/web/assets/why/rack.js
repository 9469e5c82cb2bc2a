// Why a rack is on its route, or on none.
import { ask, seg } from "../ask.js";
import { el } from "../element.js";
import { told } from "./steps.js";

/** tell explains a rack. */
export const tell = async ({ plan, rack }) => el("div", {}, told((await ask(`/plans/${plan}/racks/${seg(rack)}/explanation`)).sections));
