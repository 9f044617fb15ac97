// The design as the page holds it, with undo and redo. Keys are those of the design file.

const listeners = [];
const undone = [];
const done = [];
let current = { row: [{ text: "" }] };
let lastMark = null;

export const design = () => current;
export const canUndo = () => done.length > 0;
export const canRedo = () => undone.length > 0;

/** `listener(whole)` is told of every change; `whole` when forms must be drawn anew. */
export const onChange = (listener) => listeners.push(listener);

function tell(whole) {
  sessionStorage.setItem("design", JSON.stringify(current));
  for (const listener of listeners) listener(whole);
}

/**
 * Change the design by `work` on a copy. Changes that follow one another with the same `mark` are undone as one;
 * `whole` draws the forms anew.
 */
export function change(work, { mark = null, whole = false } = {}) {
  const next = structuredClone(current);
  work(next);
  const before = JSON.stringify(current);
  if (before === JSON.stringify(next)) return;
  if (mark === null || mark !== lastMark) done.push(before);
  lastMark = mark;
  undone.length = 0;
  current = next;
  tell(whole);
}

/** Take a whole design. */
export function take(next, { fresh = false } = {}) {
  if (fresh) { done.length = 0; undone.length = 0; lastMark = null; current = next; tell(true); return; }
  change((copy) => {
    for (const key of Object.keys(copy)) delete copy[key];
    Object.assign(copy, structuredClone(next));
  }, { whole: true });
}

function step(from, to) {
  if (!from.length) return;
  to.push(JSON.stringify(current));
  current = JSON.parse(from.pop());
  lastMark = null;
  tell(true);
}

export const undo = () => step(done, undone);
export const redo = () => step(undone, done);

/** The rows that have words, as the program gets them, and for each its place on the page. */
export function sent() {
  const kept = current.row.map((row, index) => [row, index]).filter(([row]) => row.text.trim());
  return {
    data: { ...current, row: kept.map(([row]) => row) },
    places: kept.map(([, index]) => index),
  };
}

/** A value under a table of the design; undefined where it stands at its default. */
export const valueOf = (table, key) => (table ? current[table]?.[key] : current[key]);

/** Set a value of a table, or leave it out when it is empty. */
export function setValue(table, key, value, options) {
  change((copy) => {
    const target = table ? (copy[table] ??= {}) : copy;
    if (value === "" || value === undefined || value === null) delete target[key];
    else target[key] = value;
    if (table && !Object.keys(target).length) delete copy[table];
  }, options);
}

/** A length as typed, with the unit of the design where none was given. */
export function withUnit(text) {
  const plain = text.trim();
  return /^[-−]?[\d\s.,/½¼¾⅛⅜⅝⅞-]+$/.test(plain) ? `${plain}${current.units ?? "in"}` : plain;
}
