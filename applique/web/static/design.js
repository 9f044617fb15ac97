// The design as the page holds it, with undo and redo. Keys are those of the design file.

/** @import { ChangeOptions, Design, Entry, Path, Places, Steps } from "./types.js" */

/** @type {((whole: boolean, another: boolean) => void)[]} */
const listeners = [];
/** @typedef {{ text: string, keys: number[] }} Kept A design as it was, and the keys of its rows. */

/** @type {Kept[]} */
const undone = [];
/** @type {Kept[]} */
const done = [];
/** @type {Design} */
let current = { row: [{ text: "" }] };
let lastKey = 0;
/** A row keeps its key however it is moved about, so that what takes a while finds it again. */
let keys = [freshKey()];
/** @type {string | null} */
let lastMark = null;
let lastTime = 0;
/** Who stops typing for so long begins something new. */
const PAUSE_MS = 1500;

function freshKey() {
  lastKey += 1;
  return lastKey;
}

export const design = () => current;

/**
 * Where the row of that key is on the page; -1 where it is gone.
 *
 * @param {number | undefined} key
 */
export const indexOfRow = (key) => (key === undefined ? -1 : keys.indexOf(key));

/** @returns {Kept} */
const kept = () => ({ text: JSON.stringify(current), keys });
export const canUndo = () => done.length > 0;
export const canRedo = () => undone.length > 0;

/**
 * `listener(whole, another)` is told of every change; `whole` when forms must be drawn anew, `another` when what is
 * there now was not made of what stood there, but undone, redone or taken.
 *
 * @param {(whole: boolean, another: boolean) => void} listener
 */
export const onChange = (listener) => listeners.push(listener);

/**
 * @param {boolean} whole
 * @param {boolean} [another]
 */
function tell(whole, another = false) {
  sessionStorage.setItem("design", JSON.stringify(current));
  for (const listener of listeners) listener(whole, another);
}

/**
 * Change the design by `work` on a copy. Changes that follow one another with the same `mark` are undone as one;
 * `whole` draws the forms anew, `another` says that it is another design.
 *
 * @param {(copy: Design) => void} work
 * @param {ChangeOptions} [options]
 */
export function change(work, { mark = null, whole = false, another = false } = {}) {
  const next = structuredClone(current);
  const keyed = new Map(next.row.map((row, index) => [row, keys[index]]));
  work(next);
  const before = kept();
  if (before.text === JSON.stringify(next)) return;
  const time = performance.now();
  if (mark === null || mark !== lastMark || time - lastTime > PAUSE_MS) done.push(before);
  [lastMark, lastTime] = [mark, time];
  undone.length = 0;
  current = next;
  keys = next.row.map((row) => keyed.get(row) ?? freshKey());
  tell(whole, another);
}

/**
 * Change the design as what follows from the change before, with which it is undone.
 *
 * @param {(copy: Design) => void} work
 */
export function amend(work) {
  const next = structuredClone(current);
  work(next);
  current = next;
  tell(false);
}

/**
 * The mark of typing in a field of words: they are undone one by one.
 *
 * @param {string} field
 * @param {string} text
 */
export const markOfWord = (field, text) => `${field}-${text.trim().split(/\s+/).length}`;

/**
 * Take a whole design.
 *
 * @param {Design} next
 */
export function take(next) {
  change((copy) => {
    for (const key of Object.keys(copy)) delete byKey(copy)[key];
    Object.assign(copy, structuredClone(next));
  }, { whole: true, another: true });
}

/**
 * Take a design that the program made of what was `sent`: rows without words yet, and what is stated or accepted and not
 * said to the end, stay where they are.
 *
 * @param {Design} next
 */
export function takeCured(next) {
  const { places } = sent();
  const { row, stated = [], accepted = [], ...rest } = next;
  const [allStated, allAccepted] = [back(stated, current.stated, places.stated), back(accepted, current.accepted, places.accepted)];
  take({ ...rest, row: back(row, current.row, places.row), ...(allStated.length && { stated: allStated }), ...(allAccepted.length && { accepted: allAccepted }) });
}

/**
 * `entries` at their `places` in what the page has of them; alone where they are not as many as were sent.
 *
 * @template T
 * @param {T[]} entries
 * @param {T[] | undefined} all
 * @param {number[]} places
 */
const back = (entries, all = [], places) => (entries.length !== places.length ? entries
  : all.map((one, index) => entries[places.indexOf(index)] ?? one));

/**
 * @param {Kept[]} from
 * @param {Kept[]} to
 */
function step(from, to) {
  const next = from.pop();
  if (next === undefined) return;
  to.push(kept());
  current = JSON.parse(next.text);
  keys = next.keys;
  lastMark = null;
  tell(true, true);
}

export const undo = () => step(done, undone);
export const redo = () => step(undone, done);

/**
 * The steps that undo and redo would take, `most` of each at the most.
 *
 * @param {number} most
 * @returns {Steps}
 */
export const steps = (most) => ({ done: textsOf(done.slice(-most)), undone: textsOf(undone.slice(-most)) });

