// What a page or a part of it shows: its content, that it waits, that there is
// nothing, that it failed.
import { el } from "./element.js";
import { t } from "./words.js";

/** show puts a page's content in its place. */
export function show(...content) {
  const place = document.getElementById("content");
  place.replaceChildren(...content.flat(Infinity).filter(Boolean));
  place.setAttribute("aria-busy", "false");
  if (location.hash) document.getElementById(decodeURIComponent(location.hash.slice(1)))?.scrollIntoView();
}

/** loading stands where something is being fetched. */
export const loading = () => el("p", { class: "note", "aria-busy": "true" }, t("shell.loading"));

/** empty says that there is nothing, and what to do about it. */
export const empty = (...content) => el("div", { class: "note" }, content);

/** failure says what went wrong; again is what to do once more. */
export function failure(error, again) {
  console.debug(error);
  return el("div", { class: "note bad", role: "alert" }, el("p", {}, error.message),
    el("button", { type: "button", onclick: again }, t("states.again")));
}

/** failed is the whole page where it could not be made. */
export function failed(error) {
  console.debug(error);
  show(el("div", { class: "note bad", role: "alert" },
    el("h1", {}, error.status === 404 ? t("states.missing") : t("states.failed")), el("p", {}, error.message),
    el("div", { class: "tools" },
      el("button", { type: "button", onclick: () => location.reload() }, t("states.again")),
      el("a", { class: "button", href: "/" }, t("states.home")))));
}

/** part shows a part of a page that is fetched on its own: waiting, then what
 *  make returns, or the failure with a button to try again. */
export function part(make) {
  const place = el("div", {}, loading());
  const draw = async () => {
    try {
      place.replaceChildren(await make());
    } catch (error) {
      place.replaceChildren(failure(error, () => { place.replaceChildren(loading()); draw(); }));
    }
  };
  draw();
  return place;
}
