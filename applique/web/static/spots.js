// What was found, on the quilt itself: a numbered button at each place, and one with their count for those near one another.
// Nothing is ever out of sight: what is about no one place, or about one beyond the view, stands at the edge.

import { design } from "./design.js";
import { cutOf, drawn, rowOf } from "./drawing.js";
import { byId, keepingFocus, make } from "./elements.js";
import { t } from "./texts.js";
import { inView, stageSize } from "./view.js";
import { rowOf as rowIn, whereSaid } from "./where.js";

/** @import { Box, Drawing, Mark, Point, Where } from "./types.js" */

/**
 * A button on the quilt: the findings that it stands for, by their indexes, the middle of it in pixels of the stage, and which way
 * its tip points, how far it is from there to its place.
 *
 * @typedef {Stand & { members: number[] }} Spot
 */

/** @typedef {{ at: Point, tip: "down" | "up" | "left" | "right" | "none", leader: number }} Stand */

/** So high is a button, in the size of the page's text: for a mouse, and for a finger. */
const [SIZE, FINGER] = [1.65, 2.2];
/** The widest button, that of a group, is so many times as wide as high. */
const WIDEST = 1.85;
/** Pixels from a button to the place that it points at, between two buttons, and to the edge of the stage. */
const [TIP, APART, EDGE] = [7, 4, 6];
/** The rulers along the upper and the left edge, while they are shown. */
const RULER = 24;

/** @type {Mark[]} */
let marks = [];
/** @type {Spot[]} */
let spots = [];
/** The finding whose button the Tab key goes to, and the one whose card is open. @type {[focus: number, open: number | null]} */
let [current, open] = [0, null];
let size = 28;
/** What each button is called. @type {string[]} */
let names = [];
/** All that the buttons say, and what they show now. @type {[names: string, shown: string]} */
let [called, shown] = ["", ""];
/** @type {(members: number[]) => void} */
let tell = () => {};

/**
 * Take hold of the buttons once; `onOpen(members)` is told which findings one of them stands for when it is pressed.
 *
 * @param {(members: number[]) => void} onOpen
 */
export function startSpots(onOpen) {
  tell = onOpen;
  const fingers = matchMedia("(pointer: coarse)");
  const measure = () => {
    size = (fingers.matches ? FINGER : SIZE) * parseFloat(getComputedStyle(document.documentElement).fontSize);
    byId("spots").style.setProperty("--spot", `${size}px`);
    placeSpots();
  };
  fingers.addEventListener("change", measure);
  new ResizeObserver(measure).observe(byId("stage"));
  byId("guides").addEventListener("change", placeSpots);
  byId("spots").addEventListener("keydown", walk);
  byId("spots").addEventListener("wheel", (event) => {
    event.preventDefault();
    byId("drawing").dispatchEvent(new WheelEvent(event.type, event)); // as though the button were not in the way
  }, { passive: false });
  measure();
}

/**
 * The arrow keys go from one button to the next.
 *
 * @param {KeyboardEvent} event
 */
function walk(event) {
  const buttons = [...byId("spots").querySelectorAll("button")];
  const at = buttons.findIndex((button) => button === document.activeElement);
  /** @type {Record<string, number>} */
  const places = { ArrowRight: at + 1, ArrowDown: at + 1, ArrowLeft: at - 1, ArrowUp: at - 1, Home: 0, End: buttons.length - 1 };
  if (!(event.key in places)) return;
  event.preventDefault();
  const next = (places[event.key] + buttons.length) % buttons.length;
  current = spots[next].members[0];
  for (const [index, button] of buttons.entries()) button.tabIndex = index === next ? 0 : -1;
  buttons[next].focus({ preventScroll: true });
}

/**
 * The place on the drawing that a finding points at; null where it is about no one place.
 *
 * @param {Pick<Mark, "drawn" | "at">} mark
 * @returns {Point | null}
 */
export function tipOf({ drawn: where, at }) {
  if (at) return at;
  const [table, number] = where.path ?? [];
  if (table === "fabric" && typeof number === "number") return fabricTip(design().fabric?.[number - 1]?.name);
  const box = boxOf(where);
  if (!box) return null;
  const [left, top, right] = box;
  return [where.letter || table === "border" ? (left + right) / 2 : left, top];
}

