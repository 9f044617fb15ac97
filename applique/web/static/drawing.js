// The drawing itself: the quilt as the program sent it last, its guides, and the same quilt on the wall.
//
// Its frame is that of the program: inches from the upper left corner of the finished quilt, y down.

import { arrange, byId, draw, setAttribute } from "./elements.js";
import { urlOf } from "./photos.js";
import { t } from "./texts.js";

/** @import { Drawing, Painted, Picture, Piece } from "./types.js" */

/** @type {Drawing | null} */
let drawing = null;

/** @type {Picture | null} */
let quilting = null;

/** What the program sent last; null before there were words. */
export const drawn = () => drawing;

/**
 * A row of the drawing by its number.
 *
 * @param {number} number
 */
export const rowOf = (number) => drawing?.rows.find((row) => row.number === number);

/**
 * The first letter of a row; null where it has none.
 *
 * @param {number} number
 */
export const firstLetter = (number) => rowOf(number)?.cuts[0]?.letter ?? null;

/**
 * A letter of a row; one that is joined up stands for its word.
 *
 * @param {number} number
 * @param {number} letter
 */
export const cutOf = (number, letter) => rowOf(number)?.cuts.find((cut) => cut.letter === letter);

/**
 * The box around a row, or around one letter of it.
 *
 * @param {Piece} piece
 */
export const inkOf = ({ row, letter }) => (letter ? cutOf(row, letter) : rowOf(row))?.ink;

/**
 * Draw what the program sent. What lies there already and looks the same stays the same element, so that a key costs the
 * browser no more than what it changes. Guides and snaps lie over it in a drawing of their own, which a browser paints alone.
 *
 * @param {Drawing} latest
 */
export function drawQuilt(latest) {
  if (latest !== drawing) quilting = null;
  drawing = latest;
  const svg = byId("drawing");
  if (!svg.querySelector("#art")) {
    laid = new Map();
    svg.replaceChildren(...["defs", "shade", "art"].map((id) => (id === "defs" ? draw("defs") : draw("g", { id }))));
  }
  renew(svg.querySelector("defs"), latest.photos.map((photo) => [photo, urlOf(photo.photo)]), () => definitions(latest));
  renew(byId("guide-lines"), [latest.panel, latest.rows.map((row) => row.line)], () => guides(latest));
  drawArt();
  svg.setAttribute("aria-label", t("drawingLabel", { words: latest.rows.map((row) => row.text).join(", "), size: latest.finished }));
  drawScene();
}

/** What a part of the drawing was made of, to make it anew only of something else. @type {WeakMap<Element, string>} */
const madeOf = new WeakMap();

/**
 * @param {Element | null} part
 * @param {unknown} from what `content` is made of
 * @param {() => Element[]} content
 */
function renew(part, from, content) {
  const now = JSON.stringify(from);
  if (!part || madeOf.get(part) === now) return;
  madeOf.set(part, now);
  part.replaceChildren(...content());
}

/**
 * The photo of a fabric once the page has it, and its color until then.
 *
 * @param {string} fabric
 * @param {string} color
 */
function fillOf(fabric, color) {
  const index = drawing?.photos.findIndex((shown) => shown.fabric === fabric && urlOf(shown.photo)) ?? -1;
  return index < 0 ? color : `url(#cloth-${index})`;
}

/** @param {Drawing} drawing */
const definitions = ({ photos }) => photos.map(({ photo, width, height }, index) => draw("pattern",
  { id: `cloth-${index}`, patternUnits: "userSpaceOnUse", width, height },
  draw("image", { href: urlOf(photo), width, height, preserveAspectRatio: "none" })));

/** The items that lie there, by what they look like wherever they lie. @type {Map<string, SVGElement[]>} */
let laid = new Map();

/** Lay out the picture, and over it the lines of quilting that there are. */
function drawArt() {
  const [svg, free] = [byId("drawing"), laid];
  const [art, shade] = [svg.querySelector("#art"), svg.querySelector("#shade")];
  if (!drawing || !art || !shade) return;
  putDown();
  laid = new Map();
  const { shapes, items } = drawing.picture;
  const edge = items.find((item) => item.part === "edge");
  const above = edge ? items.indexOf(edge) : items.length;
  const nodes = lay(drawing.picture, free, laid);
  arrange(art, [...nodes.slice(0, above), ...(quilting ? lay(quilting, free, laid) : []), ...nodes.slice(above)]);
  const [around, x, y] = edge ? [shapes[edge.shape], edge.x, edge.y] : [`M0 0H${drawing.width}V${drawing.height}H0Z`, 0, 0];
  renew(shade, [around, x, y], () => SHADES.map((width) =>
    draw("path", { d: around, transform: `translate(${x} ${y + SHADE_DOWN})`, "stroke-width": width })));
}

/** Inches by which the quilt's shade on the table is lower than the quilt, and by which it is wider, softly: layer on layer. */
const [SHADE_DOWN, SHADES] = [0.25, [0.1, 0.5, 0.9, 1.3]];

