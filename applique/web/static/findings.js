// What will go wrong, in words, each pointing at its place on the drawing, with its cures as buttons.

import { design, take } from "./design.js";
import { byId, make, say } from "./elements.js";
import { t } from "./texts.js";
import { fieldOf, rowOf, whereSaid } from "./where.js";

/** @import { Shown } from "./types.js" */

/** @typedef {(finding: Shown) => void} ShowMe */

/**
 * Show `found`; `showMe(finding)` brings its place into sight, `looking` says that more may come.
 *
 * @param {Shown[]} found
 * @param {ShowMe} showMe
 * @param {{ looking?: boolean }} [options]
 */
export function renderFindings(found, showMe, { looking = false } = {}) {
  const calm = design().row.some((row) => row.text.trim()) ? looking ? "looking" : "noFindings" : "noWords";
  const items = found.length ? found.map((finding, index) => item(finding, index, showMe)) : [make("li", { class: "calm" }, t(calm))];
  byId("findings").replaceChildren(...items);
  markFields(found);
  const stops = found.filter((finding) => finding.stops).length;
  const count = found.length ? t("findingsCount", { stops: t("toFix", { count: stops }), looks: t("toCheck", { count: found.length - stops }) }) : "";
  if (byId("count").textContent !== count) byId("count").textContent = count;
}

/**
 * @param {Shown} finding
 * @param {number} index
 * @param {ShowMe} showMe
 */
function item(finding, index, showMe) {
  const where = whereSaid(finding.where);
  return make("li", { class: finding.stops ? "finding stops" : "finding" },
    make("span", { class: "number" }, String(index + 1)),
    make("div", {},
      make("p", { class: "what" },
        make("span", { class: "hidden" }, `${t(finding.stops ? "stops" : "look")}: `),
        where ? make("strong", {}, `${where}: `) : "", finding.what),
      finding.fix ? make("p", { class: "note" }, t("tryThis", { fix: finding.fix })) : null,
      make("div", { class: "cures" },
        ...finding.cures.map((cure) => make("button", { class: "cure", onclick: () => {
          take(cure.design);
          say(t("cured", { words: cure.words }));
        } }, cure.words)),
        rowOf(finding.where) ? make("button", { class: "plain", onclick: () => showMe(finding) }, t("showMe")) : null)));
}

/** @type {Shown[]} */
let marked = [];

/**
 * Mark each field whose entry must be fixed, with the words that say so under it. A field names the places that it
 * stands for, a table by its first field.
 *
 * @param {Shown[]} [found]
 */
export function markFields(found = marked) {
  marked = found;
  for (const words of document.querySelectorAll(".said-here")) words.remove();
  [...document.querySelectorAll("[data-where]")].forEach((field, index) => {
    const places = (field.getAttribute("data-where") ?? "").split(" ");
    const hits = found.filter((finding) => finding.stops && places.includes(fieldOf(finding.where)));
    const id = `said-${index}`;
    for (const [name, value] of [["aria-invalid", "true"], ["aria-describedby", id]]) {
      if (hits.length) field.setAttribute(name, value); else field.removeAttribute(name);
    }
    if (!hits.length) return;
    const said = hits.map(({ what, fix }) => [what, fix && t("tryThis", { fix })].filter(Boolean).join(". "));
    (field.closest("label, .fabric-head, .row-words, .field") ?? field).after(
      make("p", { class: "problem said-here", id }, said.join("\n")));
  });
}
