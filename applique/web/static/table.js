// The table that the quilt lies on: the drawing, its marks and rulers, and the tools around it, put together.

import { placeCard } from "./card.js";
import { besideOf, focusBeside, openBeside, placeBeside, renderBeside } from "./beside.js";
import { chosen, listed, listPieces } from "./choosing.js";
import { drawQuilt, firstLetter } from "./drawing.js";
import { byId, radios } from "./elements.js";
import { followRow, pick, showMove, showPiece, startMoves } from "./moves.js";
import { startPointing } from "./pointing.js";
import { drawRulers } from "./rulers.js";
import { placeSpots, tipOf } from "./spots.js";
import { placeWriting } from "./writing.js";
import { bringIntoSight, fit, startView, viewQuilt, zoom } from "./view.js";

/** @import { OnMove } from "./moves.js" */
/** @import { Drawing } from "./types.js" */

/**
 * Take hold of the table once; `onMove(key, letter, right, up)` hands a finished move to the program.
 *
 * @param {OnMove} onMove
 */
export function startTable(onMove) {
  startMoves(onMove);
  startView(() => { showPiece(); drawRulers(); placeBeside(); placeSpots(); placeCard(); placeWriting(); });
  startPointing();
  byId("zoom-in").addEventListener("click", () => zoom(1.3));
  byId("zoom-out").addEventListener("click", () => zoom(1 / 1.3));
  byId("zoom-fit").addEventListener("click", fit);
  byId("guides").addEventListener("change", () => {
    byId("stage").classList.toggle("guided", byId("guides").checked);
    drawRulers();
  });
  byId("piece").addEventListener("change", () => openListed());
  byId("piece").addEventListener("keydown", (event) => {
    if (event.key !== "Enter") return;
    event.preventDefault();
    openListed();
    focusBeside();
  });
  for (const radio of radios("grip")) {
    radio.addEventListener("change", () => {
      const { row } = chosen();
      pick({ row, letter: radio.value === "letter" ? firstLetter(row) : null });
      if (besideOf()) openBeside({ part: "piece" });
    });
  }
}

/** Choose what the list names, and open the bar at it. */
function openListed() {
  const { piece, spot } = listed();
  if (piece) pick(piece);
  openBeside(spot);
}

/**
 * Lay out what the program sent; its rows have the keys `keys` on the page.
 *
 * @param {Drawing} latest
 * @param {number[]} keys
 */
export function renderDrawing(latest, keys) {
  drawQuilt(latest);
  listPieces(keys);
  followRow();
  viewQuilt(latest);
  showMove();
  renderBeside();
  placeWriting();
}

/**
 * Show a drawing for a while, in which no other piece is chosen and nothing else of the page changes.
 *
 * @param {Drawing} latest
 */
export function showTried(latest) {
  drawQuilt(latest);
  viewQuilt(latest);
  showPiece();
}

/**
 * Choose a row, or one letter of it, and bring it into sight.
 *
 * @param {number} row
 * @param {number | null} letter
 */
export function lookAt(row, letter) {
  const place = tipOf({ drawn: { path: ["row", row], letter: letter ?? undefined }, at: null });
  if (!place) return;
  pick({ row, letter });
  openBeside({ part: "piece" });
  bringIntoSight(place);
  byId("drawing").focus();
}
