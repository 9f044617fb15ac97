// The settings of a variable font, as fields: which ones there are is asked of the font itself.

import { askJson, Refused } from "./asking.js";
import { changeAt, design, tableAt } from "./design.js";
import { hinted, make } from "./elements.js";
import { numberOf, placeOf } from "./fields.js";
import { t, TEXTS } from "./texts.js";

/** @import { Axes, Axis, Path } from "./types.js" */

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
  return make("label", { class: "field" }, make("span", {}, TEXTS.axes[key] ?? axis.name, make("small", {}, range)),
    make("input", { type: "text", inputmode: "decimal", "data-focus": place, "data-where": place + also, value: String(set[key] ?? set[axis.tag] ?? ""),
      ...hinted(String(axis.set)),
      oninput: (event) => changeAt(path, (table) => {
        const number = numberOf(event.target.value);
        const next = { ...now(path).axes };
        delete next[axis.tag];
        if (number === undefined) delete next[key]; else next[key] = /** @type {number} */ (number);
        if (Object.keys(next).length) table.axes = next; else delete table.axes;
      }, { mark: place }) }));
}
