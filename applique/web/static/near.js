// Where something that opens at a place of the quilt has room on the screen.

import { byId } from "./elements.js";
import { inView } from "./view.js";

/** @import { Box } from "./types.js" */

/** Pixels between what opens and what it is about, and between it and the edges of the stage. */
const [APART, WITHIN] = [14, 8];

/**
 * A box of the drawing in pixels of the window; null while nothing is in sight.
 *
 * @param {Box} box
 * @returns {Box | null}
 */
export function inWindow([left, top, right, bottom]) {
  const view = inView();
  if (!view) return null;
  const stage = byId("stage").getBoundingClientRect();
  const [x, y] = [stage.left - view.x * view.scale, stage.top - view.y * view.scale];
  return [x + left * view.scale, y + top * view.scale, x + right * view.scale, y + bottom * view.scale];
}

/**
 * Put `element` beside the first of `boxes` of the window where there is room: below it, above it, or at a side; and in any case
 * within the window, as near to its lower edge as can be.
 *
 * @param {HTMLElement} element
 * @param {Box[]} boxes
 */
export function putBeside(element, boxes) {
  const stage = byId("stage").getBoundingClientRect();
  const room = { left: Math.max(stage.left, 0) + WITHIN, top: Math.max(stage.top, 0) + WITHIN, right: Math.min(stage.right, innerWidth) - WITHIN,
    bottom: Math.max(stage.bottom, byId("findings-open").getBoundingClientRect().top) - WITHIN };
  const { offsetWidth: wide, offsetHeight: high } = element;
  const across = (/** @type {Box} */ [left, , right]) => Math.max(Math.min((left + right - wide) / 2, room.right - wide), room.left);
  const down = (/** @type {Box} */ [, top, , bottom]) => Math.max(Math.min((top + bottom - high) / 2, room.bottom - high), room.top);
  const places = boxes.flatMap((box) => [[across(box), box[3] + APART], [across(box), box[1] - APART - high],
    [box[2] + APART, down(box)], [box[0] - APART - wide, down(box)]]);
  const [x, y] = places.find(([x, y]) => x >= room.left && y >= room.top && x + wide <= room.right && y + high <= room.bottom)
    ?? [across(boxes[0]), Math.max(room.bottom - high, WITHIN)];
  element.style.left = `${x}px`;
  element.style.top = `${y}px`;
}
