// Fonts, shown in the maker's own words, for one row or for all of them.

import { askJson, getJson, Gone, Refused, sendFile } from "./asking.js";
import { change, design } from "./design.js";
import { byId, draw, make, say } from "./elements.js";
import { t } from "./texts.js";

/** @import { Axes, Font, Sample } from "./types.js" */

/**
 * What the open dialog shows: `index` is the row it is for, null for all of them, and `words` are set in each font.
 *
 * @typedef {object} State
 * @property {string} kind
 * @property {boolean} spells
 * @property {boolean} sewable
 * @property {number | null} index
 * @property {string} words
 * @property {string} used
 * @property {Axes} axes
 * @property {string} cap
 */

const KINDS = ["", "plain", "rounded", "serif", "heavy", "script", "own"];
let round = 0;
let added = () => {};

/** @param {() => void} listener told of every font file that was added */
export const onFontAdded = (listener) => { added = listener; };

/** @type {Record<number, string>} */
let heights = {};

/**
 * The height of the H of every row as it is drawn now, by its place on the page.
 *
 * @param {Record<number, string>} latest
 */
export const noteHeights = (latest) => { heights = latest; };

/**
 * Open the fonts for row `index`, or for all rows without one.
 *
 * @param {number | null} index
 */
export async function chooseFont(index = null) {
  const dialog = byId("font-dialog");
  const lettering = design().lettering ?? {};
  const row = index === null ? null : design().row[index];
  const words = (row ? row.text : design().row.map((one) => one.text).find((text) => text.trim()))?.trim() || t("titleHint");
  /** @type {State} */
  const state = { kind: "", spells: true, sewable: false, index, words,
    used: row?.font ?? lettering.font ?? "Montserrat", axes: (row?.font ? row.axes : row?.axes ?? lettering.axes) ?? {},
    cap: heights[index ?? design().row.findIndex((row) => row.text.trim())] ?? "" };
  const list = make("ul", { class: "fonts" });
  const kind = make("select", { onchange: (event) => { state.kind = event.target.value; filter(list, state); } },
    ...KINDS.map((value) => make("option", { value }, t(`kinds/${value}`))));
  const tick = (/** @type {"spells" | "sewable"} */ key, /** @type {string} */ label) => make("label", { class: "tick" },
    make("input", { type: "checkbox", checked: state[key],
      onchange: (event) => { state[key] = event.target.checked; filter(list, state); } }), t(label));
  const file = make("input", { type: "file", accept: ".ttf,.otf,.ttc,.woff,.woff2", class: "hidden", id: "font-file",
    onchange: (event) => addFont(event.target, list, state) });
  const problem = make("p", { class: "problem", role: "alert", id: "font-problem" });
  dialog.replaceChildren(
    make("header", {},
      make("h2", { id: "font-head" }, t("fontHead"), " ",
        make("small", {}, index === null ? t("fontForAll") : t("fontFor", { number: index + 1 }))),
      make("button", { class: "plain", onclick: () => dialog.close() }, t("close"))),
    make("div", { class: "filters" },
      make("label", { class: "tick" }, t("fontKind"), kind), tick("spells", "fontSpells"), tick("sewable", "fontSewable")),
    list,
    make("footer", {},
      file, make("label", { class: "button", for: "font-file" }, t("ownFont")),
      make("p", { class: "note" }, t("ownFontNote")), problem));
  dialog.showModal();
  try {
    await load(list, state);
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    problem.textContent = error.message;
  }
}

/**
 * @param {HTMLElement} list
 * @param {State} state
 */
async function load(list, state) {
  round += 1;
  const mine = round;
  const { fonts } = await getJson("fonts");
  list.replaceChildren();
  for (const font of fonts) {
    if (mine !== round || !byId("font-dialog").open) return;
    const axes = font.font === state.used ? state.axes : {};
    try {
      const sample = await askJson("sample", { font: font.font, words: state.words, axes, cap_height: state.cap });
      list.append(card(font, sample, state));
      filter(list, state);
    } catch (error) {
      if (error instanceof Gone || !(error instanceof Refused)) throw error;
    }
  }
}

/**
 * @param {Sample} sample
 * @param {string} label
 */
