// The drawing: looking at it, and moving rows and letters on it by hand.
//
// Its frame is that of the program: inches from the upper left corner of the finished quilt, y down. While a piece is
// being dragged only its picture moves; where it ends is asked of the program, which adds the move to the design.

import { design } from "./design.js";
import { byId, draw, make, say } from "./elements.js";
import { photos } from "./photos.js";
import { t } from "./texts.js";

const REACH_PX = 9;
const QUIET_MS = 350;
const ROOM = 0.06;

let drawing = null;
let findings = [];
let view = null;
let fitted = true;
let piece = { row: 1, letter: null };
let pending = null;
let commit = () => {};

const stage = () => byId("stage");
const svg = () => byId("drawing");
const metric = () => design().units === "cm";
const steps = () => (metric() ? [2 / 25.4, 20 / 25.4, 0.5 / 25.4] : [1 / 8, 1, 1 / 32]);

/** Take hold of the drawing once; `onMove(row, letter, right, up)` hands a finished move to the program. */
export function startDrawing(onMove) {
  commit = onMove;
  new ResizeObserver(() => { if (drawing) { if (fitted) fit(); else show(); } }).observe(stage());
  svg().addEventListener("pointerdown", press);
  svg().addEventListener("keydown", keys);
  svg().addEventListener("wheel", wheel, { passive: false });
  byId("zoom-in").addEventListener("click", () => zoom(1.3));
  byId("zoom-out").addEventListener("click", () => zoom(1 / 1.3));
  byId("zoom-fit").addEventListener("click", fit);
  byId("guides").addEventListener("change", () => svg().classList.toggle("no-guides", !byId("guides").checked));
  byId("piece").addEventListener("change", (event) => choose(...readPiece(event.target.value)));
  for (const button of document.querySelectorAll("[data-move]")) {
    button.addEventListener("click", (event) => {
      const [right, up] = button.dataset.move.split(" ").map(Number);
      nudge(right, up, event);
    });
  }
  for (const radio of document.querySelectorAll("[name=grip]")) {
    radio.addEventListener("change", () => choose(piece.row, radio.value === "letter" ? firstLetter(piece.row) : null));
  }
}

const rowOf = (number) => drawing?.rows.find((row) => row.number === number);
const firstLetter = (number) => rowOf(number)?.cuts[0]?.letter ?? null;
const readPiece = (value) => { const [row, letter] = value.split(" "); return [Number(row), letter ? Number(letter) : null]; };

/** Draw what the program sent. */
export function renderDrawing(latest, found) {
  const size = drawing && `${drawing.width} ${drawing.height}`;
  drawing = latest;
  findings = found;
  const parts = [definitions(), art(), guides(), marks(), draw("g", { id: "snaps" })];
  svg().replaceChildren(...parts);
  svg().setAttribute("aria-label", t("drawingLabel", { words: drawing.rows.map((row) => row.text).join(", "), size: drawing.finished }));
  if (!rowOf(piece.row)) piece = { row: 1, letter: piece.letter && firstLetter(1) };
  if (piece.letter && !rowOf(piece.row).cuts.some((cut) => cut.letter === piece.letter)) piece.letter = firstLetter(piece.row);
  listPieces();
  if (!view || size !== `${drawing.width} ${drawing.height}`) fit(); else show();
  showPending();
  scene();
}

/** Show other findings on the drawing that there is. */
export function renderMarks(found) {
  findings = found;
  if (drawing) svg().querySelector("#marks")?.replaceWith(marks());
}

const fillOf = (fabric, color) => (photos.has(fabric) ? `url(#cloth-${[...photos.keys()].indexOf(fabric)})` : color);

function definitions() {
  return draw("defs", {}, ...[...photos.values()].map((photo, index) => draw("pattern",
    { id: `cloth-${index}`, patternUnits: "userSpaceOnUse", width: photo.wide, height: photo.wide * photo.shape },
    draw("image", { href: photo.url, width: photo.wide, height: photo.wide * photo.shape, preserveAspectRatio: "none" }))));
}

function art() {
  return draw("g", { id: "art" }, ...painted(drawing.picture));
}

