// Lengths of moves: the steps of a design's units, and how they are said to the maker and to the program.

import { design, spaced } from "./design.js";
import { decimal, t } from "./texts.js";

/** Whether the design is in centimeters. */
export const isMetric = () => design().units === "cm";

/** A step of an arrow key by itself, with Shift and with Alt, in inches. */
export const steps = () => (isMetric() ? [2 / 25.4, 20 / 25.4, 0.5 / 25.4] : [1 / 8, 1, 1 / 32]);

/**
 * What the program stores and the words show: whole steps of the finest move.
 *
 * @param {number} inches
 */
export const inSteps = (inches) => Math.round(inches / steps()[2]) * steps()[2];

/**
 * A drag by eye alone, to the next sixteenth of an inch or millimeter.
 *
 * @param {number} inches
 */
export function rounded(inches) {
  const fine = isMetric() ? 1 / 25.4 : 1 / 16;
  return Math.round(inches / fine) * fine;
}

/**
 * How long a move is, as `as_length` of the program says it to 1/32 in, or to a tenth of a millimeter.
 *
 * @param {number} inches not below 0
 * @param {boolean} metric
 */
export function lengthSaid(inches, metric) {
  if (metric) return t("measures/cm", { number: decimal(Math.round(inches * 254) / 100, 2) });
  const count = Math.round(inches * 32);
  let [top, bottom] = [count % 32, 32];
  while (top && top % 2 === 0) { top /= 2; bottom /= 2; }
  const parts = [Math.floor(count / 32), top && `${top}/${bottom}`].filter(Boolean);
  return t("measures/in", { number: parts.join(" ") || "0" });
}

/**
 * A length that the design leaves open, as its model has it in inches, said in the units of the design.
 *
 * @param {string} text
 */
export function openLength(text) {
  const inches = text.match(/^([\d./ ]+) ?in$/)?.[1].trim().split(" ").map((part) => part.split("/").map(Number));
  return inches ? lengthSaid(inches.reduce((sum, [top, bottom = 1]) => sum + top / bottom, 0), isMetric()) : spaced(text);
}

/** @param {number} move */
const said = (move) => lengthSaid(Math.abs(move), isMetric());

/**
 * How far a move goes, in words.
 *
 * @param {number} right
 * @param {number} up
 */
export function distance(right, up) {
  const parts = [];
  if (Math.abs(right) > 1e-4) parts.push(t(right > 0 ? "right" : "left", { length: said(right) }));
  if (Math.abs(up) > 1e-4) parts.push(t(up > 0 ? "up" : "down", { length: said(up) }));
  return parts.join(", ") || t("noMove");
}

/**
 * A length as the program reads it.
 *
 * @param {number} inches
 */
export const length = (inches) => (isMetric() ? `${(inches * 25.4).toFixed(2)}mm` : `${Number(inches.toFixed(5))}in`);
