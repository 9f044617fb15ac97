// Places in the design ({ path, letter, file }, as the program says them) in the words of the page.

import { t, TEXTS } from "./texts.js";

/** What the page calls a key of a table; a row of words shares the names of the lettering. A key that there is not stands as typed. */
export function labelOf(table, key) {
  return TEXTS.keys[`${table}.${key}`] ?? (table === "row" ? TEXTS.keys[`lettering.${key}`] : null) ?? key;
}

/** The row of words, from 1, that a place is in; null where it is in none. */
export const rowOf = (where) => (where.path?.[0] === "row" && typeof where.path[1] === "number" ? where.path[1] : null);

/** A place with its row as the page counts rows: `places[n]` is the index on the page of the row that was sent as n + 1. */
export function onPage(where, places) {
  const row = rowOf(where);
  if (row === null) return where;
  return { ...where, path: ["row", (places[row - 1] ?? row - 1) + 1, ...where.path.slice(2)] };
}

/** The name of a place among the fields of the page. */
export const fieldOf = (where) => (where.path ?? []).join(".");

/** A place in words; empty for no place in particular. */
export function whereSaid(where) {
  const [table, ...inside] = where.path ?? [];
  const parts = where.file ? [where.file] : [];
  if (table) {
    const numbered = typeof inside[0] === "number";
    const number = numbered ? inside.shift() : null;
    if (numbered) parts.push(t(`numbered/${table}`, { number }));
    else if (inside.length === 0 && !TEXTS.tables[table]) parts.push(labelOf("design", table));
    else parts.push(TEXTS.tables[table] ?? table);
    const keys = inside.filter((part) => typeof part === "string");
    if (keys.length) parts.push(labelOf(table, keys.at(-1)));
  }
  if (where.letter) parts.push(t("letterNumber", { number: where.letter }));
  return parts.join(", ");
}
