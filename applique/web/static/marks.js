// The marks: a number on the drawing for each thing that was found.

import { cutOf, rowOf } from "./drawing.js";
import { byId, draw } from "./elements.js";
import { inView } from "./view.js";

let findings = [];

/** Where a finding is on the quilt; null where it is about no one place. */
export function spot(finding) {
  if (finding.at) return finding.at;
  const row = finding.row && rowOf(finding.row);
  if (!row) return null;
  const cut = finding.letter && cutOf(finding.row, finding.letter);
  const [x0, y0, x1] = (cut || row).ink;
  return cut ? [(x0 + x1) / 2, y0] : [x0, y0];
}

/** Mark what was found. */
export function markFindings(found) {
  findings = found;
  drawMarks();
}

/** Draw the marks anew, of the same size on the screen at any view. */
export function drawMarks() {
  const size = inView() ? 11 / inView().scale : 1;
  byId("drawing").querySelector("#marks")?.replaceChildren(...findings.flatMap((finding, index) => {
    const at = spot(finding);
    return at ? [draw("g", { class: finding.stops ? "mark stops" : "mark", transform: `translate(${at[0]} ${at[1]}) scale(${size})` },
      draw("circle", { r: 1 }), draw("text", { "text-anchor": "middle", y: 0.38 }, String(index + 1)))] : [];
  }));
}
