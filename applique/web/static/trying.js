// What is tried on the quilt while one looks for it: the drawing of a design that nobody has taken. Nothing of it is kept, neither here
// nor by the program, until it is taken; until then all goes back to how it was.

import { askJson, Refused } from "./asking.js";
import { change, design, sent } from "./design.js";

/** @import { ChangeOptions, Design, Drawing } from "./types.js" */

/** @typedef {(copy: Design) => void} Work */

/**
 * What shows a drawing that is tried, and what shows the quilt's own again; `taken` is told that the one that is shown becomes the quilt's own.
 *
 * @typedef {{ show: (drawing: Drawing) => void, back: () => void, taken: () => void }} Quilt
 */

/** Who only passes by asks for nothing. */
const REST_MS = 90;
/** @type {Quilt} */
let quilt = { show: () => {}, back: () => {}, taken: () => {} };
/** What is to be tried next. @type {{ work: Work, refuse: (words: string) => void } | null} */
let wanted = null;
/** Counts what was wanted: an answer to what is wanted no more is left aside. */
let round = 0;
let asking = false;
let shown = false;
let timer = 0;

/** @param {Quilt} shows */
export function startTrying(shows) {
  quilt = shows;
}

/** Whether the quilt shows what is not taken. */
export const isTrying = () => shown;

/**
 * Show the quilt as it would be after `work` on a copy of the design, as soon as nothing newer is tried; `refuse(words)` is told why it
 * cannot be, or with no words that it can.
 *
 * @param {Work} work
 * @param {(words: string) => void} refuse
 */
export function tryOut(work, refuse) {
  round += 1;
  wanted = { work, refuse };
  clearTimeout(timer);
  timer = window.setTimeout(ask, REST_MS);
}

/** One question at a time, and always the newest next. */
async function ask() {
  if (asking || !wanted) return;
  const [{ work, refuse }, mine] = [wanted, round];
  wanted = null;
  asking = true;
  const copy = structuredClone(design());
  work(copy);
  try {
    const { drawing, findings } = await askJson("plan", sent(copy).data);
    if (mine === round) answered(drawing, drawing ? "" : findings.find(({ stops }) => stops)?.what ?? "", refuse);
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    if (mine === round) answered(null, error.message, refuse);
  } finally {
    asking = false;
  }
  ask();
}

/**
 * @param {Drawing | null} drawing
 * @param {string} words
 * @param {(words: string) => void} refuse
 */
function answered(drawing, words, refuse) {
  refuse(words);
  if (drawing) {
    shown = true;
    quilt.show(drawing);
  } else goBack();
}

function goBack() {
  if (!shown) return;
  shown = false;
  quilt.back();
}

function forget() {
  round += 1;
  wanted = null;
  clearTimeout(timer);
}

/** Put everything back: what was tried was never there. */
export function putBack() {
  forget();
  goBack();
}

/**
 * Take what was tried: one change of the design.
 *
 * @param {Work} work
 * @param {ChangeOptions} options
 */
export function takeTried(work, options) {
  forget();
  const before = design();
  change(work, options);
  if (design() === before) { goBack(); return; }
  if (shown) quilt.taken();
  shown = false;
}
