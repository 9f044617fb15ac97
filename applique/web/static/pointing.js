// What a mouse, fingers and keys do on the drawing: move pieces, draw the quilt about, come nearer.

import { besideOf, closeBeside, openBeside } from "./beside.js";
import { chosen, further, keyOf, pieceName } from "./choosing.js";
import { drawn } from "./drawing.js";
import { byId, radios, say } from "./elements.js";
import { rounded } from "./measures.js";
import { hold, isMoving, nudge, pick, restore, settle } from "./moves.js";
import { snapPlaces, snapped } from "./snaps.js";
import { writeRow } from "./writing.js";
import { fit, inView, panFrom, zoom } from "./view.js";

/** @type {Record<string, [number, number]>} */
const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };
/** Pixels that a pointer may stray in a click. */
const STILL = 4;
/** Two clicks within so long are one double click. */
const TWICE_MS = 500;
const svg = () => byId("drawing");
/** @type {Map<number, PointerEvent>} */
const pointers = new Map();

/** Listen to them. */
export function startPointing() {
  svg().addEventListener("pointerdown", press);
  svg().addEventListener("keydown", keys);
  svg().addEventListener("wheel", wheel, { passive: false });
  svg().addEventListener("touchend", (event) => { if (event.cancelable) event.preventDefault(); });
  svg().addEventListener("touchstart", (event) => { if (event.touches.length > 1) event.preventDefault(); }, { passive: false });
}

/** @param {KeyboardEvent} event */
function keys(event) {
  if (!drawn()) return;
  if (event.key in ARROWS) {
    event.preventDefault();
    const [right, up] = ARROWS[event.key];
    nudge(right, up, event);
    if (besideOf()?.part !== "piece") openBeside({ part: "piece" });
  } else if (event.key === "PageDown" || event.key === "PageUp") {
    event.preventDefault();
    pick(further(event.key === "PageDown" ? 1 : -1));
    say(pieceName());
    openBeside({ part: "piece" });
  } else if (event.key === "Escape") { if (isMoving()) restore(); else closeBeside(); }
  else if (event.key === "Enter") {
    event.preventDefault();
    settle();
    writeRow(chosen().row);
  }
  else if (event.key === "+" || event.key === "=") zoom(1.3);
  else if (event.key === "-") zoom(1 / 1.3);
  else if (event.key === "0") fit();
}

/** @param {WheelEvent} event */
function wheel(event) {
  if (!inView() || !(event.ctrlKey || event.metaKey)) return;
  event.preventDefault();
  zoom(Math.exp(-event.deltaY / 300), event.clientX, event.clientY);
}

/** @param {PointerEvent} event */
function press(event) {
  if (!drawn() || (event.pointerType === "mouse" && event.button > 1)) return;
  svg().focus({ preventScroll: true, focusVisible: false });
  pointers.set(event.pointerId, event);
  svg().setPointerCapture(event.pointerId);
  if (pointers.size === 2) { pinch(); return; }
  const target = /** @type {SVGElement} */ (event.target);
  const letter = event.button === 0 && target.closest(".letter");
  if (letter instanceof SVGElement && !isScrolling(event)) drag(event, letter);
  else pan(event, () => open(letter instanceof SVGElement ? letter : target));
}

/**
 * Whether a finger scrolls the page here until something is chosen.
 *
 * @param {PointerEvent} event
 */
const isScrolling = (event) => event.pointerType === "touch" && getComputedStyle(svg()).touchAction === "pan-y";

/**
 * Choose the row or letter that a letter belongs to.
 *
 * @param {SVGElement} letter
 */
function choosePiece(letter) {
  const byLetter = radios("grip").some((radio) => radio.value === "letter" && radio.checked);
  pick({ row: Number(letter.dataset.row), letter: byLetter ? Number(letter.dataset.letter) : null });
}

/** The row whose letter was clicked last, and when. @type {{ row: number, time: number }} */
let clicked = { row: 0, time: 0 };

/**
 * Open the bar at a letter that was clicked; twice in a row, its words are written.
 *
 * @param {SVGElement} letter
 */
function opened(letter) {
  choosePiece(letter);
  const [before, now] = [clicked, { row: Number(letter.dataset.row), time: performance.now() }];
  clicked = now;
  if (before.row === now.row && now.time - before.time < TWICE_MS) writeRow(now.row);
  openBeside({ part: "piece" });
}

