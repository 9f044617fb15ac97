// The rows of words: the words themselves, and folded away under each how it looks.

import { axesFields } from "./axes.js";
import { byKey, change, design, markOfWord, setSize, spaced, withUnit } from "./design.js";
import { drawn } from "./drawing.js";
import { byId, focusOn, hinted, keepingFocus, make, say } from "./elements.js";
import { entryForms, fieldAt, more, propertiesOf } from "./fields.js";
import { markFields } from "./findings.js";
import { chooseFont } from "./fonts.js";
import { fabricNames } from "./naming.js";
import { openLength } from "./measures.js";
import { t } from "./texts.js";

/** @import { ChangeOptions, Path, Row } from "./types.js" */

/** @type {Set<number>} */
const opened = new Set();

/**
 * The color of a fabric: as the design says it, or that of its photo as it was drawn.
 *
 * @param {string | undefined} name
 */
export const colorOf = (name) => (design().fabric ?? []).find((fabric) => fabric.name === name)?.color
  ?? drawn()?.fabrics.find((fabric) => fabric[0] === name)?.[1];

/** Draw every row anew; the words that are being typed keep the caret. */
export function renderRows() {
  keepingFocus(() => byId("rows").replaceChildren(...design().row.map(row)));
  markFields();
}

/**
 * Show how a row looks.
 *
 * @param {number} index
 */
export function openRow(index) {
  opened.add(index);
  renderRows();
}

/** Say anew how each row looks, without touching what is being typed in. */
export function refreshRows() {
  design().row.forEach((line, index) => {
    const shown = byId("rows").children[index]?.querySelector("summary");
    const latest = lookOf(line);
    if (!shown || shown.dataset.look === latest.join()) return;
    shown.dataset.look = latest.join();
    shown.replaceChildren(...summary(latest));
  });
}

/**
 * @param {number} index
 * @param {"font" | "cap_height" | "width" | "align" | "fabric"} key
 * @param {string} value
 * @param {ChangeOptions} options
 */
function setLine(index, key, value, options) {
  change((copy) => {
    if (value === "") delete copy.row[index][key];
    else setSize(copy.row[index], key, value);
  }, options);
}

/**
 * @param {Row} line
 * @param {number} index
 */
function row(line, index) {
  const number = index + 1;
  const words = make("input", {
    type: "text", value: line.text, placeholder: t("rowHint"), "aria-label": t("rowText", { number }),
    "data-focus": `text-${index}`, "data-where": `row.${number}.text`, spellcheck: "true", dir: "auto",
    oninput: (event) => change((copy) => { copy.row[index].text = event.target.value; }, { mark: markOfWord(`text-${index}`, event.target.value) }),
    onpaste: (event) => pasteRows(event, index),
    onkeydown: (event) => {
      if (event.key === "Enter") addRow(index + 1);
    },
  });
  const look = make("details", { class: "look", open: opened.has(index) },
    make("summary", { "data-focus": `look-${index}`, "data-look": lookOf(line).join(), "aria-label": t("rowLook", { number }) },
      ...summary(lookOf(line))),
    ...(opened.has(index) ? [lookForm(line, index)] : []));
  look.addEventListener("toggle", () => {
    if (look.open === opened.has(index)) return;
    if (look.open) opened.add(index); else opened.delete(index);
    renderRows();
  });
  return make("li", { class: "row", "data-row": number },
    make("div", { class: "row-words" },
      make("span", { class: "number", "aria-hidden": "true" }, String(number)),
      words,
      make("button", { class: "round", "aria-label": t("rowRemove", { number }), disabled: design().row.length < 2,
        onclick: () => removeRow(index) }, "×")),
    look);
}

/**
 * How a row looks: the color of its letters, and the rest in words.
 *
 * @param {Row} line
 * @returns {[color: string, words: string]}
 */
function lookOf(line) {
  const lettering = design().lettering ?? {};
  const fabric = line.fabric || lettering.fabric || fabricNames()[0];
  const height = line.cap_height ?? lettering.cap_height ?? "fit";
  const own = design().panel?.margin;
  const margin = own ? spaced(own) : openLength(String(propertiesOf("panel").margin?.default ?? ""));
  const size = line.width ? t("wide", { width: spaced(line.width) })
    : height === "fit" ? t("fitsWithin", { margin }) : spaced(height);
  const align = line.align ?? lettering.align ?? "center";
  return [colorOf(fabric) ?? "#23405f", [line.font ?? lettering.font ?? "Montserrat", size,
    line.direction === "down" && t("choices/Direction/down"),
    align !== "center" && t(alignOf(line, align))].filter(Boolean).join(" · ")];
}

