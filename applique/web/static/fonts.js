// Fonts, shown in the maker's own words, for one row or for all of them: in a sheet beside the quilt, and on the quilt itself while one
// goes through them.

import { askJson, getJson, Gone, Refused, sendFile } from "./asking.js";
import { design } from "./design.js";
import { byId, draw, make, say } from "./elements.js";
import { t } from "./texts.js";
import { putBack, takeTried, tryOut } from "./trying.js";

/** @import { Axes, Design, Font, Sample } from "./types.js" */

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

/** A font of the list, at the settings that its slider has. @typedef {{ font: string, axes: Axes }} Look */

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
  const list = make("ul", { class: "fonts", onpointerleave: (/** @type {PointerEvent} */ event) => { if (event.pointerType === "mouse") showChecked(list); } });
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
    problem,
    make("div", { class: "font-list" },
      make("p", { class: "note", id: "font-how" }, t("fontHow")),
      make("div", { class: "filters" },
        make("label", { class: "tick" }, t("fontKind"), kind), tick("spells", "fontSpells"), tick("sewable", "fontSewable")),
      list,
      make("footer", {},
        file, make("label", { class: "button", for: "font-file" }, t("ownFont")),
        make("p", { class: "note" }, t("ownFontNote")))));
  besideQuilt(dialog);
  dialog.showModal();
  try {
    await load(list, state);
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    problem.textContent = error.message;
  }
}

/**
 * Lay the sheet over the forms, as high as they are, and put everything back when it is closed without a font taken.
 *
 * @param {HTMLDialogElement} dialog
 */
function besideQuilt(dialog) {
  const lay = () => {
    const { top, bottom, width } = byId("side").getBoundingClientRect();
    for (const [name, value] of [["--top", top], ["--low", innerHeight - bottom], ["--wide", width]]) dialog.style.setProperty(String(name), `${value}px`);
  };
  lay();
  window.addEventListener("resize", lay);
  dialog.addEventListener("close", () => {
    window.removeEventListener("resize", lay);
    putBack();
  }, { once: true });
}

/**
 * @param {HTMLElement} list
 * @param {State} state
 */
async function load(list, state) {
  round += 1;
  const mine = round;
  const isOver = () => mine !== round || !byId("font-dialog").open;
  const { fonts } = await getJson("fonts");
  if (isOver()) return;
  list.replaceChildren();
  for (const font of fonts) {
    const axes = font.font === state.used ? state.axes : {};
    try {
      const sample = await askJson("sample", { font: font.font, words: state.words, axes, cap_height: state.cap });
      if (isOver()) return; // another list has begun in its place
      list.append(card(font, sample, state));
      filter(list, state);
      if (font.font === state.used && document.activeElement?.closest("header")) checked(list)?.focus();
    } catch (error) {
      if (error instanceof Gone || !(error instanceof Refused)) throw error;
    }
  }
}

/**
 * The font that is chosen in the list.
 *
 * @param {HTMLElement} list
 * @returns {HTMLInputElement | null}
 */
const checked = (list) => list.querySelector("input[type=radio]:checked");

/**
 * Show on the quilt the font that is chosen in the list, when the mouse has left the others.
 *
 * @param {HTMLElement} list
 */
const showChecked = (list) => checked(list)?.dispatchEvent(new Event("change"));

/** @param {Sample} sample */
function picture({ box, path }) {
  const [x, y, width, height] = box;
  return draw("svg", { viewBox: `${x - 4} ${y - 4} ${width + 8} ${height + 8}`, "aria-hidden": "true", preserveAspectRatio: "xMinYMid" },
    draw("path", { d: path }));
}

/**
 * @param {Font} font
 * @param {Sample} sample
 * @param {State} state
 */
