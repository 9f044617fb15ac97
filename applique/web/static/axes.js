// The settings of a variable font, as fields: which ones there are is asked of the font itself.

import { askJson, Refused } from "./asking.js";
import { changeAt, design, tableAt, workAt } from "./design.js";
import { hinted, make } from "./elements.js";
import { numberOf, placeOf } from "./fields.js";
import { t, TEXTS } from "./texts.js";
import { putBack, takeTried, tryOut } from "./trying.js";

/** @import { Axes, Axis, Design, Path } from "./types.js" */

/** Names in the design file for the tags of the OpenType standard that have one. @type {Record<string, string>} */
const NAMED = { wght: "weight", wdth: "width" };
/** @type {Map<string, Axis[]>} */
const known = new Map();

/**
 * The settings that the font of a row, or of all rows, has now.
 *
 * @param {Path} path
 */
function now(path) {
  const [lettering, own] = [design().lettering ?? {}, tableAt(design(), path)];
  const font = own.font ?? lettering.font ?? "Montserrat";
  /** @type {Axes} */
  const axes = own.axes ?? (own.font && own.font !== lettering.font ? {} : lettering.axes ?? {});
  return { font, axes };
}

/**
 * A field for each setting of the font at `path`, as soon as the font has said which it has.
 *
 * @param {Path} path
 */
export function axesFields(path) {
  const { font } = now(path);
  const place = make("div", { class: "fields axes", tabindex: "-1", "data-where": placeOf([...path, "axes"]) });
  const axes = known.get(font);
  if (axes) fill(place, path, axes); else askAxes(font, () => fill(place, path, known.get(font) ?? []));
  return place;
}

/**
 * @param {string} font
 * @param {() => void} then
 */
async function askAxes(font, then) {
  const words = design().row.map((row) => row.text).join(" ").trim() || "A";
  try {
    known.set(font, (await askJson("sample", { font, words, axes: {} })).axes);
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    return;
  }
  then();
}

/**
 * @param {HTMLElement} place
 * @param {Path} path
 * @param {Axis[]} axes
 */
function fill(place, path, axes) {
  const where = placeOf([...path, "axes"]);
  place.removeAttribute("data-where");
  place.replaceChildren(...(axes.length ? axes.map((axis, index) => axisField(path, axis, index ? "" : ` ${where}`))
    : [make("p", { class: "note", "data-where": where }, t("noAxes"))]));
}

/**
 * @param {Path} path
 * @param {Axis} axis
 * @param {string} also
 */
function axisField(path, axis, also) {
  const key = NAMED[axis.tag] ?? axis.tag;
  const place = placeOf([...path, "axes", key]);
  const set = now(path).axes;
  const range = t("axisRange", { least: axis.least, most: axis.most });
  const label = TEXTS.axes[key] ?? axis.name;
  /** @type {(number: unknown) => (table: Record<string, any>) => void} */
  const put = (number) => (table) => {
    const next = { ...now(path).axes };
    delete next[axis.tag];
    if (number === undefined) delete next[key]; else next[key] = /** @type {number} */ (number);
    if (Object.keys(next).length) table.axes = next; else delete table.axes;
  };
  const typed = make("input", { type: "text", inputmode: "decimal", "data-focus": place, "data-where": place + also, value: String(set[key] ?? set[axis.tag] ?? ""),
    ...hinted(String(axis.set)),
    oninput: (event) => {
      changeAt(path, put(numberOf(event.target.value)), { mark: place });
      slider.value = event.target.value || String(axis.set);
    } });
  const slider = slides(axis, { label, value: set[key] ?? set[axis.tag] ?? axis.set, place, work: (number) => workAt(path, put(number)),
    taken: (number) => { typed.value = String(number); } });
  return make("div", { class: "axis" }, make("label", { class: "field" }, make("span", {}, label, make("small", {}, range)), typed), slider);
}

/**
 * A slider for a setting of a font: the quilt follows it while it is dragged, where it is let go it is taken, and Escape before that puts it back.
 *
 * @param {Axis} axis
 * @param {{ label: string, value: number, place: string, work: (number: number) => (copy: Design) => void, taken: (number: number) => void }} how
 */
function slides({ least, most }, { label, value, place, work, taken }) {
  let before = String(value);
  let dropped = false;
  const slider = make("input", { type: "range", min: least, max: most, step: stepOf(most - least), value: before, "aria-label": t("axisSlide", { label }), "data-focus": `${place}.slide`,
    onpointerdown: () => { dropped = false; before = slider.value; },
    onkeydown: (event) => {
      if (event.key !== "Escape") { dropped = false; return; }
      event.preventDefault();
      dropped = true;
      slider.value = before;
      putBack();
    },
    oninput: () => {
      if (dropped) slider.value = before; else tryOut(work(Number(slider.value)), () => {});
    },
    onchange: () => {
      if (dropped) return;
      takeTried(work(Number(slider.value)), { mark: place });
      taken(Number(slider.value));
    } });
  return slider;
}

/**
 * Some forty steps or more from one end to the other, of 1, 10, or a tenth.
 *
 * @param {number} range
 */
const stepOf = (range) => 10 ** Math.floor(Math.log10(range / 40));
