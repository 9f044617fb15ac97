// What a mouse, fingers and keys do on the drawing: move pieces, draw the quilt about, come nearer.

import { chosen, further, pieceName } from "./choosing.js";
import { drawn, showSnaps } from "./drawing.js";
import { byId, say } from "./elements.js";
import { rounded } from "./measures.js";
import { hold, nudge, pick, restore, settle } from "./moves.js";
import { snapPlaces, snapped } from "./snaps.js";
import { fit, inView, panFrom, zoom } from "./view.js";

const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };
const svg = () => byId("drawing");
const pointers = new Map();

/** Listen to them. */
export function startPointing() {
  svg().addEventListener("pointerdown", press);
  svg().addEventListener("keydown", keys);
  svg().addEventListener("wheel", wheel, { passive: false });
}

function keys(event) {
  if (!drawn()) return;
  if (event.key in ARROWS) {
    event.preventDefault();
    nudge(...ARROWS[event.key], event);
  } else if (event.key === "PageDown" || event.key === "PageUp") {
    event.preventDefault();
    const { row, letter } = further(event.key === "PageDown" ? 1 : -1);
    pick(row, letter);
    say(pieceName());
  } else if (event.key === "Escape") restore();
  else if (event.key === "Enter") settle();
  else if (event.key === "+" || event.key === "=") zoom(1.3);
  else if (event.key === "-") zoom(1 / 1.3);
  else if (event.key === "0") fit();
}

function wheel(event) {
  if (!inView() || !(event.ctrlKey || event.metaKey)) return;
  event.preventDefault();
  zoom(Math.exp(-event.deltaY / 300), event.clientX, event.clientY);
}

function press(event) {
  if (!drawn() || (event.pointerType === "mouse" && event.button > 1)) return;
  svg().focus({ preventScroll: true });
  pointers.set(event.pointerId, event);
  svg().setPointerCapture(event.pointerId);
  if (pointers.size === 2) { pinch(); return; }
  const letter = event.button === 0 && event.target.closest?.(".letter");
  if (letter) drag(event, letter); else pan(event);
}

function follow(event, onMove, onEnd) {
  const moved = (next) => { if (next.pointerId === event.pointerId) onMove(next); };
  const ended = (next) => {
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

function pan(event) {
  const start = inView();
  follow(event, (next) => {
    if (pointers.size < 2) panFrom(start, next.clientX - event.clientX, next.clientY - event.clientY);
  }, () => {});
}

/** Two fingers: closer together or further apart. */
function pinch() {
  restore();
  const [first, second] = [...pointers.values()];
  let before = Math.hypot(first.clientX - second.clientX, first.clientY - second.clientY);
  const onMove = (next) => {
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

function drag(event, letter) {
  const byLetter = document.querySelector("[name=grip]:checked").value === "letter";
  settle();
  pick(Number(letter.dataset.row), byLetter ? Number(letter.dataset.letter) : null);
  const places = snapPlaces(chosen());
  let began = false;
  follow(event, (next) => {
    if (pointers.size > 1) return;
    const [dx, dy] = [next.clientX - event.clientX, next.clientY - event.clientY];
    if (!began && Math.hypot(dx, dy) < 4) return;
    began = true;
    const { scale } = inView();
    const [right, up] = [dx / scale, -dy / scale];
    if (next.altKey) {
      hold(rounded(right), rounded(up), "");
    } else {
      const end = snapped(places, right, up, scale);
      showSnaps(end.lines);
      hold(end.right, end.up, end.note);
    }
  }, (last) => {
    if (last.type === "pointercancel") restore(); else if (began) settle();
  });
}
