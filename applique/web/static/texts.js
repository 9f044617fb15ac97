// The texts of the page, which come within it in the language that the browser asks for (`applique/words/page.py`).

export const TEXTS = JSON.parse(document.getElementById("texts").textContent);
const language = document.documentElement.lang;
const plurals = new Intl.PluralRules(language);

const shown = (value) => (typeof value === "number" ? value.toLocaleString(language) : value);

/**
 * The text under `key` (with slashes for what lies deeper), its {names} filled from `values`. Of a text that comes in
 * several forms, the one for `values.count`.
 */
export function t(key, values = {}) {
  const found = key.split("/").reduce((inner, part) => inner?.[part], TEXTS) ?? key;
  const text = typeof found === "string" ? found : found[plurals.select(values.count)];
  return text.replace(/\{(\w+)\}/g, (whole, name) => shown(values[name] ?? whole));
}

/** Fill in every text that the page names in its markup. */
export function fillTexts(root) {
  for (const element of root.querySelectorAll("[data-text]")) element.textContent = t(element.dataset.text);
  for (const element of root.querySelectorAll("[data-label]")) element.setAttribute("aria-label", t(element.dataset.label));
  for (const element of root.querySelectorAll("[data-placeholder]")) element.placeholder = t(element.dataset.placeholder);
}
