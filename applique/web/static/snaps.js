// Snaps: where a piece that is being dragged would come to lie well, and whether it is near enough to go there.

import { drawn, inkOf, rowOf } from "./drawing.js";
import { byId } from "./elements.js";
import { inSteps, rounded } from "./measures.js";
import { t } from "./texts.js";
import { inView } from "./view.js";

/** @import { Piece } from "./types.js" */

/**
 * A good place: how far from where the drawing has the piece, the reason, and where the line to show stands.
 *
 * @typedef {{ by: number, why: string, at: number }} Snap
 */

/** @typedef {{ across: Snap[], up: Snap[] }} Snaps */

/** Where lines stand that a piece has snapped to: one up and down at `x`, one across at `y`. @typedef {{ x?: number, y?: number }} Lines */

const REACH_PX = 9;
/** Pixels to where nothing is seen. */
const FAR = -99;

/**
 * The good places of a piece, across and up.
 *
 * @param {Piece} piece
 * @returns {Snaps}
 */
export function snapPlaces(piece) {
  const [drawing, row, ink] = [drawn(), rowOf(piece.row), inkOf(piece)];
  if (!drawing || !row || !ink) return { across: [], up: [] };
  const { panel, rows } = drawing;
  const [x0, y0, x1, y1] = ink;
  /** @type {Snap[]} */
  const across = [];
  /** @type {Snap[]} */
  const up = !row.level ? [] : [{ by: 0, why: "snapBase", at: row.baseline }];
  const middle = panel.x + panel.width / 2;
  across.push({ by: middle - (x0 + x1) / 2, why: "snapCenter", at: middle });
  const beside = piece.letter ? row.cuts.filter((cut) => cut.letter !== piece.letter) : [];
  const others = rows.flatMap((one) => (one === row ? beside : one.cuts));
  const edges = new Set(others.flatMap((cut) => [cut.ink[0], cut.ink[2]]));
  for (const edge of edges) {
    across.push({ by: edge - x0, why: "snapEdge", at: edge }, { by: edge - x1, why: "snapEdge", at: edge });
  }
  if (piece.letter && !row.level) return { across, up };
  if (piece.letter) {
    const index = row.cuts.findIndex((cut) => cut.letter === piece.letter);
    const [before, after] = [row.cuts[index - 1], row.cuts[index + 1]];
    if (before && after) {
      across.push({ by: (before.ink[2] + after.ink[0] - x0 - x1) / 2, why: "snapGap", at: (before.ink[2] + after.ink[0]) / 2 });
    }
    for (let place = 1; place < row.cuts.length; place += 1) {
      if (place === index || place === index + 1) continue;
      const gap = row.cuts[place].ink[0] - row.cuts[place - 1].ink[2];
      if (before) across.push({ by: before.ink[2] + gap - x0, why: "snapGap", at: before.ink[2] + gap });
      if (after) across.push({ by: after.ink[0] - gap - x1, why: "snapGap", at: after.ink[0] - gap });
    }
    for (const cut of others) if (cut.turn || Math.abs(cut.y - row.baseline) > 1e-6) up.push({ by: y1 - cut.ink[3], why: "snapEdge", at: cut.ink[3] });
  } else {
    const place = rows.indexOf(row);
    const top = rows[place - 1]?.ink[3] ?? panel.y;
    const bottom = rows[place + 1]?.ink[1] ?? panel.y + panel.height;
    up.push({ by: -((top + bottom) / 2 - (y0 + y1) / 2), why: "snapGap", at: (top + bottom) / 2 });
  }
  return { across, up };
}

/**
 * The nearest of some places within reach.
 *
 * @param {Snap[]} places
 * @param {number} value
 * @param {number} reach
 */
function nearest(places, value, reach) {
  /** @type {Snap | undefined} */
  let found;
  for (const place of places) {
    const off = Math.abs(place.by - value);
    if (off < reach) { found = place; reach = off; }
  }
  return found;
}

/**
 * Where a move of so much ends at `scale` pixels to the inch: at a good place within reach, or a round length.
 *
 * @param {Snaps} places
 * @param {number} right
 * @param {number} up
 * @param {number} scale
 */
export function snapped(places, right, up, scale) {
  const reach = REACH_PX / scale;
  const [side, rise] = [nearest(places.across, right, reach), nearest(places.up, up, reach)];
  const high = rise ? inSteps(rise.by) : rounded(up);
  return {
    right: side ? inSteps(side.by) : rounded(right),
    up: high,
    lines: { x: side?.at, y: rise?.at },
    note: [side && t(side.why), rise && Math.abs(high) > 1e-6 && t(rise.why)].filter(Boolean).join(", "),
  };
}

/**
 * Show the lines that a piece has snapped to, across the panel: one up and down at `x`, one across at `y`, or neither.
 * They are moved and never drawn anew, out of sight too.
 *
 * @param {Lines} lines
 */
export function showSnaps({ x, y }) {
  const [panel, view] = [drawn()?.panel, inView()];
  if (!panel || !view) return;
  const { scale } = view;
  const [left, top] = [x === undefined ? FAR : (x - view.x) * scale, y === undefined ? FAR : (y - view.y) * scale];
  byId("snap-x").style.transform = `translate(${left}px, ${(panel.y - view.y) * scale}px) scaleY(${panel.height * scale})`;
  byId("snap-y").style.transform = `translate(${(panel.x - view.x) * scale}px, ${top}px) scaleX(${panel.width * scale})`;
}