/**
 * Open the bar at what was clicked; beside the quilt it closes.
 *
 * @param {SVGElement} target
 */
function open(target) {
  const [patch, panel] = [target.closest(".patch"), target.closest(".panel")];
  if (target.matches(".letter")) opened(target);
  else if (patch instanceof SVGElement) openBeside({ part: "border", number: Number(patch.dataset.border) });
  else if (panel) openBeside({ part: "panel" });
  else closeBeside();
}

/**
 * Follow the pointer of `event` until it is lifted or lost.
 *
 * @param {PointerEvent} event
 * @param {(next: PointerEvent) => void} onMove
 * @param {(last: PointerEvent) => void} onEnd
 */
function follow(event, onMove, onEnd) {
  const moved = (/** @type {PointerEvent} */ next) => { if (next.pointerId === event.pointerId) onMove(next); };
  const ended = (/** @type {PointerEvent} */ next) => {
    if (next.pointerId !== event.pointerId) return;
    pointers.delete(event.pointerId);
    svg().removeEventListener("pointermove", moved);
    svg().removeEventListener("pointerup", ended);
    svg().removeEventListener("pointercancel", ended);
    onEnd(next);
  };
  svg().addEventListener("pointermove", moved);
  svg().addEventListener("pointerup", ended);
  svg().addEventListener("pointercancel", ended);
}

/**
 * What a pointer does, once for every frame that the browser draws: where it was meanwhile nobody sees.
 *
 * @param {(event: PointerEvent) => void} work
 * @returns {{ later: (event: PointerEvent) => void, now: () => void }} `now` does what is still to be done
 */
function onceAFrame(work) {
  /** @type {PointerEvent | null} */
  let latest = null;
  const now = () => {
    const event = latest;
    latest = null;
    if (event) work(event);
  };
  return { now, later: (event) => {
    if (!latest) requestAnimationFrame(now);
    latest = event;
  } };
}

/**
 * Draw the quilt about; `onClick` is called where the pointer stays in its place.
 *
 * @param {PointerEvent} event
 * @param {() => void} onClick
 */
function pan(event, onClick) {
  const start = inView();
  if (!start) return;
  const scrolls = isScrolling(event);
  let began = false;
  follow(event, (next) => {
    const [right, down] = [next.clientX - event.clientX, next.clientY - event.clientY];
    began ||= Math.hypot(right, down) >= STILL;
    if (began && !scrolls && pointers.size < 2) panFrom(start, right, down);
  }, (last) => { if (!began && last.type === "pointerup") onClick(); });
}

/** Two fingers: closer together or further apart. */
function pinch() {
  restore();
  const [first, second] = [...pointers.values()];
  let before = Math.hypot(first.clientX - second.clientX, first.clientY - second.clientY);
  const onMove = (/** @type {PointerEvent} */ next) => {
    pointers.set(next.pointerId, next);
    if (pointers.size < 2) return;
    const [one, two] = [...pointers.values()];
    const now = Math.hypot(one.clientX - two.clientX, one.clientY - two.clientY);
    zoom(now / before, (one.clientX + two.clientX) / 2, (one.clientY + two.clientY) / 2);
    before = now;
  };
  follow(second, onMove, () => {});
  follow(first, onMove, () => {});
}

/**
 * @param {PointerEvent} event
 * @param {SVGElement} letter
 */
function drag(event, letter) {
  settle();
  choosePiece(letter);
  const places = snapPlaces(chosen());
  const key = keyOf(chosen().row);
  let began = false;
  const step = onceAFrame((next) => {
    if (pointers.size > 1 || keyOf(chosen().row) !== key) return;
    const [dx, dy] = [next.clientX - event.clientX, next.clientY - event.clientY];
    if (!began && Math.hypot(dx, dy) < STILL) return;
    began = true;
    const scale = inView()?.scale;
    if (!scale) return;
    const [right, up] = [dx / scale, -dy / scale];
    if (next.altKey) {
      hold(rounded(right), rounded(up));
    } else {
      const end = snapped(places, right, up, scale);
      hold(end.right, end.up, end.note, end.lines);
    }
  });
  follow(event, step.later, (last) => {
    step.now();
    if (last.type === "pointercancel") { restore(); return; }
    if (began) { settle(); openBeside({ part: "piece" }); } else opened(letter);
  });
}
