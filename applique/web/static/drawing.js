// The drawing itself: the quilt as the program sent it last, its guides, and the same quilt on the wall.
//
// Its frame is that of the program: inches from the upper left corner of the finished quilt, y down.

import { byId, draw } from "./elements.js";
import { urlOf } from "./photos.js";
import { t } from "./texts.js";

/** @import { Drawing, Painted, Picture, Piece } from "./types.js" */

/** @type {Drawing | null} */
let drawing = null;

/** @type {Picture | null} */
let quilting = null;

/** What the program sent last; null before there were words. */
export const drawn = () => drawing;

/**
 * A row of the drawing by its number.
 *
 * @param {number} number
 */
export const rowOf = (number) => drawing?.rows.find((row) => row.number === number);

/**
 * The first letter of a row; null where it has none.
 *
 * @param {number} number
 */
export const firstLetter = (number) => rowOf(number)?.cuts[0]?.letter ?? null;

/**
 * A letter of a row; one that is joined up stands for its word.
 *
 * @param {number} number
 * @param {number} letter
 */
export const cutOf = (number, letter) => rowOf(number)?.cuts.find((cut) => cut.letter === letter);

/**
 * The box around a row, or around one letter of it.
 *
 * @param {Piece} piece
 */
export const inkOf = ({ row, letter }) => (letter ? cutOf(row, letter) : rowOf(row))?.ink;

/**
 * Draw what the program sent; snaps come into a group of their own.
 *
 * @param {Drawing} latest
 */
export function drawQuilt(latest) {
  if (latest !== drawing) quilting = null;
  drawing = latest;
  const svg = byId("drawing");
  svg.replaceChildren(definitions(latest), art(latest), guides(latest), draw("g", { id: "snaps" }));
  svg.setAttribute("aria-label", t("drawingLabel", { words: latest.rows.map((row) => row.text).join(", "), size: latest.finished }));
  byId("scene").replaceChildren(onTheWall(latest));
}

/**
 * The photo of a fabric once the page has it, and its color until then.
 *
 * @param {string} fabric
 * @param {string} color
 */
function fillOf(fabric, color) {
  const index = drawing?.photos.findIndex((shown) => shown.fabric === fabric && urlOf(shown.photo)) ?? -1;
  return index < 0 ? color : `url(#cloth-${index})`;
}

/** @param {Drawing} drawing */
function definitions({ photos }) {
  return draw("defs", {}, ...photos.map(({ photo, width, height }, index) => draw("pattern",
    { id: `cloth-${index}`, patternUnits: "userSpaceOnUse", width, height },
    draw("image", { href: urlOf(photo), width, height, preserveAspectRatio: "none" }))));
}

/** @param {Drawing} drawing */
function art({ picture }) {
  const group = draw("g", { id: "art" }, ...painted(picture));
  quilt(group);
  return group;
}

/**
 * Draw the lines of quilting over the drawing that there is; they come later, with the numbers.
 *
 * @param {Picture} latest
 */
export function drawQuilting(latest) {
  quilting = latest;
  const group = byId("drawing").querySelector("#art");
  if (group) quilt(group);
}

/** @param {Element} art */
function quilt(art) {
  for (const line of art.querySelectorAll(".quilting")) line.remove();
  if (quilting) art.querySelector(".edge")?.before(...painted(quilting));
}

/**
 * The items of a picture as the program lists them, in their order.
 *
 * @param {Picture} picture
 */
function painted({ shapes, items }) {
  return items.map((item) => draw("g", { class: item.part, "data-row": item.row, "data-letter": item.letter, "data-border": item.border, "data-fabric": item.border && item.fabric,
    "data-x": item.x, "data-y": item.y, transform: `translate(${item.x} ${item.y})`,
    "pointer-events": ["stitch", "quilting", "edge"].includes(item.part) && "none" },
    item.part === "letter" ? grip(item) : null,
    draw("path", { d: shapes[item.shape], transform: item.turn && `rotate(${item.turn})`,
      fill: item.fill ? fillOf(item.fabric ?? "", item.fill) : "none", stroke: item.stroke, "stroke-width": item.width,
      "stroke-opacity": item.opacity, "stroke-linejoin": item.stroke && "round" })));
}

/**
 * What a letter is held by.
 *
 * @param {Painted} letter
 */
function grip({ row, letter, x, y }) {
  const ink = row && letter ? cutOf(row, letter)?.ink : undefined;
  return ink ? draw("rect", { class: "grip", x: ink[0] - x, y: ink[1] - y, width: ink[2] - ink[0], height: ink[3] - ink[1] }) : null;
}

/** @param {Drawing} drawing */
function guides(drawing) {
  const { panel } = drawing;
  const middle = panel.x + panel.width / 2;
  return draw("g", { id: "guide-lines" },
    draw("rect", { x: panel.x + panel.margin, y: panel.y + panel.margin, width: Math.max(0, panel.width - 2 * panel.margin),
      height: Math.max(0, panel.height - 2 * panel.margin), class: "margin" }),
    draw("line", { x1: middle, x2: middle, y1: panel.y, y2: panel.y + panel.height, class: "center" }),
    ...drawing.rows.map((row) => draw("polyline", { points: row.line.join(" "), class: "baseline" })));
}

/** @param {Drawing} drawing */
function onTheWall({ scene: wall }) {
  return draw("svg", { viewBox: `-4 -4 ${wall.width + 8} ${wall.height + 8}`, role: "img",
    "aria-label": t("sceneLabel", { things: wall.things.join(", ") }) },
    ...painted(wall.picture),
    draw("g", { transform: `translate(${wall.quilt[0]} ${wall.quilt[1]})` }, draw("use", { href: "#art" })));
}

/**
 * Show a row, or one letter of it, so far from where the drawing has it.
 *
 * @param {Piece} piece
 * @param {number} right
 * @param {number} up
 */
export function showMoved({ row, letter }, right, up) {
  const moving = letter ? `[data-row="${row}"][data-letter="${letter}"]` : `[data-row="${row}"]`;
  for (const group of all(`#art > ${moving}`)) shift(group, right, up);
}

/** Show every piece where the drawing has it. */
export function showUnmoved() {
  for (const group of all("#art > [data-row]")) shift(group, 0, 0);
}

/**
 * @param {string} selector
 * @returns {NodeListOf<SVGElement>}
 */
const all = (selector) => byId("drawing").querySelectorAll(selector);

/**
 * @param {SVGElement} group
 * @param {number} right
 * @param {number} up
 */
function shift(group, right, up) {
  group.setAttribute("transform", `translate(${Number(group.dataset.x) + right} ${Number(group.dataset.y) - up})`);
}

/**
 * Show the lines that a piece has snapped to: one up and down at `x`, one across at `y`, or neither.
 *
 * @param {{ x?: number, y?: number }} [lines]
 */
export function showSnaps({ x, y } = {}) {
  if (!drawing) return;
  const { panel } = drawing;
  byId("drawing").querySelector("#snaps")?.replaceChildren(
    ...(x === undefined ? [] : [draw("line", { x1: x, x2: x, y1: panel.y, y2: panel.y + panel.height })]),
    ...(y === undefined ? [] : [draw("line", { x1: panel.x, x2: panel.x + panel.width, y1: y, y2: y })]));
}
