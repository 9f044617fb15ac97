// Which moves by hand were made at which size of the letters, so that they can follow when that changes.

/** @import { Moves, Row } from "./types.js" */

/**
 * As JSON: moves as they were made at `height`, and as they stood at every other.
 *
 * @typedef {{ height: string, moves: string, stood: Map<string, string> }} Made
 */

/** @type {Map<number, Made>} */
const made = new Map();

/**
 * @param {Row} row
 * @returns {Moves}
 */
export const movesOf = ({ nudge, right, up }) => ({ nudge, right, up });

/**
 * The row of that key was moved by hand while its capitals were so high.
 *
 * @param {number} key
 * @param {Row} row
 * @param {string | undefined} height
 */
export function noteMoves(key, row, height) {
  const moves = JSON.stringify(movesOf(row));
  if (height) made.set(key, { height, moves, stood: new Map([[height, moves]]) });
}

/**
 * The moves of a row as they were made, and the height of its capitals then, where they have not yet followed the height
 * that there is now. Moves that came some other way were made at the height at which they are seen first.
 *
 * @param {number} key
 * @param {Row} row
 * @param {string} height
 * @returns {{ height: string, moves: Moves } | null}
 */
export function movesToFollow(key, row, height) {
  const now = JSON.stringify(movesOf(row));
  const known = made.get(key);
  if (now === "{}" || ![...known?.stood.values() ?? []].includes(now)) {
    noteMoves(key, row, height);
    return null;
  }
  if (!known || known.stood.get(height) === now) return null;
  return { height: known.height, moves: JSON.parse(known.moves) };
}

/**
 * @param {number} key
 * @param {Moves} moves
 * @param {string} height
 */
export function noteFollowed(key, moves, height) {
  made.get(key)?.stood.set(height, JSON.stringify(moves));
}
