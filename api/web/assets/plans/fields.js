// The form of what a plan is asked with: what is often changed first, the rest
// searched for; each with its unit, its meaning and what counts otherwise.
import { el } from "../element.js";
import { locale } from "../numbers.js";
import { t } from "../words.js";

const often = ["refill_interval_min", "service_level", "safety", "choose_intervals", "fill_limit", "move_limit", "cover_shift_ends", "prove"];
const groups = {
  loops: ["response_min", "service_measure", "shortages_per_year", "history_use", "interval_choices_min"],
  racks: ["design_racks", "frontage_price", "side_clearance_mm", "guide_width_mm", "hand_clearance_mm", "roller_pitch_mm", "walk_cost"],
  keep: ["move_price", "keep_cells", "keep_racks", "keep_levels", "keep_loops", "route_move_price", "route_move_limit", "move_container_s", "move_walk_m_per_s", "move_distance_m", "move_shift_min"],
  routes: ["load_limit", "busy_limit", "routing_steps"],
  work: ["deck_height_mm", "pick_reach_mm", "work_height_mm"],
  prices: ["weeks_per_year", "handler_cost_hour", "vehicle_cost_year", "rack_life_years", "floor_cost_m2_year", "stock_interest"],
  search: ["seed", "placement_steps", "proof_steps"],
  play: ["simulation_weeks", "simulation_warm_up_weeks", "simulation_replications", "simulation_use", "simulation_from"],
  plant: ["length_unit", "mass_unit", "time_zone"],
};

/** nameOf is a setting's name, valueOf its value with its unit. */
export const nameOf = (key) => t("plans.set." + key);
export const valueOf = (setting, value) => {
  if (value === "" || value === undefined) return t("plans.set.nothing");
  if (setting?.options.length) return optionText(value);
  return value === "none" ? t("plans.set.no-limit") : [value, setting?.unit].filter(Boolean).join("\u00a0");
};

/** units of measure stay as they are; words have a text. */
const optionText = (value) => ["yes", "no", "cycle", "year", "fill", "empirical", "variation", "all", "model", "random", "levelled"].includes(value) ? t("plans.option." + value) : value;

/** asked tells in one line what a plan was asked with: "Refill interval: 20 min". */
export const asked = (settings, values) => settings.filter((s) => s.key in values).map((s) =>
  t("plans.asked", { name: nameOf(s.key), value: valueOf(s, values[s.key]) })).join(" · ");

/** Form is the form: element shows it, changes() is what differs from the plant's
 *  own, refuse(errors) puts the server's refusals beside their fields. */
export class Form {
  constructor(settings, given = {}, keys = null) {
    this.fields = new Map(settings.filter((s) => !keys || keys.includes(s.key)).map((s) => [s.key, new Field(s, given[s.key] ?? s.value)]));
    this.element = keys ? el("div", { class: "settings" }, [...this.fields.values()].map((f) => f.element)) : this.whole();
  }

  whole() {
    const of = (keys) => keys.map((key) => this.fields.get(key)?.element).filter(Boolean);
    const placed = new Set([...often, ...Object.values(groups).flat()]);
    const others = [...this.fields.keys()].filter((key) => !placed.has(key)); // a setting that came later is not lost
    const parts = Object.entries({ ...groups, others }).filter(([, keys]) => keys.length)
      .map(([name, keys]) => el("fieldset", {}, el("legend", {}, t("plans.group." + name)), el("div", { class: "settings" }, of(keys))));
    const rest = el("details", { class: "rest" }, el("summary", {}, t("plans.rest", { n: this.fields.size - often.length })), parts);
    const told = el("span", { class: "quiet", role: "status" });
    const wanted = el("input", { id: "find-setting", type: "search", autocomplete: "off", placeholder: t("plans.find.such"), oninput: () => this.find(wanted.value, rest, parts, told) });
    if (Object.values(groups).flat().some((key) => this.fields.get(key)?.changed())) rest.open = true;
    return el("div", {}, el("p", { class: "tools" }, el("label", { for: "find-setting" }, t("plans.find")), wanted, told),
      el("fieldset", {}, el("legend", {}, t("plans.group.often")), el("div", { class: "settings" }, of(often))), rest);
  }