/**
 * Draw the lines of quilting over the drawing that there is; they come later, with the numbers.
 *
 * @param {Picture} latest
 */
export function drawQuilting(latest) {
  quilting = latest;
  drawArt();
}

/**
 * The items of a picture as the program lists them, in their order and at their places: elements that are `free` where
 * they look the same. What there is then is noted in `kept`.
 *
 * @param {Picture} picture
 * @param {Map<string, SVGElement[]>} free
 * @param {Map<string, SVGElement[]>} kept
 */
function lay({ shapes, items }, free, kept) {
  return items.map((item) => {
    const fill = item.fill ? fillOf(item.fabric ?? "", item.fill) : "none";
    const hold = item.part === "letter" ? grip(item) : null;
    const own = JSON.stringify([{ ...item, x: 0, y: 0, shape: "" }, fill, hold]) + shapes[item.shape];
    const node = free.get(own)?.pop() ?? painted(item, shapes[item.shape], fill, hold);
    const alike = kept.get(own);
    if (alike) alike.push(node); else kept.set(own, [node]);
    setAttribute(node, "data-x", String(item.x));
    setAttribute(node, "data-y", String(item.y));
    setAttribute(node, "transform", `translate(${item.x} ${item.y})`);
    return node;
  });
}

/**
 * @param {Painted} item
 * @param {string} shape
 * @param {string} fill
 * @param {Hold | null} hold
 */
const painted = (item, shape, fill, hold) => draw("g", { class: item.part, "data-row": item.row, "data-letter": item.letter, "data-border": item.border,
  "data-fabric": item.border && item.fabric, "pointer-events": ["stitch", "quilting", "edge"].includes(item.part) && "none" },
  hold && draw("rect", { class: "grip", ...hold }),
  draw("path", { d: shape, transform: item.turn && `rotate(${item.turn})`, fill, stroke: item.stroke, "stroke-width": item.width,
    "stroke-opacity": item.opacity, "stroke-linejoin": item.stroke && "round" }));

/** @typedef {{ x: number, y: number, width: number, height: number }} Hold */

/**
 * What a letter is held by.
 *
 * @param {Painted} letter
 * @returns {Hold | null}
 */
function grip({ row, letter, x, y }) {
  const ink = row && letter ? cutOf(row, letter)?.ink : undefined;
  return ink ? { x: fine(ink[0] - x), y: fine(ink[1] - y), width: fine(ink[2] - ink[0]), height: fine(ink[3] - ink[1]) } : null;
}

/** @param {number} inches */
const fine = (inches) => Math.round(inches * 1e4) / 1e4;

/** @param {Drawing} drawing */
function guides(drawing) {
  const { panel } = drawing;
  const middle = panel.x + panel.width / 2;
  return [
    ...panel.within.map((line) => draw("polygon", { points: line.join(" "), class: "margin" })),
    draw("line", { x1: middle, x2: middle, y1: panel.y, y2: panel.y + panel.height, class: "center" }),
    ...drawing.rows.map((row) => draw("polyline", { points: row.line.join(" "), class: "baseline" })),
  ];
}

/**
 * Draw the quilt on the wall, where that shows: a browser would keep a second one up to date with every key.
 *
 * @param {{ printing?: boolean }} [options] on paper everything is unfolded
 */
export function drawScene({ printing = false } = {}) {
  const shows = printing || !byId("buy-sheet").hidden;
  byId("scene").replaceChildren(...(drawing && shows ? [onTheWall(drawing)] : []));
}

/** @param {Drawing} drawing */
function onTheWall({ scene: wall }) {
  return draw("svg", { viewBox: `-4 -4 ${wall.width + 8} ${wall.height + 8}`, role: "img",
    "aria-label": t("sceneLabel", { things: wall.things.join(", ") }) },
    ...lay(wall.picture, new Map(), new Map()),
    draw("g", { transform: `translate(${wall.quilt[0]} ${wall.quilt[1]})` }, draw("use", { href: "#art" })));
}

/** The elements of the piece that is being moved, looked for once, and all that lie elsewhere than the drawing has them. */
/** @type {{ selector: string, groups: SVGElement[] }} */
let held = { selector: "", groups: [] };
/** @type {Set<SVGElement>} */
const lifted = new Set();

/**
 * Show a row, or one letter of it, so far from where the drawing has it.
 *
 * @param {Piece} piece
 * @param {number} right
 * @param {number} up
 */
export function showMoved({ row, letter }, right, up) {
  const selector = letter ? `#art > [data-row="${row}"][data-letter="${letter}"]` : `#art > [data-row="${row}"]`;
  if (held.selector !== selector) held = { selector, groups: [...byId("drawing").querySelectorAll(selector)].filter((one) => one instanceof SVGElement) };
  for (const group of held.groups) {
    lifted.add(group);
    group.style.translate = `${fine(right)}px ${fine(-up)}px`;
  }
}

/** Show every piece where the drawing has it. */
export function putDown() {
  for (const group of lifted) group.style.translate = "";
  lifted.clear();
  held = { selector: "", groups: [] };
}
