// How long to look for the shortest piece of fabric: no part of the design, but of how this browser works on it.

import { make } from "./elements.js";
import { t } from "./texts.js";

const EFFORTS = ["quick", "normal", "long"];
const KEY = "effort";
/** @type {() => void} */
let changed = () => {};

/** What was chosen in this browser; normal where nothing was. */
export const effort = () => EFFORTS.find((one) => one === localStorage.getItem(KEY)) ?? "normal";

/**
 * `listener` is called when another effort is chosen.
 *
 * @param {() => void} listener
 */
export const onEffort = (listener) => { changed = listener; };

/** The choice of it. */
export const effortField = () => make("label", { class: "field" },
  make("span", {}, t("effort"), make("small", {}, t("effortNote"))),
  make("select", { "data-focus": KEY, "data-where": KEY, onchange: (event) => {
    localStorage.setItem(KEY, event.target.value);
    changed();
  } }, ...EFFORTS.map((one) => make("option", { value: one, selected: one === effort() }, t(`efforts/${one}`)))));
