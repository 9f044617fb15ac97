// Words written on the quilt itself: a field over their row, at its place and size, for as long as they are being typed.

import { chosen, keyOf } from "./choosing.js";
import { change, design, indexOfRow, markOfWord } from "./design.js";
import { inkOf } from "./drawing.js";
import { byId, make } from "./elements.js";
import { pick } from "./moves.js";
import { t } from "./texts.js";
import { inView, stageSize } from "./view.js";
import { pasteRows } from "./words.js";

/** The field is no smaller than this, in pixels, however small the row is on the screen. */
const LEAST = { width: 160, height: 44 };

/** The row that is being written, by its key, and its words before. @type {{ key: number, before: string } | null} */
let writing = null;

/**
 * Open the field over a row of the drawing.
 *
 * @param {number} row
 */
export function writeRow(row) {
  const key = keyOf(row);
  const index = indexOfRow(key);
  if (index < 0) return;
  pick({ row, letter: null });
  const before = design().row[index].text;
  writing = { key, before };
  const field = make("input", { type: "text", value: before, "aria-label": t("writeRow", { number: index + 1 }), spellcheck: "true", dir: "auto",
    oninput: (event) => set(event.target.value),
    onpaste: (event) => { if (pasteRows(event, indexOfRow(key))) end(false); },
    onkeydown: (event) => {
      if (event.key !== "Enter" && event.key !== "Escape") return;
      event.preventDefault();
      if (event.key === "Escape") set(before);
      end(true);
    } });
  field.addEventListener("blur", () => end(false));
  byId("writing").replaceChildren(field);
  byId("writing").hidden = false;
  byId("stage").dataset.writing = "";
  placeWriting();
  field.focus({ preventScroll: true });
  field.select();
}

/** @param {string} text */
function set(text) {
  const index = indexOfRow(writing?.key);
  if (index < 0) return;
  change((copy) => { copy.row[index].text = text; }, { mark: markOfWord(`written-${writing?.key}`, text) });
  /** @type {HTMLInputElement | null} */
  const listed = document.querySelector(`[data-focus="text-${index}"]`);
  if (listed) listed.value = text;
}

/**
 * Close the field.
 *
 * @param {boolean} toQuilt whether the keyboard goes back to the drawing
 */
function end(toQuilt) {
  if (!writing) return;
  writing = null;
  byId("writing").hidden = true;
  delete byId("stage").dataset.writing;
  if (toQuilt) byId("drawing").focus({ preventScroll: true });
}

/**
 * Lay the field over its row, as the drawing has it now; it stays where it was while there are no words. Over one that runs
 * down it lies across, as long as the row is: nobody types letters below one another.
 */
export function placeWriting() {
  const [ink, view] = [inkOf({ row: chosen().row, letter: null }), inView()];
  if (!writing || !ink || !view || keyOf(chosen().row) !== writing.key) return;
  const { width: clientWidth, height: clientHeight } = stageSize();
  const down = design().row[indexOfRow(writing.key)]?.direction === "down";
  const [across, up] = [(ink[2] - ink[0]) * view.scale, (ink[3] - ink[1]) * view.scale];
  const width = Math.min(Math.max((down ? up : across) * 1.15, LEAST.width), clientWidth - 16);
  const height = Math.max(down ? across : up, LEAST.height);
  const [x, y] = [((ink[0] + ink[2]) / 2 - view.x) * view.scale, ((ink[1] + ink[3]) / 2 - view.y) * view.scale];
  const { style } = byId("writing");
  style.left = `${Math.min(Math.max(x - width / 2, 8), clientWidth - width - 8)}px`;
  style.top = `${Math.min(Math.max(y - height / 2, 8), clientHeight - height - 8)}px`;
  style.width = `${width}px`;
  style.height = `${height}px`;
  style.fontSize = `${Math.min(height * 0.62, 64)}px`;
}