/** The items of a picture as the program lists them, in their order. */
function painted({ shapes, items }) {
  return items.map((item) => draw("g", { class: item.part, "data-row": item.row, "data-letter": item.letter,
    "data-x": item.x, "data-y": item.y, transform: `translate(${item.x} ${item.y})`,
    "pointer-events": ["stitch", "quilting", "edge"].includes(item.part) && "none" },
    item.part === "letter" && grip(item),
    draw("path", { d: shapes[item.shape], transform: item.turn && `rotate(${item.turn})`,
      fill: item.fill ? fillOf(item.fabric, item.fill) : "none", stroke: item.stroke, "stroke-width": item.width,
      "stroke-opacity": item.opacity, "stroke-linejoin": item.stroke && "round" })));
}

/** What a letter is held by. */
function grip({ row, letter, x, y }) {
  const { ink } = rowOf(row).cuts.find((cut) => cut.letter === letter);
  return draw("rect", { class: "grip", x: ink[0] - x, y: ink[1] - y, width: ink[2] - ink[0], height: ink[3] - ink[1] });
}

/** Draw the lines of quilting over the drawing that there is. */
export function renderQuilting(picture) {
  for (const line of svg().querySelectorAll("#art > .quilting")) line.remove();
  svg().querySelector("#art > .edge")?.before(...painted(picture));
}

function guides() {
  const { panel } = drawing;
  const middle = panel.x + panel.width / 2;
  return draw("g", { id: "guides" },
    draw("rect", { x: panel.x + panel.margin, y: panel.y + panel.margin, width: Math.max(0, panel.width - 2 * panel.margin),
      height: Math.max(0, panel.height - 2 * panel.margin), class: "margin" }),
    draw("line", { x1: middle, x2: middle, y1: panel.y, y2: panel.y + panel.height, class: "center" }),
    ...drawing.rows.map((row) => draw("line", { x1: panel.x, x2: panel.x + panel.width, y1: row.baseline, y2: row.baseline, class: "baseline" })));
}

function spot(finding) {
  if (finding.at) return finding.at;
  const row = finding.row && rowOf(finding.row);
  if (!row) return null;
  const cut = finding.letter && row.cuts.find((one) => one.letter === finding.letter);
  const [x0, y0, x1] = (cut || row).ink;
  return cut ? [(x0 + x1) / 2, y0] : [x0, y0];
}

function marks() {
  const size = view ? 11 / view.scale : 1;
  return draw("g", { id: "marks" }, ...findings.map((finding, index) => {
    const at = spot(finding);
    return at && draw("g", { class: finding.stops ? "mark stops" : "mark", transform: `translate(${at[0]} ${at[1]}) scale(${size})` },
      draw("circle", { r: 1 }), draw("text", { "text-anchor": "middle", y: 0.38 }, String(index + 1)));
  }));
}

// Looking

/** The whole quilt in sight. */
export function fit() {
  if (!drawing) return;
  const { clientWidth, clientHeight } = svg();
  if (!clientWidth) return;
  const scale = Math.min(clientWidth / drawing.width, clientHeight / drawing.height) / (1 + 2 * ROOM);
  view = { scale, x: drawing.width / 2 - clientWidth / scale / 2, y: drawing.height / 2 - clientHeight / scale / 2 };
  fitted = true;
  show();
}

function zoom(times, clientX, clientY) {
  if (!view) return;
  const frame = svg().getBoundingClientRect();
  const px = (clientX ?? frame.left + frame.width / 2) - frame.left;
  const py = (clientY ?? frame.top + frame.height / 2) - frame.top;
  const scale = Math.min(Math.max(view.scale * times, 1), 400);
  view = { scale, x: view.x + px / view.scale - px / scale, y: view.y + py / view.scale - py / scale };
  fitted = false;
  show();
}

function wheel(event) {
  if (!view || !(event.ctrlKey || event.metaKey)) return;
  event.preventDefault();
  zoom(Math.exp(-event.deltaY / 300), event.clientX, event.clientY);
}

/** Bring a place into sight. */
export function lookAt(row, letter) {
  if (!rowOf(row)) return;
  choose(row, letter ?? null);
  const at = spot({ row, letter });
  const { clientWidth, clientHeight } = svg();
  const [wide, high] = [clientWidth / view.scale, clientHeight / view.scale];
  if (at[0] < view.x || at[0] > view.x + wide || at[1] < view.y || at[1] > view.y + high) {
    view = { ...view, x: at[0] - wide / 2, y: at[1] - high / 2 };
    show();
  }
  svg().focus();
}

function show() {
  const { clientWidth, clientHeight } = svg();
  if (!view || !clientWidth) return;
  svg().setAttribute("viewBox", `${view.x} ${view.y} ${clientWidth / view.scale} ${clientHeight / view.scale}`);
  svg().querySelector("#marks")?.replaceWith(marks());
  showChoice();
  rulers();
}

