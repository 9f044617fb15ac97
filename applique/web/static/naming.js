// The names of fabrics, wherever a design says them.

import { byKey, design } from "./design.js";
import { t } from "./texts.js";

/** @import { Design, Fabric } from "./types.js" */

export const fabricNames = () => (design().fabric ?? []).map((fabric) => fabric.name);

/** The keys that name one fabric; `fabrics` names several. */
export const FABRIC_KEYS = ["fabric", "corner_fabric"];

/**
 * Every table inside `value`, itself first.
 *
 * @param {unknown} value
 * @returns {Generator<Record<string, any>>}
 */
function* tables(value) {
  if (typeof value !== "object" || value === null) return;
  if (!Array.isArray(value)) yield byKey(value);
  for (const inside of Object.values(value)) yield* tables(inside);
}

/**
 * Call the fabric `before` by another name in all of `copy`, and where it names itself.
 *
 * @param {Design} copy
 * @param {string} before
 * @param {string} name
 */
export function renameFabric(copy, before, name) {
  for (const fabric of copy.fabric ?? []) if (fabric.name === before) fabric.name = name;
  for (const table of tables(copy)) {
    for (const key of FABRIC_KEYS) if (table[key] === before) table[key] = name;
    if (Array.isArray(table.fabrics)) table.fabrics = table.fabrics.map((one) => (one === before ? name : one));
  }
}

/**
 * Leave a fabric that is no more out of all of `copy`; what was stated of it, and borders of it alone, go with it.
 *
 * @param {Design} copy
 * @param {string} name
 */
export function forgetFabric(copy, name) {
  copy.stated = copy.stated?.filter((stated) => stated.fabric !== name);
  if (!copy.stated?.length) delete copy.stated;
  for (const table of tables(copy)) {
    for (const key of FABRIC_KEYS) if (table[key] === name) delete table[key];
    if (Array.isArray(table.fabrics)) table.fabrics = table.fabrics.filter((one) => one !== name);
  }
  copy.border = copy.border?.filter((border) => border.fabrics.length);
  if (!copy.border?.length) delete copy.border;
}

/** Colors for fabrics that are new, in turn. */
export const FRESH = ["#1f4e5f", "#c8553d", "#e0b04c", "#5b7553", "#8d6a9f", "#d9cbb3", "#34495e", "#b5838d"];

/**
 * A fabric of a new name and another color.
 *
 * @param {Design} copy
 * @returns {Fabric}
 */
export function freshFabric(copy) {
  const names = (copy.fabric ?? []).map((fabric) => fabric.name);
  let number = names.length + 1;
  while (names.includes(t("newFabric", { number }))) number += 1;
  return { name: t("newFabric", { number }), color: FRESH[names.length % FRESH.length] };
}

/**
 * The fabrics of a copy of the design, to be changed.
 *
 * @param {Design} copy
 */
export const fabricsOf = (copy) => (copy.fabric ??= []);
