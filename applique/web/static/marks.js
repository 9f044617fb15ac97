// The marks: a number on the drawing for each thing that was found.

import { cutOf, rowOf } from "./drawing.js";
import { byId, draw } from "./elements.js";
import { inView } from "./view.js";
import { rowOf as placedRow } from "./where.js";

/** @import { Mark, Point } from "./types.js" */

/** @type {Mark[]} */
let findings = [];

/**
 * Where a finding is on the quilt; null where it is about no one place.
 *
 * @param {Pick<Mark, "where" | "at">} finding
 * @returns {Point | null}
 */
export function spot(finding) {
  if (finding.at) return finding.at;
  const number = placedRow(finding.where);
  const row = number ? rowOf(number) : undefined;
  if (!row) return null;
  const cut = finding.where.letter ? cutOf(row.number, finding.where.letter) : undefined;
  const [x0, y0, x1] = (cut || row).ink;
  return cut ? [(x0 + x1) / 2, y0] : [x0, y0];
}

/**
 * Mark what was found.
 *
 * @param {Mark[]} found
 */
export function markFindings(found) {
  findings = found;
  drawMarks();
}

/** Draw the marks anew, of the same size on the screen at any view. */
export function drawMarks() {
  const size = 11 / (inView()?.scale ?? 11);
  byId("drawing").querySelector("#marks")?.replaceChildren(...findings.flatMap((finding, index) => {
    const at = spot(finding);
    return at ? [draw("g", { class: finding.stops ? "mark stops" : "mark", transform: `translate(${at[0]} ${at[1]}) scale(${size})` },
      draw("circle", { r: 1 }), draw("text", { "text-anchor": "middle", y: 0.38 }, String(index + 1)))] : [];
  }));
}