const TICKS = { in: [1 / 8, 1 / 4, 1 / 2, 1, 2, 6, 12, 24], cm: [1, 2, 5, 10, 20, 50, 100].map((mm) => mm * 2 / 25.4) };

function rulers() {
  const { panel } = drawing;
  ruler(byId("ruler-x"), view.x, panel.x + panel.width / 2, true);
  ruler(byId("ruler-y"), view.y, panel.y, false);
}

/** Ticks along one edge of the stage; zero at the center line, or at the upper finished edge of the panel. */
function ruler(element, start, zero, across) {
  const long = across ? element.clientWidth : element.clientHeight;
  const deep = across ? element.clientHeight : element.clientWidth;
  element.setAttribute("viewBox", across ? `0 0 ${long} ${deep}` : `0 0 ${deep} ${long}`);
  const units = metric() ? "cm" : "in";
  const inch = metric() ? 1 / 2.54 : 1;
  const fine = TICKS[units].find((step) => step * view.scale >= 7) ?? TICKS[units].at(-1);
  const named = [1, 2, 5, 6, 10, 12, 20, 24, 50, 60, 100].map((count) => count * inch)
    .find((step) => step * view.scale >= 46 && Math.abs(step / fine - Math.round(step / fine)) < 1e-6) ?? fine * 10;
  const parts = [];
  for (let index = Math.ceil((start - zero) / fine); (zero + index * fine - start) * view.scale < long; index += 1) {
    const at = (zero + index * fine - start) * view.scale;
    const value = index * fine;
    const whole = Math.abs(value / named - Math.round(value / named)) < 1e-6;
    const length = whole ? deep * 0.45 : deep * 0.22;
    parts.push(draw("line", across ? { x1: at, x2: at, y1: deep, y2: deep - length } : { x1: deep, x2: deep - length, y1: at, y2: at }));
    if (whole) {
      const words = String(Math.round(Math.abs(value) / inch));
      parts.push(draw("text", across ? { x: at, y: deep * 0.44, "text-anchor": "middle" }
        : { "text-anchor": "middle", transform: `translate(${deep * 0.44} ${at}) rotate(-90)` }, words));
    }
  }
  element.replaceChildren(...parts);
}

// Choosing

function listPieces() {
  const list = byId("piece");
  list.replaceChildren(...drawing.rows.flatMap((row) => [
    make("option", { value: String(row.number) }, t("pieceRow", row)),
    ...row.cuts.map((cut) => make("option", { value: `${row.number} ${cut.letter}` },
      `\u2003${t("pieceLetter", { ...cut, number: row.number })}`)),
  ]));
  list.value = pieceValue();
}

const pieceValue = () => (piece.letter ? `${piece.row} ${piece.letter}` : String(piece.row));
const pieceName = () => byId("piece").selectedOptions[0]?.textContent.trim() ?? "";

function choose(row, letter) {
  if (pending && (pending.row !== row || pending.letter !== letter)) settle();
  piece = { row, letter };
  byId("piece").value = pieceValue();
  document.querySelector(`[name=grip][value=${letter ? "letter" : "row"}]`).checked = true;
  showChoice();
}

/** The row and letter that moves apply to. */
export const chosen = () => (drawing ? { ...piece } : null);

function inkOf({ row, letter }) {
  const found = rowOf(row);
  return (letter ? found?.cuts.find((cut) => cut.letter === letter) : found)?.ink;
}

function showChoice() {
  svg().querySelector("#choice")?.remove();
  const ink = drawing && inkOf(piece);
  if (!ink || !view) return;
  const room = 5 / view.scale;
  const { right = 0, up = 0 } = pending ?? {};
  svg().append(draw("rect", { id: "choice", x: ink[0] - room + right, y: ink[1] - room - up,
    width: ink[2] - ink[0] + 2 * room, height: ink[3] - ink[1] + 2 * room }));
}

// Moving

function fraction(inches) {
  if (metric()) return `${Math.round(Math.abs(inches) * 254) / 100} cm`;
  const count = Math.round(Math.abs(inches) * 32);
  let [top, bottom] = [count % 32, 32];
  while (top && top % 2 === 0) { top /= 2; bottom /= 2; }
  return `${[Math.floor(count / 32) || "", top ? `${top}/${bottom}` : ""].filter(Boolean).join(" ") || 0} in`;
}