/**
 * The box on the drawing of what a place names: a letter, a row, a border's upper side, the panel.
 *
 * @param {Where} where
 * @returns {Box | null}
 */
export function boxOf(where) {
  const [table, number] = where.path ?? [];
  const row = rowIn(where);
  if (row) return (where.letter && cutOf(row, where.letter)?.ink) || rowOf(row)?.ink || null;
  if (table === "border" && typeof number === "number") return borderBox(number);
  const panel = drawn()?.panel;
  return table === "panel" && panel ? [panel.x, panel.y, panel.x + panel.width, panel.y + panel.height] : null;
}

/** The upper side of each border, measured once for every drawing. @type {WeakMap<Drawing, Map<number, Box | null>>} */
const borders = new WeakMap();

/** @param {number} number */
function borderBox(number) {
  const drawing = drawn();
  if (!drawing) return null;
  const known = borders.get(drawing) ?? new Map();
  borders.set(drawing, known);
  if (!known.has(number)) known.set(number, measuredBorder(number));
  return known.get(number) ?? null;
}

/**
 * @param {number} number
 * @returns {Box | null}
 */
function measuredBorder(number) {
  /** @type {NodeListOf<SVGGElement>} */
  const patches = byId("drawing").querySelectorAll(`#art > .patch[data-border="${number}"]`);
  if (!patches.length) return null;
  const boxes = [...patches].map((patch) => {
    const { x, y, width, height } = patch.getBBox();
    const [left, top] = [x + Number(patch.dataset.x), y + Number(patch.dataset.y)];
    return [left, top, left + width, top + height];
  });
  const top = Math.min(...boxes.map((box) => box[1]));
  const low = Math.min(...boxes.filter((box) => box[1] < top + 1e-6).map((box) => box[3]));
  return [Math.min(...boxes.map((box) => box[0])), (top + low) / 2, Math.max(...boxes.map((box) => box[2])), low];
}

/**
 * Where a fabric is seen first: in the panel, in a row of words, in a border.
 *
 * @param {string | undefined} name
 * @returns {Point | null}
 */
function fabricTip(name) {
  const item = name === undefined ? undefined
    : ["panel", "letter", "patch"].map((part) => drawn()?.picture.items.find((one) => one.part === part && one.fabric === name)).find(Boolean);
  if (!item) return null;
  if (item.part === "letter") return tipOf({ drawn: { path: ["row", item.row ?? 0] }, at: null });
  return tipOf({ drawn: { path: item.part === "panel" ? ["panel"] : ["border", item.border ?? 0] }, at: null });
}

/**
 * Show what was found.
 *
 * @param {Mark[]} found
 */
export function markFindings(found) {
  marks = found;
  names = found.map(nameOf);
  called = JSON.stringify([names, found.map(({ stops }) => stops)]);
  byId("spots").hidden = !found.length;
  placeSpots();
}

/** Lay the buttons at their places in the view that there is now. */
export function placeSpots() {
  if (!marks.length && !spots.length) return;
  spots = gathered();
  const now = JSON.stringify([open, called, spots.map(({ members, tip }) => [tip, members])]);
  if (now !== shown) {
    shown = now;
    if (byId("spots").contains(document.activeElement)) keepingFocus(draw); else draw();
  }
  for (const [index, button] of [...byId("spots").children].entries()) {
    const [x, y] = spots[index].at;
    if (!(button instanceof HTMLElement)) continue;
    button.style.transform = `translate(${x}px, ${y}px) translate(-50%, -50%)`;
    button.style.setProperty("--leader", `${spots[index].leader}px`);
  }
}

/**
 * What stops the work first, then by number; each joins the first button that is in its way, which then stands where it covers none
 * of their pieces, if there is such a place.
 */
