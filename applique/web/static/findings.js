// What will go wrong, in words, each pointing at its place on the drawing, with its cures as buttons, and what is meant so.

import { change, design, takeCured } from "./design.js";
import { byId, focusOn, keepingFocus, make, say, setText } from "./elements.js";
import { t } from "./texts.js";
import { fieldOf, rowOf, whereSaid } from "./where.js";

/** @import { Accepted, Acceptance, Shown } from "./types.js" */

/** @typedef {(finding: Shown) => void} ShowMe */

/**
 * What is being typed as the reason of a finding, and whether it is meant so in every row, by the finding.
 *
 * @type {Map<string, { why: string, everywhere: boolean }>}
 */
const reasons = new Map();

/** Whether the design has changed since that was found: a cure is a whole design, and would put back what was there before. */
let areOld = false;

/** The design has changed: until the program has looked at it, no cure of what was found can be taken. */
export function ageFindings() {
  areOld = true;
  for (const button of document.querySelectorAll(".cures > .cure")) button.setAttribute("aria-disabled", "true");
}

/**
 * Show `found`; `showMe(finding)` brings its place into sight, `looking` says that more may come, `old` that the design has changed since.
 *
 * @param {Shown[]} found
 * @param {ShowMe} showMe
 * @param {{ looking?: boolean, old?: boolean }} [options]
 */
export function renderFindings(found, showMe, { looking = false, old = false } = {}) {
  areOld = old;
  const calm = design().row.some((row) => row.text.trim()) ? looking ? "looking" : "noFindings" : "noWords";
  const draw = () => byId("findings").replaceChildren(...found.length
    ? found.map((finding, index) => item(finding, index, found, showMe, () => keepingFocus(draw)))
    : []);
  keepingFocus(draw);
  markFields(found);
  const stops = found.filter((finding) => finding.stops).length;
  const said = { stops: t("toFix", { count: stops }), looks: t("toCheck", { count: found.length - stops }) };
  const count = !found.length ? "" : stops === 0 ? said.looks : stops === found.length ? said.stops : t("findingsCount", said);
  setText(byId("count"), count);
  const opener = byId("findings-open");
  opener.classList.toggle("stops", stops > 0);
  setText(opener, count || t(calm));
}

/**
 * @param {Shown} finding
 * @param {number} index
 * @param {Shown[]} found
 * @param {ShowMe} showMe
 * @param {() => void} again
 */
function item(finding, index, found, showMe, again) {
  const deeds = rowOf(finding.where) ? [make("button", { class: "plain", onclick: () => showMe(finding) }, t("showMe"))] : [];
  return make("li", { class: finding.stops ? "finding stops" : "finding" },
    make("span", { class: "number" }, String(index + 1)),
    make("div", {}, ...bodyOf(finding, { index, found, again, place: "", deeds, where: whereSaid(finding.where) })));
}

/**
 * What is said of a finding, in the list or on its card: where it is, what to try, its cures and `deeds`, and that it is meant so.
 * `place` begins the names of what the keyboard goes to there; `again()` draws it anew.
 *
 * @param {Shown} finding
 * @param {{ index: number, found: Shown[], again: () => void, place: string, deeds: HTMLElement[], where: string }} here
 */
export function bodyOf(finding, { index, found, again, place, deeds, where }) {
  const { accept } = finding;
  const asked = accept && reasons.get(JSON.stringify(accept));
  return [
    make("p", { class: "what" },
      make("span", { class: "hidden" }, `${t(finding.stops ? "stops" : "look")}: `),
      where ? make("strong", {}, `${where}: `) : "", finding.what),
    ...(finding.fix ? [make("p", { class: "note" }, t("tryThis", { fix: finding.fix }))] : []),
    make("div", { class: "cures" },
      ...cureButtons(finding),
      ...deeds,
      accept ? make("button", { class: "plain", "data-focus": `${place}accept-${index}`, "aria-expanded": String(Boolean(asked)),
        "aria-label": t("acceptNumber", { number: index + 1 }), onclick: () => ask(accept, `${place}why-${index}`, again) }, t("accept")) : null),
    ...(accept && asked ? [reasonForm(accept, asked, { index, found, again, place })] : []),
  ];
}

/**
 * A button for each cure of a finding.
 *
 * @param {Shown} finding
 */
const cureButtons = ({ cures }) => cures.map((cure) => make("button", { class: "cure", "aria-disabled": String(areOld), onclick: () => {
  if (areOld) return;
  takeCured(cure.design);
  say(t("cured", { words: cure.words }));
} }, cure.words));

/**
 * Ask why a finding is meant so, in the field of that name, or ask no more.
 *
 * @param {Accepted} accept
 * @param {string} field
 * @param {() => void} again
 */