function distance(right, up) {
  const parts = [];
  if (Math.abs(right) > 1e-4) parts.push(`${fraction(right)} ${t(right > 0 ? "right" : "left")}`);
  if (Math.abs(up) > 1e-4) parts.push(`${fraction(up)} ${t(up > 0 ? "up" : "down")}`);
  return parts.join(", ") || t("noMove");
}

function showPending(note = "") {
  const output = byId("distance");
  output.hidden = !pending;
  if (!pending) { showChoice(); return; }
  const moving = pending.letter ? `[data-row="${pending.row}"][data-letter="${pending.letter}"]` : `[data-row="${pending.row}"]`;
  for (const piece of svg().querySelectorAll(`#art > ${moving}`)) shift(piece, pending.right, -pending.up);
  showChoice();
  output.textContent = [distance(pending.right, pending.up), note].filter(Boolean).join(" · ");
  const ink = inkOf(piece);
  const frame = svg().getBoundingClientRect();
  const table = stage().getBoundingClientRect();
  const x = (((ink[0] + ink[2]) / 2 + pending.right) - view.x) * view.scale + frame.left - table.left;
  const y = (ink[1] - pending.up - view.y) * view.scale + frame.top - table.top - 14;
  output.style.left = `${Math.min(Math.max(x, 90), table.width - 90)}px`;
  output.style.top = `${Math.max(y, 50)}px`;
}

function shift(piece, right, down) {
  piece.setAttribute("transform", `translate(${Number(piece.dataset.x) + right} ${Number(piece.dataset.y) + down})`);
}

function nudge(right, up, event) {
  if (!drawing) return;
  const [step, big, fine] = steps();
  const size = event.altKey ? fine : event.shiftKey ? big : step;
  pending ??= { ...piece, right: 0, up: 0 };
  pending.right += right * size;
  pending.up += up * size;
  showPending();
  clearTimeout(pending.timer);
  pending.timer = setTimeout(settle, QUIET_MS);
}

/** Hand the finished move to the program. */
export function settle() {
  if (!pending) return;
  const move = pending;
  pending = null;
  clearTimeout(move.timer);
  byId("distance").hidden = true;
  svg().querySelector("#snaps")?.replaceChildren();
  if (Math.abs(move.right) < 1e-4 && Math.abs(move.up) < 1e-4) { restore(); return; }
  say(t("moved", { piece: pieceName(), distance: distance(move.right, move.up) }));
  commit(move.row, move.letter, length(move.right), length(move.up));
}

const length = (inches) => (metric() ? `${(inches * 25.4).toFixed(2)}mm` : `${Number(inches.toFixed(5))}in`);

/** Put the picture back where the last drawing had it. */
export function restore() {
  pending = null;
  byId("distance").hidden = true;
  if (!drawing) return;
  for (const piece of svg().querySelectorAll("#art > [data-row]")) shift(piece, 0, 0);
  showChoice();
}

const ARROWS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };

function keys(event) {
  if (!drawing) return;
  if (event.key in ARROWS) {
    event.preventDefault();
    nudge(...ARROWS[event.key], event);
  } else if (event.key === "PageDown" || event.key === "PageUp") {
    event.preventDefault();
    const list = byId("piece");
    const next = (list.selectedIndex + (event.key === "PageDown" ? 1 : list.length - 1)) % list.length;
    choose(...readPiece(list.options[next].value));
    say(pieceName());
  } else if (event.key === "Escape") restore();
  else if (event.key === "Enter") settle();
  else if (event.key === "+" || event.key === "=") zoom(1.3);
  else if (event.key === "-") zoom(1 / 1.3);
  else if (event.key === "0") fit();
}

const pointers = new Map();

