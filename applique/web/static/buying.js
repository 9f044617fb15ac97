// What to buy and how many sheets to print.

import { byId, make } from "./elements.js";
import { t } from "./texts.js";

/** @import { Bought, Numbers } from "./types.js" */

/** Say that the numbers are on their way; what was there stays, dimmed. */
export function countingNumbers() {
  byId("buy").classList.add("stale");
  delete byId("buy").dataset.age;
  byId("buy-state").textContent = t("counting");
  if (!byId("buy").querySelector(".bill")) byId("buy").replaceChildren(make("p", { class: "note" }, t("counting")));
}

/** What there is now cannot be counted; what was there stays, dimmed. */
export function ageNumbers() {
  byId("buy").classList.add("stale");
  byId("buy").dataset.age = t("ofBefore"); // a phone has no room for the state
  byId("buy-state").textContent = t("ofBefore");
}

/** There is nothing to count yet. */
export function noNumbers() {
  byId("buy").classList.remove("stale");
  delete byId("buy").dataset.age;
  byId("buy-state").textContent = "";
  byId("buy").replaceChildren(make("p", { class: "note" }, t("notYet")));
}

/**
 * @param {string | null} color
 * @param {string} name
 * @param {string} amount
 * @param {HTMLElement[]} notes
 */
const line = (color, name, amount, ...notes) => make("li", {},
  make("span", { class: color ? "swatch" : "swatch none", color: color ?? "transparent" }),
  make("div", { class: "thing" }, name, ...notes),
  make("strong", {}, amount));

/** @param {string} words */
const note = (words) => make("small", {}, words);

/** The fabrics whose cuts from a precut are unfolded. @type {Set<string>} */
const unfolded = new Set();

/**
 * Which precut would do; what is cut from it unfolds.
 *
 * @param {Bought} buy
 */
function precutNote({ name, precut, precut_cuts: cuts }) {
  const details = make("details", { class: "precut", open: unfolded.has(name) }, make("summary", {}, t("precutNote", { precut })),
    make("ul", {}, ...cuts.map((cut) => make("li", {}, cut))));
  details.addEventListener("toggle", () => { if (details.open) unfolded.add(name); else unfolded.delete(name); });
  return details;
}

/**
 * Show what the program worked out.
 *
 * @param {Numbers} numbers
 */
export function renderNumbers(numbers) {
  const fold = byId("buy").querySelector(".fold");
  const open = fold instanceof HTMLDetailsElement && fold.open;
  byId("buy").classList.remove("stale");
  delete byId("buy").dataset.age;
  byId("buy-state").textContent = t(numbers.settled ? "settled" : "improving");
  byId("buy").replaceChildren(
    make("ul", { class: "bill" },
      ...numbers.cloth.map((buy) => line(buy.color, buy.name, buy.amount, ...(buy.precut ? [precutNote(buy)] : []))),
      line(null, t(numbers.fusible.kind === "freezer paper" ? "freezerPaper" : "web"), numbers.fusible.amount, note(t("webWidth", numbers.fusible))),
      line(null, t("sheets"), String(numbers.sheets), note(t("sheetsCount", { count: numbers.sheets, paper: t(`choices/PaperSize/${numbers.paper}`) })),
        note(t(numbers.joined ? "pieces" : "letters", { count: numbers.letters })), note(t("shapes", { count: numbers.shapes })))),
    ...(numbers.trim ? [make("p", { class: "note" }, numbers.trim)] : []),
    ...(numbers.stated.length ? [make("h3", {}, t("tables/stated")), make("ul", {}, ...numbers.stated.map((words) => make("li", {}, words)))] : []),
    make("details", { class: "fold", open }, make("summary", {}, t("alsoBuy")),
      make("dl", {}, ...numbers.shelves.flatMap((shelf) => [make("dt", {}, shelf.name), make("dd", {}, shelf.items.join("; "))]))),
    make("p", { class: "note" }, t("machineTime", { time: numbers.machine_time })));
}
