// The view: which part of the quilt is in sight, and how large. Who draws by it is told of every change.

import { byId, setAttribute } from "./elements.js";

/** What is left free around the whole quilt: so much of the width of the stage, within these pixels. */
const [ROOM, LEAST_ROOM, MOST_ROOM] = [0.018, 8, 24];
const svg = () => byId("drawing");

/** @import { Point } from "./types.js" */

/**
 * Pixels to the inch, and the place of the quilt in the upper left corner.
 *
 * @typedef {{ scale: number, x: number, y: number }} View
 */

/** @type {View | null} */
let view = null;
/** @type {{ width: number, height: number } | null} */
let quilt = null;
let fitted = true;
let tell = () => {};
/** The stage in pixels, as it was laid out last: asking the browser for it would have it lay out the page at once. */
let size = { width: 0, height: 0 };

/** What is in sight; null before there is a drawing. */
export const inView = () => view;

/** The width and height of the stage in pixels. */
export const stageSize = () => size;

/**
 * Begin to watch the size of the stage; `onView()` is told of every change of the view.
 *
 * @param {() => void} onView
 */
export function startView(onView) {
  tell = onView;
  new ResizeObserver(([{ contentRect: { width, height } }]) => {
    size = { width, height };
    if (quilt) { if (fitted) fit(); else show(); }
  }).observe(byId("stage"));
}

/**
 * Look at a drawing: a quilt of another size is shown whole, any other stays where it was.
 *
 * @param {{ width: number, height: number }} drawing
 */
export function viewQuilt({ width, height }) {
  const same = view && quilt?.width === width && quilt.height === height;
  quilt = { width, height };
  if (same) show(); else fit();
}

/** How the quilt is looked at now, to come back to. */
export const looking = () => ({ view, quilt, fitted });

/**
 * Look at the quilt as before.
 *
 * @param {ReturnType<typeof looking>} before
 */
export function lookAgain(before) {
  ({ view, quilt, fitted } = before);
  if (fitted) fit(); else show();
}

/** The whole quilt in sight. */
export function fit() {
  if (!quilt) return;
  const { width, height } = size;
  if (!width) return;
  const room = Math.min(Math.max(ROOM * width, LEAST_ROOM), MOST_ROOM);
  const scale = Math.max(Math.min((width - 2 * room) / quilt.width, (height - 2 * room) / quilt.height), 0.1);
  view = { scale, x: quilt.width / 2 - width / scale / 2, y: quilt.height / 2 - height / scale / 2 };
  fitted = true;
  show();
}

/**
 * So many times as large; the place at that point of the window, or in the middle, stays there.
 *
 * @param {number} times
 * @param {number} [clientX]
 * @param {number} [clientY]
 */
export function zoom(times, clientX, clientY) {
  if (!view) return;
  const frame = svg().getBoundingClientRect();
  const px = (clientX ?? frame.left + frame.width / 2) - frame.left;
  const py = (clientY ?? frame.top + frame.height / 2) - frame.top;
  const scale = Math.min(Math.max(view.scale * times, 1), 400);
  view = { scale, x: view.x + px / view.scale - px / scale, y: view.y + py / view.scale - py / scale };
  fitted = false;
  show();
}

/**
 * The view `start` with the quilt drawn so many pixels to the right and down.
 *
 * @param {View} start
 * @param {number} right
 * @param {number} down
 */
export function panFrom(start, right, down) {
  view = { ...start, x: start.x - right / start.scale, y: start.y - down / start.scale };
  fitted = false;
  show();
}

/**
 * Bring a place of the quilt into sight.
 *
 * @param {Point} place
 */
export function bringIntoSight([x, y]) {
  if (!view) return;
  const [wide, high] = [size.width / view.scale, size.height / view.scale];
  if (x >= view.x && x <= view.x + wide && y >= view.y && y <= view.y + high) return;
  view = { ...view, x: x - wide / 2, y: y - high / 2 };
  show();
}

function show() {
  if (!view || !size.width) return;
  for (const one of [svg(), byId("marks")]) setAttribute(one, "viewBox", `${view.x} ${view.y} ${size.width / view.scale} ${size.height / view.scale}`);
  tell();
}
