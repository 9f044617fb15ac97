// The bar beside what was chosen on the quilt: what can be done with that row, letter, border or the panel, right there.

import { borderPictures } from "./borders.js";
import { chosen, keyOf, pieceName } from "./choosing.js";
import { byKey, change, design, indexOfRow, setSize, setValue, withUnit } from "./design.js";
import { drawn, firstLetter, inkOf } from "./drawing.js";
import { byId, focusOn, hinted, keepingFocus, make } from "./elements.js";
import { chooseFont } from "./fonts.js";
import { isMetric } from "./measures.js";
import { nudge, pick } from "./moves.js";
import { t } from "./texts.js";
import { fabricNames } from "./naming.js";
import { inWindow, putBeside } from "./near.js";
import { placeSpots } from "./spots.js";
import { writeRow } from "./writing.js";

/** @import { Border, Box, Nudge, Row, Spot } from "./types.js" */

/** Degrees that a step turns. */
const TURN = 1;

/** @type {Spot | null} */
let spot = null;
let putBack = () => {};

/** What the bar is about; null while it is closed. */
export const besideOf = () => spot;

/** @param {() => void} onPutBack puts the chosen piece back where the words put it */
export function startBeside(onPutBack) {
  putBack = onPutBack;
  window.addEventListener("scroll", placeBeside, { passive: true });
  new ResizeObserver(() => { placeBeside(); placeSpots(); }).observe(byId("beside")); // pictures of borders come later
  byId("beside").addEventListener("keydown", (event) => {
    if (event.key !== "Escape") return;
    event.preventDefault();
    closeBeside();
    byId("drawing").focus({ preventScroll: true });
  });
}

/**
 * Open the bar at what was chosen.
 *
 * @param {Spot} next
 */
export function openBeside(next) {
  spot = next;
  byId("stage").dataset.chosen = spot.part;
  renderBeside();
}

/** Close it: nothing is chosen any more. */
export function closeBeside() {
  spot = null;
  delete byId("stage").dataset.chosen;
  byId("beside").hidden = true;
  placeSpots();
}

/** Give the keyboard to the first thing in the bar. */
export const focusBeside = () => focusOn(byId("beside"), "select, input, button");

/** Draw the bar anew where it is open; what is being typed in it stays. */
export function renderBeside() {
  if (!spot) return;
  const content = contentOf(spot);
  if (!content || !drawn()) { closeBeside(); return; }
  const bar = byId("beside");
  bar.hidden = false;
  bar.setAttribute("aria-label", t("besideLabel", { name: content.name }));
  keepingFocus(() => bar.replaceChildren(
    make("p", { class: "beside-name" }, content.name),
    make("button", { class: "round", "aria-label": t("close"), "data-focus": "beside-close", onclick: () => {
      closeBeside();
      byId("drawing").focus({ preventScroll: true });
    } }, "×"),
    ...content.fields.flatMap((field) => field ?? [])));
  placeBeside();
  placeSpots();
}

/**
 * @param {Spot} what
 * @returns {{ name: string, fields: (HTMLElement | null)[] } | null}
 */
function contentOf(what) {
  if (what.part === "panel") return panelContent();
  if (what.part === "border") return borderContent(what.number - 1);
  const index = indexOfRow(keyOf(chosen().row));
  if (index < 0) return null;
  return { name: pieceName(), fields: chosen().letter ? letterFields(index, chosen().letter ?? 0) : rowFields(index) };
}

// Rows and letters

/**
 * @param {number} index
 */
function rowFields(index) {
  const row = design().row[index];
  return [
    ...lookFields(index, row),
    measure({ name: "beside-height", label: t("besideHeight"), value: row.cap_height === "fit" ? "" : row.cap_height ?? "",
      hint: design().lettering?.cap_height ?? t("fits"), set: (value) => setIn(index, "cap_height", withUnit(value), "height") }),
    ...moveFields(row, (key, value) => setIn(index, key, value, key)),
    deeds(make("button", { class: "plain", "data-focus": "beside-write", onclick: () => writeRow(chosen().row) }, t("besideWrite")),
      make("button", { class: "plain", "data-focus": "beside-other", disabled: !firstLetter(chosen().row),
      onclick: () => choosePiece(firstLetter(chosen().row)) }, t("besideLetter"))),
  ];
}

/**
 * @param {number} index
 * @param {number} letter
 */