function card(font, sample, state) {
  const used = font.font === state.used;
  /** @type {Look} */
  const look = { font: font.font, axes: { ...(used ? state.axes : {}) } };
  const notes = [font.style, sample.connected && t("fontScript"), sample.sewable === false && t("fontFine"),
    sample.missing.length && t("fontLacks", { letters: sample.missing.join(" ") })].filter(Boolean);
  const shown = make("div", { class: "sample" }, sample.path ? picture(sample) : "");
  /** @type {HTMLInputElement} */
  const radio = make("input", { type: "radio", name: "font", checked: used, "aria-describedby": "font-how",
    onchange: () => show(item, look, state), onkeydown: (event) => takeByEnter(event, look, state) });
  const button = make("button", { class: used ? "wide chosen" : "wide", "aria-label": t("useFontNamed", font), onclick: () => use(look, state) },
    used ? t("usedNow") : t("useFont"));
  /** @type {HTMLLIElement} */
  const item = make("li", { class: "font", "data-kind": font.own ? "own" : font.kind,
    "data-spells": String(!sample.missing.length), "data-sewable": String(sample.sewable !== false),
    onpointerenter: (/** @type {PointerEvent} */ event) => { if (event.pointerType === "mouse") show(item, look, state); } },
    make("label", { class: "font-look", onclick: (event) => {
      if (!(event instanceof PointerEvent) || event.pointerType !== "mouse") return; // a finger only looks, as the arrow keys do
      event.preventDefault();
      use(look, state);
    } }, radio, shown,
      make("span", { class: "font-words" }, make("strong", {}, font.name), make("span", { class: "note" }, notes.join(" · ")))),
    sample.missing.length ? null : weightOf(sample, look, state, (next) => {
      shown.replaceChildren(picture(next));
    }, () => {
      radio.checked = true;
      if (used) button.textContent = t("useFont");
      show(item, look, state);
    }),
    button);
  return item;
}

/**
 * The slider of a font that has weights: `draws(sample)` gets the words at each, `moved()` is told of every one.
 *
 * @param {Sample} sample
 * @param {Look} look
 * @param {State} state
 * @param {(sample: Sample) => void} draws
 * @param {() => void} moved
 */
function weightOf(sample, look, state, draws, moved) {
  const weight = sample.axes.find((axis) => axis.tag === "wght");
  return weight ? make("label", { class: "weight" }, make("span", {}, t("weight")),
    make("input", { type: "range", min: weight.least, max: weight.most, step: "10", value: String(weight.set),
      onkeydown: (event) => takeByEnter(event, look, state),
      oninput: async (event) => {
        const asked = Number(event.target.value);
        look.axes = { ...look.axes, weight: asked };
        moved();
        try {
          const next = await askJson("sample", { font: look.font, words: state.words, axes: look.axes, cap_height: state.cap });
          if (asked === look.axes.weight) draws(next);
        } catch (error) {
          if (!(error instanceof Refused)) throw error;
          byId("font-problem").textContent = error.message;
        }
      } })) : null;
}

/**
 * Show a font on the quilt itself, and in the list that it is there.
 *
 * @param {HTMLElement} item
 * @param {Look} look
 * @param {State} state
 */
function show(item, look, state) {
  for (const other of byId("font-dialog").querySelectorAll(".font.shown")) other.classList.remove("shown");
  item.classList.add("shown");
  if (isUsed(look, state)) putBack();
  else tryOut(setting(look, state), (words) => { byId("font-problem").textContent = words; });
}

/**
 * @param {KeyboardEvent} event
 * @param {Look} look
 * @param {State} state
 */
function takeByEnter(event, look, state) {
  if (event.key !== "Enter") return;
  event.preventDefault();
  use(look, state);
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
 * What sets a font in a design: for its row, or for all of them.
 *
 * @param {Look} look
 * @param {State} state
 * @returns {(copy: Design) => void}
 */
const setting = ({ font, axes }, { index, used }) => (copy) => {
  const target = index === null ? (copy.lettering ??= {}) : copy.row[index];
  if (index !== null || font !== used) target.font = font;
  if (Object.keys(axes).length) target.axes = { ...axes }; else delete target.axes;
  if (index === null) for (const row of copy.row) { delete row.font; delete row.axes; }
};

/**
 * Whether that is how the quilt is already.
 *
 * @param {Look} look
 * @param {State} state
 */
const isUsed = ({ font, axes }, state) => font === state.used && JSON.stringify(axes) === JSON.stringify(state.axes)
  && (state.index !== null || design().row.every((row) => !row.font && !row.axes));

/**
 * Take a font for good, as one step.
 *
 * @param {Look} look
 * @param {State} state
 */
function use(look, state) {
  byId("font-dialog").close(); // before the forms are drawn anew: the keyboard goes back to the button that opened it
  if (!isUsed(look, state)) takeTried(setting(look, state), { whole: true });
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