/**
 * The text for where a row lies: one that runs down starts at the top.
 *
 * @param {Row} line
 * @param {string} align
 */
const alignOf = (line, align) => (line.direction === "down" ? `down/${align}` : `choices/Align/${align}`);

/** @param {[color: string, words: string]} look */
const summary = ([color, words]) => [make("span", { class: "swatch", color }), make("span", {}, words)];

/**
 * @param {Row} line
 * @param {number} index
 */
function lookForm(line, index) {
  const number = index + 1;
  /**
   * @param {"fabric" | "align"} key
   * @param {string[]} values
   * @param {(value: string) => string} words
   * @param {string} [called]
   */
  const select = (key, values, words, called = t(key)) => make("label", { class: "field" }, make("span", {}, called),
    make("select", { "data-focus": `${key}-${index}`, "data-where": `row.${number}.${key}`,
      onchange: (event) => setLine(index, key, event.target.value, { whole: true }) },
      make("option", { value: "" }, t("asAll")),
      ...values.map((value) => make("option", { value, selected: line[key] === value }, words(value)))));
  return make("div", { class: "fields" },
    make("div", { class: "field" }, make("span", {}, t("font")),
      make("button", { class: "chooser", "data-focus": `font-${index}`, "data-where": `row.${number}.font`,
        onclick: () => chooseFont(index) }, line.font ?? t("asAll"))),
    select("fabric", fabricNames(), (name) => name),
    make("label", { class: "field" }, make("span", {}, t("height")),
      make("input", { type: "text", value: spaced(line.cap_height ?? ""),
        ...hinted(t("asAll")), "data-focus": `cap-${index}`, "data-where": `row.${number}.cap_height`,
        oninput: (event) => setLine(index, "cap_height", withUnit(event.target.value), { mark: `cap-${index}` }),
        onchange: (event) => { event.target.value = spaced(withUnit(event.target.value)); } })),
    make("label", { class: "field" }, make("span", {}, t("keys/row.width")),
      make("input", { type: "text", value: spaced(line.width ?? ""),
        "data-focus": `width-${index}`, "data-where": `row.${number}.width`,
        oninput: (event) => setLine(index, "width", withUnit(event.target.value), { mark: `width-${index}` }),
        onchange: (event) => { event.target.value = spaced(withUnit(event.target.value)); } })),
    select("align", ["center", "left", "right", "spread"], (value) => t(alignOf(line, value)), t(line.direction === "down" ? "alignDown" : "align")),
    more(`row.${number}`, t("numbered/row", { number }), [...SPACING, ...SEWN, ...DOWN, "axes"].some((key) => byKey(line)[key] !== undefined), [
      axesFields(["row", index]), ...[...directed(line), ...SPACING, ...SEWN].map((key) => rowField(index, key))]),
    more(`moved.${number}`, t("rowMoved", { number }), [...MOVED, "nudge", "fussy"].some((key) => byKey(line)[key] !== undefined), [
      ...MOVED.map((key) => rowField(index, key)), ...letterForms(line, index, "nudge"), ...letterForms(line, index, "fussy")], t("movedByHand")),
    make("div", { class: "row-order" },
      make("button", { class: "plain", "aria-label": t("rowUp", { number }), disabled: index === 0,
        "data-focus": `up-${index}`, onclick: () => swap(index, index - 1) }, "↑"),
      make("button", { class: "plain", "aria-label": t("rowDown", { number }),
        disabled: number === design().row.length, "data-focus": `down-${index}`,
        onclick: () => swap(index, index + 1) }, "↓")));
}

/** What a row takes from the letters of all rows unless it says otherwise. */
const SPACING = ["letter_spacing", "least_gap", "spacing", "alternates", "outline"];
/** What it takes from the stitch of its fabric or of all letters; `stitching` calls some of it otherwise. */
const SEWN = ["stitch", "stitch_width", "stitch_length", "thread"];
/** Which way it runs, which no other table says. */
const DOWN = ["direction", "letters_down"];
/** Of these, what there is to say of a row: how letters stand only of one that runs down. @param {Row} line */
const directed = (line) => DOWN.filter((key) => key === "direction" || line.direction === "down" || byKey(line)[key] !== undefined);
const MOVED = ["right", "up", "turn", "runs_off", "baseline"];

