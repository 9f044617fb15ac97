// The piece that moves apply to: a row, or one letter of it; its name, its place in the list, the frame around it.

import { cutOf, drawn, firstLetter, inkOf, rowOf } from "./drawing.js";
import { arrange, byId, checkRadio, make } from "./elements.js";
import { t } from "./texts.js";
import { inView } from "./view.js";

/** @import { Piece, Spot } from "./types.js" */

/** Pixels between the piece and its frame. */
const ROOM_PX = 5;

/** @type {Piece} */
let piece = { row: 1, letter: null };
/** The rows of the drawing, by the keys that they keep on the page. @type {number[]} */
let keys = [];
/** The entries of the list, by their values and words. @type {Map<string, HTMLOptionElement>} */
let entries = new Map();

/** The row and letter that moves apply to; no letter means the whole row. */
export const chosen = () => piece;

/**
 * The key of a row of the drawing.
 *
 * @param {number} row
 */
export const keyOf = (row) => keys[row - 1];

/** @param {Piece} piece */
const valueOf = ({ row, letter }) => (letter ? `${row} ${letter}` : String(row));

/**
 * @param {string} value
 * @returns {Piece}
 */
function readValue(value) {
  const [row, letter] = value.split(" ");
  return { row: Number(row), letter: letter ? Number(letter) : null };
}

/**
 * Choose a row, or one letter of it.
 *
 * @param {Piece} next
 */
export function choose(next) {
  piece = next;
  byId("piece").value = valueOf(piece);
  checkRadio("grip", piece.letter ? "letter" : "row");
}

/**
 * List the pieces of a new drawing, whose rows have the keys `latest`; what was chosen stays so wherever it is now, or
 * the nearest that is left.
 *
 * @param {number[]} latest
 */
export function listPieces(latest) {
  const now = latest.indexOf(keyOf(piece.row)) + 1;
  if (now) piece = { ...piece, row: now };
  keys = latest;
  if (!rowOf(piece.row)) piece = { row: 1, letter: piece.letter && firstLetter(1) };
  if (piece.letter && !cutOf(piece.row, piece.letter)) piece = { ...piece, letter: firstLetter(piece.row) };
  const list = byId("piece");
  const borders = [...new Set(drawn()?.picture.items.flatMap((item) => item.border ?? []))];
  const before = entries;
  entries = new Map();
  const entry = (/** @type {string} */ value, /** @type {string} */ words, /** @type {() => string} */ said) => {
    const own = `${value} ${words}`;
    const option = before.get(own) ?? make("option", { value }, said());
    entries.set(own, option);
    return option;
  };
  arrange(list, [...(drawn()?.rows ?? []).flatMap((row) => [
    entry(String(row.number), row.text, () => t("pieceRow", row)),
    ...row.cuts.map((cut) => entry(`${row.number} ${cut.letter}`, cut.text, () => `\u2003${t("pieceLetter", { ...cut, number: row.number })}`)),
  ]), entry("panel", "", () => t("tables/panel")),
  ...borders.map((number) => entry(`border ${number}`, "", () => t("borderNumber", { number })))]);
  list.value = valueOf(piece);
}

/**
 * What the list names.
 *
 * @returns {{ piece: Piece | null, spot: Spot }}
 */
export function listed() {
  const { value } = byId("piece");
  if (value === "panel") return { piece: null, spot: { part: "panel" } };
  const [border, number] = value.split(" ");
  if (border === "border") return { piece: null, spot: { part: "border", number: Number(number) } };
  return { piece: readValue(value), spot: { part: "piece" } };
}

/**
 * The piece so many places further in the list, which begins anew after its end.
 *
 * @param {1 | -1} places
 */
export function further(places) {
  const values = [...byId("piece").options].map((option) => option.value).filter((value) => /^\d/.test(value));
  return readValue(values[(values.indexOf(valueOf(piece)) + places + values.length) % values.length]);
}

/** What the list calls the piece. */
export const pieceName = () => [...byId("piece").options].find((option) => option.value === valueOf(piece))?.text.trim() ?? "";

/**
 * Lay the frame around the piece, so far from where the drawing has it. It is moved and not drawn anew: within the drawing
 * of the guides a browser would paint those again with every frame of a drag.
 *
 * @param {number} right
 * @param {number} up
 */
export function showChoice(right, up) {
  const [ink, view, frame] = [inkOf(piece), inView(), byId("choice")];
  frame.style.visibility = ink && view ? "" : "hidden";
  if (!ink || !view) return;
  const [x0, y0, x1, y1] = ink.map((inches) => inches * view.scale);
  frame.style.width = `${x1 - x0 + 2 * ROOM_PX}px`;
  frame.style.height = `${y1 - y0 + 2 * ROOM_PX}px`;
  frame.style.transform = `translate(${x0 + (right - view.x) * view.scale - ROOM_PX}px, ${y0 - (up + view.y) * view.scale - ROOM_PX}px)`;
}
