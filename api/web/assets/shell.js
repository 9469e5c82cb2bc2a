// What stands around every page: the header with its controls and keys.
import { el } from "./element.js";
import { keyHelp, onKey } from "./keys.js";
import { settings } from "./settings.js";
import { failed } from "./states.js";
import { t } from "./words.js";

/** begin wires the header and makes the page. */
export function begin(main) {
  const menu = document.getElementById("menu");
  menu.addEventListener("click", () => menu.setAttribute("aria-expanded", String(menu.getAttribute("aria-expanded") !== "true")));
  document.getElementById("display").addEventListener("click", settings);
  document.getElementById("keys").addEventListener("click", keyHelp);
  onKey("?", t("keys.help"), keyHelp);
  onKey("d", t("keys.display"), settings);
  onKey("/", t("keys.filter"), () => document.querySelector("input[type=search]")?.focus());
  document.querySelectorAll(".mast nav a").forEach((a, i) => onKey(String(i + 1), a.textContent, () => a.click()));
  main().catch(failed);
}

/** foot ends a page. */
export function foot(...content) {
  document.getElementById("foot").replaceChildren(...content.map((c) => el("p", {}, c)));
}
