// The table that the quilt lies on: the drawing, its marks and rulers, and the tools around it, put together.

import { chosen, listed, listPieces } from "./choosing.js";
import { drawQuilt, firstLetter, rowOf } from "./drawing.js";
import { byId } from "./elements.js";
import { drawMarks, markFindings, spot } from "./marks.js";
import { nudge, pick, showMove, showPiece, startMoves } from "./moves.js";
import { startPointing } from "./pointing.js";
import { drawRulers } from "./rulers.js";
import { bringIntoSight, fit, startView, viewQuilt, zoom } from "./view.js";

/** Take hold of the table once; `onMove(row, letter, right, up)` hands a finished move to the program. */
export function startTable(onMove) {
  startMoves(onMove);
  startView(() => { drawMarks(); showPiece(); drawRulers(); });
  startPointing();
  byId("zoom-in").addEventListener("click", () => zoom(1.3));
  byId("zoom-out").addEventListener("click", () => zoom(1 / 1.3));
  byId("zoom-fit").addEventListener("click", fit);
  byId("guides").addEventListener("change", () => byId("drawing").classList.toggle("no-guides", !byId("guides").checked));
  byId("piece").addEventListener("change", () => { const { row, letter } = listed(); pick(row, letter); });
  for (const button of document.querySelectorAll("[data-move]")) {
    button.addEventListener("click", (event) => {
      const [right, up] = button.dataset.move.split(" ").map(Number);
      nudge(right, up, event);
    });
  }
  for (const radio of document.querySelectorAll("[name=grip]")) {
    radio.addEventListener("change", () => {
      const { row } = chosen();
      pick(row, radio.value === "letter" ? firstLetter(row) : null);
    });
  }
}

/** Lay out what the program sent, marked with what was found. */
export function renderDrawing(latest, found) {
  drawQuilt(latest);
  listPieces();
  markFindings(found);
  viewQuilt(latest);
  showMove();
}

/** Choose a piece and bring it into sight. */
export function lookAt(row, letter) {
  if (!rowOf(row)) return;
  pick(row, letter ?? null);
  bringIntoSight(spot({ row, letter }));
  byId("drawing").focus();
}