function gathered() {
  const order = [...marks.keys()].sort((one, other) => Number(marks[other].stops) - Number(marks[one].stops) || one - other);
  const [wide, high] = [size * WIDEST + APART, size + APART + TIP];
  const clash = (/** @type {Point} */ [x, y], /** @type {Spot} */ { at }) => Math.abs(at[0] - x) < wide && Math.abs(at[1] - y) < high;
  const taken = obstacles();
  /** @type {Spot[]} */
  const all = [];
  for (const index of order) {
    const next = standOf(index, taken);
    const near = all.find((spot) => clash(next.at, spot));
    if (!near) { all.push({ members: [index], ...next }); continue; }
    near.members.push(index);
    const pieces = near.members.map((member) => pieceOf(marks[member])).filter((piece) => piece !== null);
    const free = [near, next, ...standsOf(index), ...standsOf(near.members[0])].find(({ at }) => !pieces.some((piece) => covers(at, piece))
      && !taken.some((box) => covers(at, box)) && inside(at, room()) && all.every((spot) => spot === near || !clash(at, spot)));
    if (free && free !== near) Object.assign(near, free);
  }
  for (const { members } of all) members.sort((one, other) => one - other);
  return all.sort((one, other) => one.members[0] - other.members[0]);
}

/**
 * What a button must not lie under or upon, in pixels of the stage: the bar at what is chosen, and what is said of the drawing.
 *
 * @returns {Box[]}
 */
function obstacles() {
  const shown = [byId("beside"), byId("behind")].filter((element) => !element.hidden);
  if (!shown.length) return [];
  const frame = byId("stage").getBoundingClientRect();
  return shown.map((element) => {
    const { left, top, right, bottom } = element.getBoundingClientRect();
    return [left - frame.left, top - frame.top, right - frame.left, bottom - frame.top];
  });
}

/**
 * Where the middle of a button can be, in pixels of the stage.
 *
 * @returns {Box}
 */
function room() {
  const stage = stageSize();
  const rulers = byId("guides").checked ? RULER : 0;
  const [aside, above] = [size * WIDEST / 2 + EDGE, size / 2 + EDGE];
  return [aside + rulers, above + rulers, Math.max(stage.width - aside, aside), Math.max(stage.height - above, above)];
}

/** @type {(at: Point, room: Box) => boolean} */
const inside = ([x, y], [left, top, right, bottom]) => x >= left && x <= right && y >= top && y <= bottom;

/**
 * Whether a button at `at` lies on something.
 *
 * @type {(at: Point, box: Box) => boolean}
 */
const covers = ([x, y], [left, top, right, bottom]) =>
  x + size * WIDEST / 2 > left && x - size * WIDEST / 2 < right && y + size / 2 > top && y - size / 2 < bottom;

/**
 * The letter or row that a finding is about, in pixels of the stage.
 *
 * @param {Mark} mark
 * @returns {Box | null}
 */
function pieceOf({ drawn: where }) {
  const [view, box] = [inView(), rowIn(where) ? boxOf(where) : null];
  if (!view || !box) return null;
  const [x0, y0, x1, y1] = box;
  return [(x0 - view.x) * view.scale, (y0 - view.y) * view.scale, (x1 - view.x) * view.scale, (y1 - view.y) * view.scale];
}

/**
 * The places of a button at which it covers nothing of the piece it speaks of, the best first: above it, below it, at its sides.
 *
 * @param {number} index
 * @returns {Stand[]}
 */
function standsOf(index) {
  const [place, view] = [tipOf(marks[index]), inView()];
  if (!place || !view) return [];
  const [x, y] = [(place[0] - view.x) * view.scale, (place[1] - view.y) * view.scale];
  const [left, top, right, bottom] = pieceOf(marks[index]) ?? [x, y, x, y];
  const [wide, high] = [size * WIDEST / 2 + TIP, size / 2 + TIP];
  return [{ at: [x, top - high], tip: "down", leader: y - top }, { at: [x, bottom + high], tip: "up", leader: bottom - y },
    { at: [right + wide, y], tip: "left", leader: right - x }, { at: [left - wide, y], tip: "right", leader: x - left }];
}

/**
 * Where the button of one finding stands.
 *
 * @param {number} index
 * @param {Box[]} taken
 * @returns {Stand}
 */