function ask(accept, field, again) {
  const key = JSON.stringify(accept);
  if (reasons.delete(key)) { again(); return; }
  reasons.set(key, { why: "", everywhere: false });
  again();
  focusOn(document.body, `[data-focus="${field}"]`);
}

/**
 * @param {Accepted} accept
 * @param {{ why: string, everywhere: boolean }} asked
 * @param {{ index: number, found: Shown[], again: () => void, place: string }} here
 */
function reasonForm(accept, asked, { index, found, again, place }) {
  const field = `${place}why-${index}`;
  const alike = found.flatMap((one) => (one.accept?.finding === accept.finding ? [one.accept] : []));
  return make("form", { class: "reason", onsubmit: (event) => {
    event.preventDefault();
    if (!asked.why.trim()) { focusOn(document.body, `[data-focus="${field}"]`); return; }
    reasons.delete(JSON.stringify(accept));
    accepting(asked.everywhere ? alike : [accept], asked.why.trim());
  } },
    make("label", { class: "field tall" }, make("span", {}, t("acceptWhy")),
      make("input", { type: "text", maxlength: "500", required: true, value: asked.why, "data-focus": field,
        oninput: (event) => { asked.why = event.target.value; },
        onkeydown: (event) => {
          if (event.key !== "Escape") return;
          event.preventDefault();
          ask(accept, field, again);
        } })),
    alike.length > 1 ? make("label", { class: "tick" },
      make("input", { type: "checkbox", checked: asked.everywhere, "data-focus": `${place}everywhere-${index}`,
        onchange: (event) => { asked.everywhere = event.target.checked; } }),
      make("span", {}, t("acceptEverywhere", { count: alike.length }))) : null,
    make("button", { class: "wide", "data-focus": `${place}accept-now-${index}` }, t("acceptDo")));
}

/**
 * Put into the design that these are meant so: of one row if it is one alone, else of the whole design.
 *
 * @param {Accepted[]} entries
 * @param {string} why
 */
function accepting(entries, why) {
  const [{ finding, words }] = entries;
  const measured = [...new Set(entries.flatMap((one) => one.measured ?? []))];
  const alone = entries.every((one) => one.words === words) && words;
  change((copy) => {
    (copy.accepted ??= []).push({ finding, ...(alone ? { words } : {}), ...(measured.length ? { measured } : {}), why });
  }, { whole: true });
  say(t("acceptedNow"));
  focusOn(byId("accepted"), "summary");
}

/**
 * Show what the design accepts: as the program says it, or by its reason alone until that has come.
 *
 * @param {Acceptance[]} said
 */
export function renderAccepted(said) {
  const entries = design().accepted ?? [];
  if (!entries.length && !byId("accepted").firstChild) return;
  const open = byId("accepted").querySelector("details")?.open ?? false;
  keepingFocus(() => byId("accepted").replaceChildren(...(entries.length ? [make("details", { class: "fold", open },
    make("summary", { "data-focus": "accepted" }, t("acceptedCount", { count: entries.length })),
    make("ul", {}, ...entries.map((entry, index) => {
      const one = said.find((other) => other.finding === entry.finding && other.words === (entry.words ?? "") && other.why === entry.why);
      return make("li", { class: one && one.standing !== "holds" ? "accepted idle" : "accepted" },
        ...(one?.said ?? [entry.why ?? ""]).map((words) => make("p", {}, words)),
        make("button", { class: "plain", "data-focus": `take-back-${index}`, "aria-label": t("takeBackNumber", { number: index + 1 }),
          onclick: () => takeBack(index) }, t("takeBack")));
    })))] : [])));
}

/** @param {number} index */
function takeBack(index) {
  change((copy) => {
    copy.accepted?.splice(index, 1);
    if (!copy.accepted?.length) delete copy.accepted;
  }, { whole: true });
  say(t("takenBack"));
  focusOn(byId("accepted"), "summary");
}

/** @type {Shown[]} */
let marked = [];

/**
 * Mark each field whose entry must be fixed, with the words that say so and their cures under it. A field names the places that it
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
    const folded = field.closest("details.more");
    if (folded instanceof HTMLDetailsElement) folded.open = true;
    const said = hits.map(({ what, fix }) => [what, fix && t("tryThis", { fix })].filter(Boolean).join(". "));
    (field.closest("label, .fabric-head, .row-words, .field") ?? field).after(
      make("p", { class: "problem said-here", id }, said.join("\n")),
      ...(hits.some(({ cures }) => cures.length) ? [make("div", { class: "cures said-here" }, ...hits.flatMap(cureButtons))] : []));
  });
}