/** @param {Kept[]} list */
const textsOf = (list) => list.map(({ text }) => text);

/**
 * Go on from a design that was kept, with its steps. That is no change of the maker's. The rows of a design that was
 * here before keep their keys, others get new ones.
 *
 * @param {Design} next
 * @param {Steps} taken
 */
export function goOn(next, taken) {
  const known = new Map([...done, ...undone, kept()].map((one) => [one.text, one.keys]));
  const keyed = (/** @type {string} */ text) => ({ text, keys: known.get(text) ?? JSON.parse(text).row.map(freshKey) });
  done.splice(0, done.length, ...taken.done.map(keyed));
  undone.splice(0, undone.length, ...taken.undone.map(keyed));
  lastMark = null;
  current = next;
  keys = keyed(JSON.stringify(next)).keys;
  tell(true, true);
}

/** What may be stated of a part, by the keys of its table. */
export const STATED = ["strips", "pieces", "length", "buy", "hours"];

/** @type {(stated: object) => boolean} */
const isStated = (stated) => STATED.some((key) => byKey(stated)[key] !== undefined);

/**
 * The entries of a list that say something, and where they are in it.
 *
 * @template T
 * @param {T[]} list
 * @param {(entry: T) => unknown} says
 * @returns {[entries: T[] | undefined, places: number[]]}
 */
function saying(list, says) {
  const places = [...list.keys()].filter((index) => says(list[index]));
  return [places.length ? places.map((index) => list[index]) : undefined, places];
}

/**
 * The design as the program gets it: the rows that have words, the tables that state a number and the findings that are
 * accepted for a reason, and for each its place on the page. `of` is a copy of it with the same rows.
 */
export function sent(of = current) {
  const row = [...of.row.keys()].filter((index) => of.row[index].text.trim());
  const { stated: allStated = [], accepted: allAccepted = [], ...rest } = of;
  const [stated, ofStated] = saying(allStated, isStated);
  const [accepted, ofAccepted] = saying(allAccepted, ({ why }) => why?.trim());
  return {
    data: { ...rest, row: row.map((index) => of.row[index]), ...(stated && { stated }), ...(accepted && { accepted }) },
    /** @type {Places} */
    places: { row, stated: ofStated, accepted: ofAccepted, keys: row.map((index) => keys[index]) },
  };
}

/**
 * A table of the design as the forms see it, which know its keys from the model alone.
 *
 * @param {object} table
 * @returns {Record<string, any>}
 */
export const byKey = (table) => table;

/**
 * Set a value of a row; of its letter height and its width only the one that was said last holds.
 *
 * @param {object} row
 * @param {string} key
 * @param {string | number} value
 */
export function setSize(row, key, value) {
  const target = byKey(row);
  if (key === "cap_height") delete target.width;
  if (key === "width") delete target.cap_height;
  target[key] = value;
}

/**
 * The table of a design at a path whose indexes count from 0; an empty one where it is left out.
 *
 * @param {object} of
 * @param {Path} path
 * @returns {Record<string, any>}
 */
export const tableAt = (of, path) => path.reduce((/** @type {any} */ inner, part) => inner?.[part], of) ?? {};

/**
 * Change the table at a path by `work`, which gets the design too; it is made if it is not there, and left out when it is empty.
 *
 * @param {Path} path
 * @param {(table: Record<string, any>, copy: Design) => void} work
 * @param {ChangeOptions} [options]
 */
export const changeAt = (path, work, options) => change(workAt(path, work), options);

/**
 * What changes a design by `work` on its table at a path, which gets the design too.
 *
 * @param {Path} path
 * @param {(table: Record<string, any>, copy: Design) => void} work
 * @returns {(copy: Design) => void}
 */
export const workAt = (path, work) => (copy) => {
  const table = path.reduce((inner, part) => (inner[part] ??= {}), byKey(copy));
  work(table, copy);
  if (path.length === 1 && !Object.keys(table).length) delete byKey(copy)[path[0]];
};

/**
 * Set a value of the table at a path, or leave it out when it is empty.
 *
 * @param {Path} path
 * @param {string} key
 * @param {Entry | null} value
 * @param {ChangeOptions} [options]
 */
export const setValue = (path, key, value, options) => changeAt(path, (table) => putValue(table, key, value), options);

/**
 * @param {Record<string, any>} table
 * @param {string} key
 * @param {Entry | null} value
 */
export function putValue(table, key, value) {
  if (value === "" || value === undefined || value === null) delete table[key];
  else table[key] = value;
}

/**
 * A length as typed, with the unit of the design where none was given.
 *
 * @param {string} text
 */
export function withUnit(text) {
  const plain = text.trim();
  return /^[-−]?[\d\s.,/½¼¾⅛⅜⅝⅞-]+$/.test(plain) ? `${plain}${current.units ?? "in"}` : plain;
}

/**
 * A length of the design as people read it: a space between number and unit.
 *
 * @param {string} text
 */
export const spaced = (text) => text.replace(/(\d)(in|cm|mm|yd|ft|m)$/, "$1 $2");