function picture(sample, label) {
  const [x, y, width, height] = sample.box;
  return draw("svg", { viewBox: `${x - 4} ${y - 4} ${width + 8} ${height + 8}`, role: "img", "aria-label": label },
    draw("path", { d: sample.path }));
}

/**
 * @param {Font} font
 * @param {Sample} sample
 * @param {State} state
 */
function card(font, sample, state) {
  const used = font.font === state.used;
  /** @type {Axes} */
  const axes = { ...(font.font === state.used ? state.axes : {}) };
  const notes = [font.style, sample.connected && t("fontScript"), sample.sewable === false && t("fontFine"),
    sample.missing.length && t("fontLacks", { letters: sample.missing.join(" ") })].filter(Boolean);
  const shown = make("div", { class: "sample" }, sample.path ? picture(sample, state.words) : "");
  const weight = sample.axes.find((axis) => axis.tag === "wght");
  const slider = weight && !sample.missing.length ? make("label", { class: "weight" }, make("span", {}, t("weight")),
    make("input", { type: "range", min: weight.least, max: weight.most, step: "10", value: String(weight.set),
      oninput: async (event) => {
        axes.weight = Number(event.target.value);
        const asked = axes.weight;
        if (used) setAxes(font.font, axes, state);
        try {
          const next = await askJson("sample", { font: font.font, words: state.words, axes, cap_height: state.cap });
          if (asked === axes.weight) shown.replaceChildren(picture(next, state.words));
        } catch (error) {
          if (!(error instanceof Refused)) throw error;
          byId("font-problem").textContent = error.message;
        }
      } })) : null;
  return make("li", { class: "font", "data-kind": font.own ? "own" : font.kind,
    "data-spells": String(!sample.missing.length), "data-sewable": String(sample.sewable !== false) },
    shown,
    make("div", { class: "font-words" }, make("strong", {}, font.name), make("span", { class: "note" }, notes.join(" · "))),
    slider,
    make("button", { class: used ? "wide chosen" : "wide", "aria-label": t("useFontNamed", font),
      onclick: () => use(font.font, axes, state) }, used ? t("usedNow") : t("useFont")));
}

/**
 * @param {HTMLElement} list
 * @param {State} state
 */
function filter(list, state) {
  for (const item of list.querySelectorAll("li")) {
    const { kind, spells, sewable } = item.dataset;
    item.hidden = (state.kind !== "" && kind !== state.kind) || (state.spells && spells === "false")
      || (state.sewable && sewable === "false");
  }
}

/**
 * The font in use at another setting, in the quilt at once.
 *
 * @param {string} font
 * @param {Axes} axes
 * @param {State} state
 */
function setAxes(font, axes, state) {
  change((copy) => {
    const target = state.index === null ? (copy.lettering ??= {}) : copy.row[state.index];
    if (state.index !== null) target.font = font;
    target.axes = { ...axes };
  }, { mark: `axes-${state.index}` });
}

/**
 * @param {string} font
 * @param {Axes} axes
 * @param {State} state
 */
function use(font, axes, state) {
  byId("font-dialog").close(); // before the forms are drawn anew: the keyboard goes back to the button that opened it
  change((copy) => {
    const target = state.index === null ? (copy.lettering ??= {}) : copy.row[state.index];
    target.font = font;
    if (Object.keys(axes).length) target.axes = axes; else delete target.axes;
    if (state.index === null) for (const row of copy.row) { delete row.font; delete row.axes; }
  }, { whole: true });
}

/**
 * @param {HTMLInputElement} input
 * @param {HTMLElement} list
 * @param {State} state
 */
async function addFont(input, list, state) {
  const problem = byId("font-problem");
  problem.textContent = "";
  const file = input.files?.[0];
  if (!file) return;
  try {
    const { font } = await sendFile(`fonts?name=${encodeURIComponent(file.name)}`, file);
    say(t("fontAdded", { font }));
    added();
    state.kind = "";
    await load(list, state);
    list.lastElementChild?.scrollIntoView();
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    problem.textContent = error.problems.map((one) => `${file.name}: ${one.what}. ${t("tryThis", { fix: one.fix })}`).join(" ");
  }
  input.value = "";
}
