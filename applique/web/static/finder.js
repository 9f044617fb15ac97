// Finding a setting by a word for it: its name, its choices, what it is about; and going to its control.

import { byId, make, say } from "./elements.js";
import { choicesOf, isTable, propertiesOf } from "./fields.js";
import { t } from "./texts.js";
import { labelOf } from "./where.js";

/** @import { Property } from "./types.js" */

/** @typedef {{ place: string, table: string, key: string, label: string, said: string[] }} Setting */

/** The most settings that are shown; who sees more types on. */
const MOST = 8;
/** Tables that are inside a row. */
const OF_ROW = ["nudge", "fussy"];

/** @param {string} table */
const tableName = (table) => t(OF_ROW.includes(table) ? `keys/row.${table}` : `tables/${table}`);

/**
 * What a setting is called, in the order in which a word for it counts: its name, its choices, its key, its table, its help.
 *
 * @param {string} place
 * @param {string} table
 * @param {string} key
 * @param {Property} property
 * @returns {Setting}
 */
function setting(place, table, key, property) {
  const label = labelOf(OF_ROW.includes(table) ? "row" : table, key);
  const said = [label, choicesOf(property).join(" "), key.replaceAll("_", " "), tableName(table), property.description ?? ""];
  return { place, table, key, label, said: said.map((words) => words.toLocaleLowerCase()) };
}

/** @param {[name: string, tables: string[]][]} places */
const settings = (places) => places.flatMap(([place, tables]) => tables.flatMap((table) =>
  Object.entries(propertiesOf(table)).filter(([, property]) => !isTable(property)).map(([key, property]) => setting(place, table, key, property))));

/**
 * How well a setting goes with what was typed, 0 best; none for not at all.
 *
 * @param {Setting} setting
 * @param {string[]} words
 */
function fitting({ said }, words) {
  if (!words.every((word) => said.some((part) => part.includes(word)))) return [];
  return [said.findIndex((part) => words.some((word) => part.includes(word))) * 2 + (said[0].startsWith(words[0]) ? 0 : 1)];
}

/**
 * The field to type a word in, and the settings that it finds; `go(place, table, key)` goes to one.
 *
 * @param {[name: string, tables: string[]][]} places rows of words stand under the place of that name
 * @param {{ place: string, key: string, label: string, said: string }[]} others settings that are none of the design
 * @param {(place: string, table: string, key: string) => void} go
 */
export function finder(places, others, go) {
  const every = [...settings(places), ...others.map((one) => ({ ...one, table: "", said: [one.label, one.said].map((words) => words.toLocaleLowerCase()) }))];
  const list = make("ul", { class: "found-settings" });
  const input = make("input", { type: "text", id: "find-setting", "data-focus": "find-setting", placeholder: t("findHint"), autocomplete: "off",
    "aria-describedby": "find-how", oninput: () => show(), onkeydown: (event) => {
      if (event.key === "Enter") list.querySelector("button")?.click();
      if (event.key === "Escape") { input.value = ""; show(); }
      if (event.key === "ArrowDown") { event.preventDefault(); list.querySelector("button")?.focus(); }
    } });
  const show = () => {
    const words = input.value.toLocaleLowerCase().split(/\s+/).filter(Boolean);
    const found = words.length ? every.flatMap((one) => fitting(one, words).map((fit) => ({ one, fit }))).sort((a, b) => a.fit - b.fit).slice(0, MOST) : [];
    list.replaceChildren(...found.map(({ one }) => make("li", {}, make("button", { class: "plain", onclick: () => {
      input.value = "";
      list.replaceChildren();
      go(one.place, one.table, one.key);
    } }, make("span", {}, one.label, make("small", {}, one.table
      ? t("findWhere", { place: t(`settings/${one.place}`), table: tableName(one.table) }) : t(`settings/${one.place}`)))))));
    if (!words.length) return;
    if (!found.length) list.replaceChildren(make("li", { class: "note" }, t("findNone")));
    say(found.length ? t("findCount", { count: found.length }) : t("findNone"));
  };
  return make("div", { class: "finder", role: "search" },
    make("label", { for: "find-setting" }, t("find")), input, make("p", { id: "find-how", class: "hidden" }, t("findHow")), list);
}

/**
 * Give the keyboard to the control of a key, wherever it is unfolded; to what adds such a table where there is none yet.
 *
 * @param {string} table
 * @param {string} key
 */
export function focusOnSetting(table, key) {
  const path = table === "design" || !table ? key : `${table}.${key}`;
  const plain = (/** @type {string} */ place) => place.replace(/\.\d+/g, "").replace(/^row\.(nudge|fussy)/, "$1").replace(/\.axes\..*/, ".axes");
  const controls = [...document.querySelectorAll("[data-where]")].filter((one) => one instanceof HTMLElement);
  const named = controls.find((one) => (one.dataset.where ?? "").split(" ").some((place) => plain(place) === path));
  /** @type {HTMLElement | null} */
  const adds = document.querySelector(`[data-focus="add-${OF_ROW.includes(table) ? `row.1.${table}` : table}"]`);
  const control = named ?? adds ?? byId("settings");
  for (let folded = control.closest("details"); folded; folded = folded.parentElement?.closest("details") ?? null) folded.open = true;
  control.scrollIntoView({ block: "center" });
  (control.matches("fieldset, div") ? control.querySelector("input") ?? control : control).focus();
}
