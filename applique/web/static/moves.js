// Rows and letters moved by hand. While a piece is being moved only its picture moves; where it ends is asked of the
// program, which adds the move to the design.

import { choose, chosen, keyOf, pieceName, showChoice } from "./choosing.js";
import { drawn, inkOf, putDown, rowOf, showMoved } from "./drawing.js";
import { byId, say } from "./elements.js";
import { distance, isMetric, length, lengthSaid, steps } from "./measures.js";
import { drawRulers } from "./rulers.js";
import { showSnaps } from "./snaps.js";
import { t } from "./texts.js";
import { inView, stageSize } from "./view.js";

const QUIET_MS = 350;
/** What is said of a move, its number and the lines that it snapped to, stands so long at least. */
const READ_MS = 80;

/** @import { Lines } from "./snaps.js" */
/** @import { Piece } from "./types.js" */

/** @typedef {(key: number, letter: number | null, right: string, up: string) => void} OnMove */

/**
 * The move under way, of the row that keeps `key` wherever it comes to stand.
 *
 * @type {Piece & { key: number, right: number, up: number, timer?: number } | null}
 */
let pending = null;
/** @type {OnMove} */
let commit = () => {};

/**
 * `onMove(key, letter, right, up)` hands a finished move to the program.
 *
 * @param {OnMove} onMove
 */
export function startMoves(onMove) {
  commit = onMove;
}

/**
 * Choose a piece; a move of another one is finished first.
 *
 * @param {Piece} piece
 */
export function pick(piece) {
  if (pending && (pending.row !== piece.row || pending.letter !== piece.letter)) settle();
  choose(piece);
  showPiece();
}

/** Whether a move is under way. */
export const isMoving = () => pending !== null;

/** There is a new drawing: the move goes on with its row, and ends where that is gone. */
export function followRow() {
  if (!pending) return;
  if (keyOf(chosen().row) === pending.key) pending.row = chosen().row;
  else restore();
}

/** Draw the frame around the chosen piece where it is now. */
export function showPiece() {
  showChoice(pending?.right ?? 0, pending?.up ?? 0);
}

/** @typedef {{ number: string, lines: Lines }} Told what is said of the move under way */

/** @type {Told} */
let told = { number: "", lines: {} };
/** As it stands there. */
let shown = JSON.stringify(told);
/** The wait until that may change again. */
let telling = 0;

/**
 * Say it: a number or line that changed with every frame could not be read, and a browser would paint the whole height and
 * width of the panel with each.
 */
function tellMove() {
  clearTimeout(telling);
  telling = 0;
  const now = JSON.stringify(told);
  if (shown === now) return;
  shown = now;
  byId("distance").textContent = told.number;
  showSnaps(told.lines);
  telling = window.setTimeout(tellMove, READ_MS);
}

/** A move has ended: its number and lines go, and guides and rulers with them. */
function unsay() {
  told = { ...told, lines: {} };
  tellMove();
  byId("distance").hidden = true;
  byId("stage").classList.remove("moving");
}

/** Whether the piece is in the upper half of the stage: the number keeps to the other, away from hand and piece. */
function isAbove() {
  const [ink, view] = [inkOf(chosen()), inView()];
  return Boolean(ink && view && ((ink[1] + ink[3]) / 2 - view.y) * view.scale < stageSize().height / 2);
}

/**
 * Show the move that is under way, if there is one, with its length, a `note` and the lines that it snapped to.
 *
 * @param {string} [note]
 * @param {Lines} [lines]
 */
export function showMove(note = "", lines = {}) {
  const output = byId("distance");
  output.hidden = !pending;
  const { classList } = byId("stage");
  const begins = pending && !classList.contains("moving");
  classList.toggle("moving", Boolean(pending));
  if (begins) {
    drawRulers();
    output.classList.toggle("low", isAbove());
  }
  showPiece();
  if (!pending) return;
  showMoved(pending, pending.right, pending.up);
  told = { number: [distance(pending.right, pending.up), note].filter(Boolean).join(" · "), lines };
  if (!telling) tellMove();
}

/**
 * Hold the chosen piece so far from where the drawing has it.
 *
 * @param {number} right
 * @param {number} up
 * @param {string} [note]
 * @param {Lines} [lines]
 */
export function hold(right, up, note, lines) {
  pending = { ...chosen(), key: keyOf(chosen().row), right, up };
  showMove(note, lines);
}

/**
 * Move the chosen piece on by steps; `event` has the keys that make them larger or finer.
 *
 * @param {number} right
 * @param {number} up
 * @param {{ altKey: boolean, shiftKey: boolean }} event
 */
export function nudge(right, up, event) {
  if (!drawn()) return;
  const [step, big, fine] = steps();
  const size = event.altKey ? fine : event.shiftKey ? big : step;
  pending ??= { ...chosen(), key: keyOf(chosen().row), right: 0, up: 0 };
  pending.right += right * size;
  pending.up += up * size;
  showMove();
  clearTimeout(pending.timer);
  pending.timer = window.setTimeout(settle, QUIET_MS);
}

/** Hand the finished move to the program. */
export function settle() {
  if (!pending) return;
  const move = pending;
  pending = null;
  clearTimeout(move.timer);
  unsay();
  if (Math.abs(move.right) < 1e-4 && Math.abs(move.up) < 1e-4) { restore(); return; }
  say(saidOf(move));
  commit(move.key, move.letter, length(move.right), length(move.up));
}

/**
 * What a move did: how far it went, and where a letter went to a side, how far it is from the one that it went towards.
 *
 * @param {Piece & { right: number, up: number }} move
 */
function saidOf({ row, letter, right, up }) {
  const words = { piece: pieceName(), distance: distance(right, up) };
  const cuts = rowOf(row)?.cuts ?? [];
  const place = cuts.findIndex((cut) => cut.letter === letter);
  const other = place < 0 ? undefined : cuts[place + Math.sign(right)];
  if (!other || Math.abs(right) < 1e-4) return t("moved", words);
  const [ink, beside] = [cuts[place].ink, other.ink];
  const gap = right > 0 ? beside[0] - ink[2] - right : ink[0] + right - beside[2];
  return gap < 0 ? t("moved", words) : t("movedFrom", { ...words, gap: lengthSaid(gap, isMetric()), neighbor: other.text });
}

/** Put the picture back where the last drawing had it. */
export function restore() {
  pending = null;
  unsay();
  if (!drawn()) return;
  putDown();
  showPiece();
}