/**
 * A field of a row; help is that of what it is taken from.
 *
 * @param {number} index
 * @param {string} key
 */
function rowField(index, key) {
  const own = propertiesOf("row")[key];
  if (!own) return null;
  const from = SEWN.includes(key) ? propertiesOf("stitching")[key.replace("stitch_", "")] : propertiesOf("lettering")[key];
  const alone = MOVED.includes(key) || DOWN.includes(key);
  const taken = alone ? {} : { hint: t("asAll"), empty: t("asAll") };
  return fieldAt(["row", index], key, { ...taken, property: alone || !from ? own : { ...own, description: from.description } });
}

/**
 * The letters of a row that were moved, or that are cut from one spot of the fabric.
 *
 * @param {Row} line
 * @param {number} index
 * @param {"nudge" | "fussy"} table
 */
function letterForms(line, index, table) {
  const letters = lettersOf(line.text);
  const numbers = letters.map((_, place) => place + 1);
  const letterField = (/** @type {string} */ key, /** @type {Path} */ path) => (key !== "letter" ? null
    : fieldAt(path, key, { choices: letters.map((letter, place) => [place + 1, t("letterAt", { number: place + 1, letter })]) }));
  return [
    make("h3", {}, t(`keys/row.${table}`)),
    ...entryForms({
      path: ["row", index, table], keysOf: () => Object.keys(propertiesOf(table)), own: letterField,
      fresh: (list) => ({ letter: numbers.find((number) => !list.some((one) => one.letter === number)) ?? 1,
        ...(table === "fussy" ? { along: "0in", across: "0in" } : {}) }),
      add: t(`add/${table}`), named: (number) => t(`numbered/${table}`, { number }), remove: (number) => t(`remove/${table}`, { number }),
    }),
  ];
}

/**
 * The letters of a row as the program counts them: as typed, an accent with its letter, and no spaces.
 *
 * @param {string} text
 */
const lettersOf = (text) => [...new Intl.Segmenter(undefined, { granularity: "grapheme" }).segment(text.replace(/[\u00ad\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]/g, ""))]
  .map(({ segment }) => segment).filter((letter) => letter.trim());

/** A new row of words at `index`, ready to type in. */
export function addRow(index = design().row.length) {
  change((copy) => { copy.row.splice(index, 0, { text: "" }); }, { whole: true });
  focusOnWords(index);
}

/**
 * Several lines that are pasted come to stand in a row each.
 *
 * @param {ClipboardEvent & { target: HTMLInputElement }} event
 * @param {number} index
 * @returns {boolean} whether there were several
 */
export function pasteRows(event, index) {
  const lines = (event.clipboardData?.getData("text") ?? "").split(/[\r\n\u2028\u2029]+/).map((line) => line.trim()).filter(Boolean);
  if (lines.length < 2) return false;
  event.preventDefault();
  const { value, selectionStart, selectionEnd } = event.target;
  const last = index + lines.length - 1;
  lines[0] = value.slice(0, selectionStart ?? 0) + lines[0];
  lines[lines.length - 1] += value.slice(selectionEnd ?? value.length);
  change((copy) => {
    copy.row[index].text = lines[0];
    copy.row.splice(index + 1, 0, ...lines.slice(1).map((text) => ({ text })));
  }, { whole: true });
  focusOnWords(last);
  say(t("rowsPasted", { count: lines.length }));
  return true;
}

/** @param {number} index */
const focusOnWords = (index) => focusOn(byId("rows"), `[data-focus="text-${index}"]`);

/** @param {number} index */
function removeRow(index) {
  change((copy) => { copy.row.splice(index, 1); }, { whole: true });
  opened.clear();
  say(t("removed", { number: index + 1 }));
  focusOnWords(Math.max(0, index - 1));
}

/**
 * @param {number} from
 * @param {number} to
 */
function swap(from, to) {
  change((copy) => { [copy.row[from], copy.row[to]] = [copy.row[to], copy.row[from]]; }, { whole: true });
}

/**
 * Bring a row of the design into view, its words ready to be changed.
 *
 * @param {number} number
 */
export function showRow(number) {
  focusOnWords(number - 1);
}