function standOf(index, taken) {
  const [free, space] = [standsOf(index), room()];
  if (!free.length) return { at: clear([space[2], space[1]], taken, space), tip: "none", leader: 0 };
  const good = free.find(({ at }) => inside(at, space) && !taken.some((box) => covers(at, box)));
  if (good) return good;
  const [[x, y]] = free.map(({ at }) => at);
  return { at: clear([Math.min(Math.max(x, space[0]), space[2]), Math.min(Math.max(y, space[1]), space[3])], taken, space), tip: "none", leader: 0 };
}

/**
 * The nearest place to `at` in the room where a button is clear of what is taken.
 *
 * @param {Point} at
 * @param {Box[]} taken
 * @param {Box} room
 * @returns {Point}
 */
function clear(at, taken, [left, top, right, bottom]) {
  let [x, y] = at;
  for (const box of taken) {
    const [x0, y0, x1, y1] = [box[0] - size * WIDEST / 2 - APART, box[1] - size / 2 - APART, box[2] + size * WIDEST / 2 + APART, box[3] + size / 2 + APART];
    if (x <= x0 || x >= x1 || y <= y0 || y >= y1) continue;
    /** @type {Point[]} */
    const ways = [[x0, y], [x1, y], [x, y0], [x, y1]];
    const open = ways.filter(([wx, wy]) => wx >= left && wx <= right && wy >= top && wy <= bottom);
    const nearest = open.sort((one, other) => Math.hypot(one[0] - x, one[1] - y) - Math.hypot(other[0] - x, other[1] - y))[0];
    if (nearest) [x, y] = nearest;
  }
  return [x, y];
}

/**
 * The place of a finding in words, with the letter itself where it is about one.
 *
 * @param {Mark} mark
 */
export function placeSaid({ where, drawn: on }) {
  const [row, number] = [rowIn(on), rowIn(where)];
  const cut = row && on.letter ? cutOf(row, on.letter) : undefined;
  return cut && number ? t("pieceLetter", { ...cut, number }) : whereSaid(where);
}

/** @type {(mark: Mark, index: number) => string} */
const nameOf = (mark, index) =>
  t(mark.stops ? "spotStops" : "spotLook", { number: index + 1, what: [placeSaid(mark), mark.what].filter(Boolean).join(": ") });

function draw() {
  const holder = spots.find(({ members }) => members.includes(current)) ?? spots[0];
  byId("spots").replaceChildren(...spots.map((spot) => {
    const { members, tip } = spot;
    const stops = members.some((index) => marks[index].stops);
    const one = members.length === 1;
    return make("button", { class: ["spot", stops && "stops", !one && "group"].filter(Boolean).join(" "), "data-tip": tip, "data-focus": `spot-${members[0]}`,
      tabindex: spot === holder ? "0" : "-1", "aria-haspopup": "dialog", "aria-expanded": String(open !== null && members.includes(open)),
      "aria-label": one ? names[members[0]] : t("spotGroup", { count: members.length, names: members.map((index) => index + 1).join(", "), first: names[members[0]] }),
      onfocus: () => { [current] = members; },
      onclick: () => tell(members) },
    make("span", { "aria-hidden": "true" }, `${stops ? "! " : ""}${one ? members[0] + 1 : `×${members.length}`}`));
  }));
}

/**
 * Show at which button the card is open; null where none is.
 *
 * @param {number | null} index
 */
export function showOpen(index) {
  open = index;
  if (index !== null) current = index;
  placeSpots();
}

/**
 * Give the keyboard to the button that stands for a finding.
 *
 * @param {number} index
 */
export const focusSpot = (index) => buttonOf(index)?.focus({ preventScroll: true });

/**
 * The findings that stand together with one of them.
 *
 * @param {number} index
 */
export const membersWith = (index) => spots.find(({ members }) => members.includes(index))?.members ?? [index];

/** @param {number} index */
function buttonOf(index) {
  const button = byId("spots").children[spots.findIndex(({ members }) => members.includes(index))];
  return button instanceof HTMLElement ? button : undefined;
}

/**
 * The button that stands for a finding, in pixels of the window.
 *
 * @param {number} index
 * @returns {Box | null}
 */
export function buttonBox(index) {
  const box = buttonOf(index)?.getBoundingClientRect();
  return box ? [box.left, box.top, box.right, box.bottom] : null;
}
