// The control Display: language, units, theme and single keys of this person.
import { dialog } from "./dialog.js";
import { el } from "./element.js";
import { say } from "./say.js";
import { t } from "./words.js";

const root = document.documentElement;

/** settings asks how pages shall be shown and keeps it in this browser. */
export async function settings() {
  const choices = {
    language: [["en", "English"], ["de", "Deutsch"], ["es", "Español"]],
    units: [["plant", t("display.units.plant")], ["metric", "mm, kg"], ["inch", "in, lb"]],
    theme: [["system", t("display.theme.system")], ["light", t("display.theme.light")], ["dark", t("display.theme.dark")]],
    keys: [["on", t("display.keys.on")], ["off", t("display.keys.off")]],
  };
  const fields = Object.entries(choices).map(([name, list]) => el("p", { class: "field" },
    el("label", { for: "display-" + name }, t("display." + name)),
    el("select", { id: "display-" + name }, list.map(([value, text]) =>
      el("option", { value, selected: root.dataset[name] === value, lang: name === "language" && value }, text)))));
  const answer = await dialog(t("display.title"), [el("p", { class: "quiet" }, t("display.about")), ...fields],
    [["keep", t("display.keep"), "main"], ["", t("dialog.cancel"), ""]]);
  if (answer !== "keep") return;
  const old = { ...root.dataset };
  for (const name of Object.keys(choices)) {
    const value = fields.map((f) => f.querySelector("select")).find((s) => s.id === "display-" + name).value;
    root.dataset[name] = value;
    try {
      localStorage.setItem("lanewright." + name, value);
    } catch {
      say(t("display.unkept"), { bad: true });
      return;
    }
  }
  if (root.dataset.language !== old.language || root.dataset.units !== old.units) location.reload();
}