function letterFields(index, letter) {
  const row = design().row[index];
  const own = row.nudge?.find((one) => one.letter === letter) ?? { letter };
  return [
    ...moveFields(own, (key, value) => change((copy) => setNudge(copy.row[index], letter, key, value), { mark: `beside-${key}` })),
    deeds(make("button", { class: "plain", "data-focus": "beside-other", onclick: () => choosePiece(null) }, t("besideRow"))),
  ];
}

/** @param {HTMLElement[]} others */
const deeds = (...others) => make("div", { class: "beside-deeds" }, ...others,
  make("button", { id: "back", class: "plain", "data-focus": "beside-back", onclick: () => putBack() }, t("putBack")));

/** @param {number | null} letter */
function choosePiece(letter) {
  pick({ row: chosen().row, letter });
  renderBeside();
}

/**
 * @param {number} index
 * @param {Row} row
 */
function lookFields(index, row) {
  return [
    fabricField("beside-fabric", t("fabric"), row.fabric, t("asAll"), (name) => setIn(index, "fabric", name, null)),
    make("div", { class: "beside-field" }, make("span", {}, t("font")),
      make("button", { class: "chooser", "data-focus": "beside-font", onclick: () => chooseFont(index) },
        row.font ?? design().lettering?.font ?? "Montserrat")),
  ];
}

/**
 * @param {number} index
 * @param {"fabric" | "cap_height" | "right" | "up" | "turn"} key
 * @param {string | number} value
 * @param {string | null} mark
 */
function setIn(index, key, value, mark) {
  change((copy) => {
    const row = byKey(copy.row[index]);
    if (value === "" || value === 0) delete row[key]; else setSize(row, key, value);
  }, mark === null ? { whole: true } : { mark: `beside-${mark}` });
}

/**
 * Set a number of a letter's move; a letter that is moved no more is left out.
 *
 * @param {Row} row
 * @param {number} letter
 * @param {"right" | "up" | "turn"} key
 * @param {string | number} value
 */
function setNudge(row, letter, key, value) {
  const others = (row.nudge ?? []).filter((one) => one.letter !== letter);
  const own = byKey({ ...(row.nudge?.find((one) => one.letter === letter) ?? { letter }) });
  if (value === "" || value === 0) delete own[key]; else own[key] = value;
  if (Object.keys(own).length > 1) others.push(/** @type {Nudge} */ (own));
  if (others.length) row.nudge = others.sort((one, other) => one.letter - other.letter); else delete row.nudge;
}

/**
 * The numbers of a move: typed, or by steps, which the arrow keys make too.
 *
 * @param {Pick<Row, "right" | "up" | "turn">} from
 * @param {(key: "right" | "up" | "turn", value: string | number) => void} set
 */
function moveFields(from, set) {
  const none = isMetric() ? "0cm" : "0in";
  const turned = from.turn ?? 0;
  return [
    measure({ name: "beside-right", label: t("besideRight"), value: from.right ?? "", hint: none, set: (value) => set("right", withUnit(value)),
      step: (way, event) => nudge(way, 0, event) }),
    measure({ name: "beside-up", label: t("besideUp"), value: from.up ?? "", hint: none, set: (value) => set("up", withUnit(value)),
      step: (way, event) => nudge(0, way, event) }),
    measure({ name: "beside-turn", label: t("besideTurn"), value: turned ? String(turned) : "", hint: "0°",
      set: (value) => set("turn", degrees(value)), step: (way) => set("turn", Math.round((turned + way * TURN) * 100) / 100) }),
  ];
}

/**
 * A turn as it was typed; what is no number stays, for the program to refuse.
 *
 * @param {string} text
 */
function degrees(text) {
  const plain = text.replace(/[°\s]/g, "").replace("−", "-");
  return plain === "" || Number.isNaN(Number(plain)) ? text.trim() : Number(plain);
}

// The panel and the borders

function panelContent() {
  const { panel = {} } = design();
  const size = (/** @type {"width" | "height"} */ key) => measure({ name: `beside-${key}`, label: t(`keys/panel.${key}`), value: panel[key] ?? "",
    hint: "", set: (value) => setValue(["panel"], key, withUnit(value), { mark: `panel.${key}` }) });
  return { name: t("tables/panel"), fields: [
    fabricField("beside-fabric", t("fabric"), panel.fabric, t("leftOut"), (name) => setValue(["panel"], "fabric", name, { whole: true })),
    size("width"), size("height"), anotherBorder(),
  ] };
}

