// The texts of the page, which come within it in the language that the browser asks for (`applique/words/page.py`).

/** @import { Texts } from "./types.js" */

/** @type {Texts} */
export const TEXTS = JSON.parse(document.querySelector("#texts")?.textContent ?? "");
const language = document.documentElement.lang;
const plurals = new Intl.PluralRules(language);
const numbers = new Intl.NumberFormat(language);

/** @param {unknown} value */
const shown = (value) => (typeof value === "number" ? numbers.format(value) : String(value));

/**
 * A number of a measure with the decimals it has, `places` at the most; thousands are not set apart.
 *
 * @param {number} value
 * @param {number} places
 */
export const decimal = (value, places) => value.toLocaleString(language, { maximumFractionDigits: places, useGrouping: false });

/**
 * The text under `key` (with slashes for what lies deeper), its {names} filled from `values`. Of a text that comes in
 * several forms, the one for `values.count`.
 *
 * @param {string} key
 * @param {object} [values]
 * @returns {string}
 */
export function t(key, values = {}) {
  const filled = new Map(Object.entries(values));
  const found = key.split("/").reduce((/** @type {any} */ inner, part) => inner?.[part], TEXTS) ?? key;
  const text = typeof found === "string" ? found : found[plurals.select(filled.get("count"))];
  return text.replace(/\{(\w+)\}/g, (/** @type {string} */ whole, /** @type {string} */ name) => shown(filled.get(name) ?? whole));
}

/** Fill in every text that the page names in its markup. */
export function fillTexts() {
  const named = (/** @type {string} */ what) =>
    [...document.querySelectorAll(`[data-${what}]`)].map((element) => ({ element, text: t(element.getAttribute(`data-${what}`) ?? "") }));
  for (const { element, text } of named("text")) element.textContent = text;
  for (const { element, text } of named("label")) element.setAttribute("aria-label", text);
  for (const { element, text } of named("placeholder")) element.setAttribute("placeholder", text);
}
