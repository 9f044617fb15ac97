// A design file written by the browser itself, for when the program is not there to write it.

/** @import { Design } from "./types.js" */

/** @param {string} key */
const named = (key) => (/^[\w-]+$/.test(key) ? key : quoted(key));

/**
 * A basic string: what JSON escapes, and the one character more that TOML forbids (TOML 1.0, String).
 *
 * @param {string} text
 */
const quoted = (text) => JSON.stringify(text).replaceAll("\x7f", "\\u007F");

/** @type {(value: unknown) => value is Record<string, unknown>} */
const isTable = (value) => typeof value === "object" && value !== null && !Array.isArray(value);

/** @type {(value: unknown) => value is Record<string, unknown>[]} */
const isTables = (value) => Array.isArray(value) && value.length > 0 && value.every(isTable);

/** @param {object} table */
const entries = (table) => Object.entries(table).filter(([, value]) => value !== undefined && value !== null);

/**
 * @param {unknown} value
 * @returns {string}
 */
function inline(value) {
  if (Array.isArray(value)) return `[${value.map(inline).join(", ")}]`;
  if (isTable(value)) return `{ ${entries(value).map(line).join(", ")} }`;
  return typeof value === "string" ? quoted(value) : String(value);
}

/** @param {[string, unknown]} entry */
const line = ([key, value]) => `${named(key)} = ${inline(value)}`;

/**
 * The design as the text of its file.
 *
 * @param {Design} design
 */
export function tomlOf(design) {
  const all = entries(design);
  const blocks = [all.filter(([, value]) => !isTable(value) && !isTables(value)).map(line)];
  for (const [key, value] of all) {
    if (isTable(value)) blocks.push([`[${named(key)}]`, ...entries(value).map(line)]);
    else if (isTables(value)) for (const one of value) blocks.push([`[[${named(key)}]]`, ...entries(one).map(line)]);
  }
  return `${blocks.filter((block) => block.length).map((block) => block.join("\n")).join("\n\n")}\n`;
}