/** @param {number} index */
function borderContent(index) {
  const border = design().border?.[index];
  if (!border) return null;
  /** @type {(work: (one: Border) => void, mark?: string) => void} */
  const edit = (work, mark) => change((copy) => { if (copy.border) work(copy.border[index]); }, mark ? { mark } : { whole: true });
  /** @type {("width" | "size")[]} */
  const keys = border.kind === "strip" ? ["width"] : border.kind === "squares" ? ["size"] : ["width", "size"];
  return { name: t("borderNumber", { number: index + 1 }), fields: [
    ...border.fabrics.map((name, place) => fabricField(`beside-fabric-${place}`,
      border.fabrics.length > 1 ? t("borderFabric", { number: place + 1 }) : t("fabric"), name, null,
      (chosenName) => edit((one) => { one.fabrics[place] = chosenName; }))),
    ...keys.map((key) => measure({ name: `beside-${key}`, label: t(`keys/border.${key}`), value: border[key] ?? "", hint: "",
      set: (value) => edit((one) => { if (value) one[key] = withUnit(value); else delete one[key]; }, `border-${index}-${key}`) })),
    anotherBorder(),
    make("div", { class: "beside-deeds" }, make("button", { class: "plain", "data-focus": "beside-remove", onclick: () => {
      change((copy) => {
        copy.border?.splice(index, 1);
        if (!copy.border?.length) delete copy.border;
      }, { whole: true });
      closeBeside();
    } }, t("removeBorder", { number: index + 1 }))),
  ] };
}

let areBordersOpen = false;

/** The borders to choose from, which unfold in the bar. */
function anotherBorder() {
  const details = make("details", { class: "beside-borders", open: areBordersOpen }, make("summary", { "data-focus": "beside-borders" }, t("addBorder")));
  if (areBordersOpen) details.append(borderPictures("beside-border"));
  details.addEventListener("toggle", () => {
    if (details.open === areBordersOpen) return;
    areBordersOpen = details.open;
    if (areBordersOpen) details.append(borderPictures("beside-border")); else details.lastElementChild?.remove();
  });
  return details;
}

// Fields

/**
 * @param {string} name
 * @param {string} label
 * @param {string | undefined} value
 * @param {string | null} empty what the choice of none is called, where there is one
 * @param {(name: string) => void} set
 */
const fabricField = (name, label, value, empty, set) => make("label", { class: "beside-field" }, make("span", {}, label),
  make("select", { "data-focus": name, onchange: (event) => set(event.target.value) },
    empty === null ? null : make("option", { value: "" }, empty),
    ...fabricNames().map((one) => make("option", { value: one, selected: one === value }, one))));

/**
 * A number with its unit, and steps where it has some.
 *
 * @param {object} field
 * @param {string} field.name
 * @param {string} field.label
 * @param {string} field.value
 * @param {string} field.hint
 * @param {(text: string) => void} field.set
 * @param {(way: 1 | -1, event: { altKey: boolean, shiftKey: boolean }) => void} [field.step]
 */
function measure({ name, label, value, hint, set, step }) {
  const input = make("input", { type: "text", inputmode: step ? "text" : "decimal", value, ...hinted(hint), "data-focus": name, "aria-label": label,
    onchange: (event) => set(event.target.value),
    onkeydown: (event) => {
      if (!step || (event.key !== "ArrowUp" && event.key !== "ArrowDown")) return;
      event.preventDefault();
      step(event.key === "ArrowUp" ? 1 : -1, event);
    } });
  const button = (/** @type {1 | -1} */ way) => make("button", { class: "round", "data-focus": `${name}${way}`,
    "aria-label": t(way > 0 ? "besideMore" : "besideLess", { label }), onclick: (event) => step?.(way, event) }, way > 0 ? "+" : "−");
  return make("div", { class: "beside-field" }, make("span", { "aria-hidden": "true" }, label),
    step ? make("div", { class: "stepper" }, button(-1), input, button(1)) : input);
}

// Its place

/**
 * What the bar is about, in inches of the drawing.
 *
 * @returns {Box | null}
 */
function boxOf() {
  const drawing = drawn();
  if (!drawing || !spot) return null;
  if (spot.part === "piece") return inkOf(chosen()) ?? null;
  if (spot.part === "border") return [0, 0, drawing.width, drawing.height];
  const { x, y, width, height } = drawing.panel;
  return [x, y, x + width, y + height];
}

/** Put the bar beside what it is about. */
export function placeBeside() {
  const box = byId("beside").hidden ? null : boxOf();
  const shown = box && inWindow(box);
  if (shown) putBeside(byId("beside"), [shown]);
}
