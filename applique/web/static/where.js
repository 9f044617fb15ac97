// Places in the design ({ path, letter, file }, as the program says them) in the words of the page.

import { t, TEXTS } from "./texts.js";

/** @import { Places, Where } from "./types.js" */

/** @type {Map<string, string>} */
const KEYS = new Map(Object.entries(TEXTS.keys));
/** @type {Map<string, string>} */
const TABLES = new Map(Object.entries(TEXTS.tables));

/**
 * What the page calls a key of a table; a row of words shares the names of the lettering. A key that there is not stands
 * as it was typed.
 *
 * @param {string} table
 * @param {string} key
 */
export function labelOf(table, key) {
  return KEYS.get(`${table}.${key}`) ?? (table === "row" ? KEYS.get(`lettering.${key}`) : null) ?? key;
}

/**
 * The row of words, from 1, that a place is in; null where it is in none.
 *
 * @param {Where} where
 */
export const rowOf = (where) => (where.path?.[0] === "row" && typeof where.path[1] === "number" ? where.path[1] : null);

/**
 * A place as the page counts rows, stated numbers and what is accepted: `places.row[n]` is the index on the page of the row that was sent
 * as n + 1.
 *
 * @param {Where} where
 * @param {Places} places
 * @returns {Where}
 */
export function onPage(where, places) {
  const [table, number, ...inside] = where.path ?? [];
  if ((table !== "row" && table !== "stated" && table !== "accepted") || typeof number !== "number") return where;
  return { ...where, path: [table, (places[table][number - 1] ?? number - 1) + 1, ...inside] };
}

/**
 * The name of a place among the fields of the page.
 *
 * @param {Where} where
 */
export const fieldOf = (where) => (where.path ?? []).join(".");

/**
 * A place in words; empty for no place in particular.
 *
 * @param {Where} where
 */
export function whereSaid(where) {
  const [table = "", ...inside] = where.path ?? [];
  const parts = where.file ? [where.file] : [];
  if (typeof table === "string" && table) {
    const numbered = typeof inside[0] === "number";
    const number = numbered ? inside.shift() : null;
    if (numbered) parts.push(t(`numbered/${table}`, { number }));
    else if (inside.length === 0 && !TABLES.has(table)) parts.push(labelOf("design", table));
    else parts.push(TABLES.get(table) ?? table);
    const key = inside.findLast((part) => typeof part === "string");
    if (typeof key === "string") parts.push(labelOf(table, key));
  }
  if (where.letter) parts.push(t("letterNumber", { number: where.letter }));
  return parts.join(", ");
}