function press(event) {
  if (!drawing || (event.pointerType === "mouse" && event.button > 1)) return;
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
  const start = { ...view };
  follow(event, (next) => {
    if (pointers.size > 1) return;
    view = { ...start, x: start.x - (next.clientX - event.clientX) / start.scale, y: start.y - (next.clientY - event.clientY) / start.scale };
    fitted = false;
    show();
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
  choose(Number(letter.dataset.row), byLetter ? Number(letter.dataset.letter) : null);
  const places = snapPlaces();
  let began = false;
  follow(event, (next) => {
    if (pointers.size > 1) return;
    const [dx, dy] = [next.clientX - event.clientX, next.clientY - event.clientY];
    if (!began && Math.hypot(dx, dy) < 4) return;
    began = true;
    pending = { ...piece, right: dx / view.scale, up: -dy / view.scale };
    const note = next.altKey ? round() : snap(places);
    showPending(note);
  }, (last) => {
    if (last.type === "pointercancel") restore(); else if (began) settle();
  });
}

/** What the program stores and the words show: whole steps of the finest move. */
const inSteps = (inches) => Math.round(inches / steps()[2]) * steps()[2];

function round() {
  const fine = metric() ? 1 / 25.4 : 1 / 16;
  pending.right = Math.round(pending.right / fine) * fine;
  pending.up = Math.round(pending.up / fine) * fine;
  return "";
}

/** Where the chosen piece would come to lie well: offsets across and up, each with its reason and a line to show. */
function snapPlaces() {
  const { panel } = drawing;
  const [x0, y0, x1, y1] = inkOf(piece);
  const row = rowOf(piece.row);
  const across = [];
  const up = [{ by: 0, why: "snapBase", y: row.baseline }];
  const middle = panel.x + panel.width / 2;
  across.push({ by: middle - (x0 + x1) / 2, why: "snapCenter", x: middle });
  const others = drawing.rows.flatMap((one) => (one === row && !piece.letter ? [] : one.cuts.map((cut) => [one, cut])))
    .filter(([one, cut]) => !(one === row && cut.letter === piece.letter));
  const edges = new Set(others.flatMap(([, cut]) => [cut.ink[0], cut.ink[2]]));
  for (const edge of edges) {
    across.push({ by: edge - x0, why: "snapEdge", x: edge }, { by: edge - x1, why: "snapEdge", x: edge });
  }
  if (piece.letter) {
    const index = row.cuts.findIndex((cut) => cut.letter === piece.letter);
    const [before, after] = [row.cuts[index - 1], row.cuts[index + 1]];
    if (before && after) {
      across.push({ by: (before.ink[2] + after.ink[0] - x0 - x1) / 2, why: "snapGap", x: (before.ink[2] + after.ink[0]) / 2 });
    }
    for (let place = 1; place < row.cuts.length; place += 1) {
      if (place === index || place === index + 1) continue;
      const gap = row.cuts[place].ink[0] - row.cuts[place - 1].ink[2];
      if (before) across.push({ by: before.ink[2] + gap - x0, why: "snapGap", x: before.ink[2] + gap });
      if (after) across.push({ by: after.ink[0] - gap - x1, why: "snapGap", x: after.ink[0] - gap });
    }
    for (const [, cut] of others) if (Math.abs(cut.y - row.baseline) > 1e-6) up.push({ by: y1 - cut.ink[3], why: "snapEdge", y: cut.ink[3] });
  } else {
    const place = drawing.rows.indexOf(row);
    const top = drawing.rows[place - 1]?.ink[3] ?? panel.y;
    const bottom = drawing.rows[place + 1]?.ink[1] ?? panel.y + panel.height;
    up.push({ by: -((top + bottom) / 2 - (y0 + y1) / 2), why: "snapGap", y: (top + bottom) / 2 });
  }
  return { across, up };
}

function snap(places) {
  const reach = REACH_PX / view.scale;
  const nearest = (list, value) => list.map((one) => ({ ...one, off: Math.abs(one.by - value) }))
    .filter((one) => one.off < reach).sort((a, b) => a.off - b.off)[0];
  const [side, rise] = [nearest(places.across, pending.right), nearest(places.up, pending.up)];
  round();
  if (side) pending.right = inSteps(side.by);
  if (rise) pending.up = inSteps(rise.by);
  const { panel } = drawing;
  svg().querySelector("#snaps").replaceChildren(
    ...(side ? [draw("line", { x1: side.x, x2: side.x, y1: panel.y, y2: panel.y + panel.height })] : []),
    ...(rise ? [draw("line", { x1: panel.x, x2: panel.x + panel.width, y1: rise.y, y2: rise.y })] : []));
  return [side && t(side.why), rise && Math.abs(pending.up) > 1e-6 && t(rise.why)].filter(Boolean).join(", ");
}

// On the wall

function scene() {
  const { scene: wall } = drawing;
  byId("scene").replaceChildren(draw("svg", { viewBox: `-4 -4 ${wall.width + 8} ${wall.height + 8}`, role: "img",
    "aria-label": t("sceneLabel", { things: wall.things.join(", ") }) },
    ...painted(wall.picture),
    draw("g", { transform: `translate(${wall.quilt[0]} ${wall.quilt[1]})` }, draw("use", { href: "#art" }))));
}