  /** find leaves what has all the words. */
  find(text, rest, parts, told) {
    const words = text.toLocaleLowerCase(locale).split(/\s+/).filter(Boolean);
    let n = 0;
    for (const field of this.fields.values()) {
      const has = words.every((w) => field.text.includes(w));
      field.element.hidden = !has;
      if (has) n++;
    }
    for (const p of parts) p.hidden = !p.querySelector(".setting:not([hidden])");
    if (words.length) rest.open = true;
    told.textContent = words.length ? t("plans.found", { n }) : "";
  }

  changes() {
    return Object.fromEntries([...this.fields].filter(([, f]) => f.changed()).map(([key, f]) => [key, f.input.value.trim()]));
  }

  reset() {
    for (const f of this.fields.values()) f.reset();
  }

  /** refuse returns the messages that belong to no field. */
  refuse(errors) {
    for (const f of this.fields.values()) f.say("");
    const others = errors.filter((e) => !this.fields.get(e.location?.replace("body.settings.", ""))?.say(e.message));
    const first = [...this.fields.values()].find((f) => f.input.getAttribute("aria-invalid"));
    if (first) {
      first.element.hidden = false;
      for (let p = first.element.closest("details"); p; p = null) p.open = true;
      first.input.focus();
    }
    return others.map((e) => e.message);
  }
}

/** Field is one setting with its input. */
class Field {
  constructor(setting, value) {
    this.own = setting.value;
    const id = "set-" + setting.key;
    const numeric = /^-?[\d.]+$/.test(setting.usual);
    this.input = setting.options.length
      ? el("select", { id, "aria-describedby": id + "-about" }, setting.options.map((o) => el("option", { value: o, selected: o === value }, optionText(o))))
      : el("input", { id, type: setting.key === "simulation_from" ? "date" : "text", inputmode: numeric ? "decimal" : null, value, autocomplete: "off", spellcheck: "false", "aria-describedby": id + "-about" });
    this.error = el("small", { class: "refused", id: id + "-error" });
    this.back = el("button", { type: "button", class: "small", "aria-label": t("plans.set.back.of", { name: nameOf(setting.key) }), onclick: () => { this.reset(); this.input.focus(); } }, t("plans.set.back"));
    const own = this.own === setting.usual ? t("plans.set.usual", { value: valueOf(setting, setting.usual) })
      : t("plans.set.own", { value: valueOf(setting, this.own), usual: valueOf(setting, setting.usual) });
    const about = t("plans.about." + setting.key);
    this.text = `${nameOf(setting.key)} ${about} ${setting.key}`.toLocaleLowerCase(locale);
    this.element = el("div", { class: "setting" }, el("label", { for: id }, nameOf(setting.key)),
      el("span", { class: "value" }, this.input, setting.unit && el("span", { class: "unit" }, setting.unit), this.back),
      el("small", { id: id + "-about" }, about, " ", el("span", { class: "own" }, own)), this.error);
    this.input.addEventListener("input", () => this.mark());
    this.mark();
  }

  changed() { return this.input.value.trim() !== this.own; }

  mark() {
    this.element.classList.toggle("changed", this.changed());
    this.back.hidden = !this.changed();
  }

  reset() {
    this.input.value = this.own;
    this.say("");
    this.mark();
  }

  /** say shows what the server has against the value, "" nothing. */
  say(message) {
    this.error.textContent = message;
    if (message) this.input.setAttribute("aria-invalid", "true");
    else this.input.removeAttribute("aria-invalid");
    this.input.setAttribute("aria-describedby", message ? this.error.id : this.input.id + "-about");
    return true;
  }
}
