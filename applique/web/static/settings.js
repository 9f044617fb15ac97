// Everything else that a design can hold, in a few places by what she is about; the fields come from the model of the design file.

import { sendMark } from "./asking.js";
import { textForm } from "./astext.js";
import { axesFields } from "./axes.js";
import { borderPictures, refreshBorders } from "./borders.js";
import { byKey, change, design, setValue, tableAt } from "./design.js";
import { effortField } from "./effort.js";
import { byId, keepingFocus, make } from "./elements.js";
import { entryForms, field, fieldAt, fileField, isTable, loadModel, more, propertiesOf } from "./fields.js";
import { finder, focusOnSetting } from "./finder.js";
import { markFields } from "./findings.js";
import { chooseFont } from "./fonts.js";
import { isMetric } from "./measures.js";
import { askNames } from "./names.js";
import { fabricNames, fabricsOf, forgetFabric, FRESH, freshFabric, renameFabric } from "./naming.js";
import { addPhoto } from "./photos.js";
import { t } from "./texts.js";
import { labelOf } from "./where.js";
import { colorOf, openRow, refreshRows, renderRows } from "./words.js";

/** @import { Border, ChangeOptions, Design, Drawing, Fabric, Quilting, Stated } from "./types.js" */

/** The places of the page, and the tables of the design file that each holds. @type {[name: string, tables: string[]][]} */
const PLACES = [
  ["letters", ["lettering", "outline"]],
  ["cloth", ["panel", "fabric", "yardage"]],
  ["edges", ["border", "binding", "backing", "batting", "pillow", "banner", "bunting", "garment", "hanging"]],
  ["sewing", ["sewing", "stitching", "quilting"]],
  ["sheets", ["paper", "print", "fusible", "cutting"]],
  ["pattern", ["design", "publisher", "label", "stated", "accepted"]],
  ["text", []],
];
/** Keys that are set seldom, folded away within their place. @type {Record<string, string[]>} */
const SELDOM = {
  lettering: ["axes", "least_gap", "spacing", "rows", "row_spacing", "baseline_step", "columns", "alternates"],
  outline: ["thread", "corners", "miter_limit", "counters"],
  panel: ["shape", "seam_allowance", "trim_after"],
  fabric: ["sold_width", "plan", "stitch"],
  yardage: ["shrinkage_percent", "squaring"],
  border: ["first", "corner_fabric", "joins"],
  binding: ["allowance", "grain"],
  backing: ["overage", "wide_width"],
  sewing: ["also", "turn_under", "freezer_paper", "least_stroke", "least_counter", "least_slot", "least_clear", "least_seam", "least_point", "viewing_distance"],
  stitching: ["thickness", "waste_percent", "spool", "bobbin", "stabilizer_width", "pace", "throat", "when", "offers"],
  quilting: ["overlap", "repeat_width", "repeat_thread", "stitch_length", "offered"],
  fusible: ["spacing", "extra_percent", "ring"],
  cutting: ["mat_height", "mat_margin", "mat_spacing"],
  paper: ["margin", "overlap", "copies"],
  publisher: ["mark_file", "year", "contact_code", "skill"],
};
/** The place where she says how long to look for a shorter layout. */
const LAID_OUT = "sheets";
/** The place of the size, where she says what is made. */
const SIZED = "cloth";
/** What stands under the words. @type {[name: string, tables: string[]]} */
const WORDS = ["words", ["row", "nudge", "fussy"]];
/** Keys that have a control elsewhere: the title at the head of the page, the units over the drawing. */
const ELSEWHERE = ["title", "units", "finish"];
/** The forms are drawn anew after a click has ended, or the button under it would be gone before it is released. */
const CLICK_MS = 300;
/** @type {Set<string>} */
const opened = new Set();
/** @type {Drawing | null} */
let drawing = null;

/** Read the model once. */
export const loadSettings = loadModel;

/**
 * What the last drawing said: contrasts, and the fabrics that stand in where the design names none.
 *
 * @param {Drawing} latest
 */
export function noteDrawing(latest) {
  drawing = latest;
  (design().fabric ?? []).forEach((fabric, index) => {
    /** @type {HTMLInputElement | null} */
    const input = document.querySelector(`[data-focus="fabric-${index}-color"]`);
    if (input && !fabric.color) input.value = colorOf(fabric.name) ?? "";
  });
  if (latest.photos.length) refreshRows();
  refreshBorders();
  const list = document.querySelector("#contrasts");
  if (list) list.replaceChildren(...contrasts());
}

/** @type {HTMLElement | null} */
let find = null;

/** Draw the places anew. */
export function renderSettings() {
  if (!Object.keys(propertiesOf("design")).length) return;
  const found = (find ??= finder([WORDS, ...PLACES], [{ place: LAID_OUT, key: "effort", label: t("effort"), said: `${t("layout")} ${t("effortNote")}` }], goTo));
  keepingFocus(() => byId("settings").replaceChildren(found, ...PLACES.map(place)));
  markFields();
}

/**
 * Open the place of a setting and give the keyboard to its control.
 *
 * @param {string} name
 * @param {string} table
 * @param {string} key
 */
function goTo(name, table, key) {
  if (name === WORDS[0]) {
    openRow(0);
  } else {
    opened.add(name);
    renderSettings();
  }
  focusOnSetting(table, key);
}

/** @param {[name: string, tables: string[]]} place */
function place([name, tables]) {
  const details = make("details", { class: "fold", "data-group": name, open: opened.has(name) },
    make("summary", { "data-focus": `fold-${name}` }, make("span", {}, t(`settings/${name}`),
      make("small", {}, t(`settingsHold/${name}`)))));
  if (opened.has(name)) details.append(body(name, tables));
  details.addEventListener("toggle", () => {
    if (details.open === opened.has(name)) return;
    if (details.open) opened.add(name); else opened.delete(name);
    if (!details.open || details.children.length > 1) return;
    details.append(body(name, tables));
    markFields();
  });
  return details;
}

/**
 * @param {string} name
 * @param {string[]} tables
 */
function body(name, tables) {
  if (name === "text") return textForm();
  return make("div", { class: "fields" }, name === SIZED ? fieldAt([], "finish", { table: "design" }) : [], ...tables.flatMap((table) => [make("h3", {}, t(`tables/${table}`)), ...forms(table)]),
    name === LAID_OUT ? [make("h3", {}, t("layout")), effortField()] : [],
    name === "pattern" ? [make("h3", {}, t("namesHead")), make("p", { class: "note" }, t("namesOpenNote")),
      make("button", { class: "wide", "data-focus": "names", onclick: askNames }, t("namesOpen"))] : []);
}

/**
 * The fields of a table, or the forms of all tables of that kind.
 *
 * @param {string} table
 */
function forms(table) {
  if (table === "fabric") return fabricForms();
  if (table === "border") return borderForms();
  if (table === "quilting") return quiltingForms();
  if (table === "stated") return statedForms();
  if (table === "accepted") return acceptedForms();
  const seldom = SELDOM[table] ?? [];
  const keys = Object.entries(propertiesOf(table)).filter(([key, property]) => !isTable(property) && !(table === "design" && ELSEWHERE.includes(key)))
    .map(([key]) => key);
  const here = table === "design" ? [] : [table];
  const label = t(`tables/${table}`);
  const values = tableAt(design(), here);
  return [
    ...keys.filter((key) => !seldom.includes(key)).map((key) => one(table, key, here)),
    more(table, label, seldom.some((key) => values[key] !== undefined), keys.filter((key) => seldom.includes(key)).map((key) => one(table, key, here))),
  ];
}

/**
 * @param {string} table
 * @param {string} key
 * @param {string[]} here
 */
function one(table, key, here) {
  if (key === "font") {
    return make("div", { class: "field" }, make("span", {}, t("font")),
      make("button", { class: "chooser", "data-focus": "font-all", "data-where": "lettering.font", onclick: () => chooseFont() },
        design().lettering?.font ?? "Montserrat"));
  }
  if (key === "axes") return axesFields(["lettering"]);
  if (key === "mark_file") return markField();
  return fieldAt(here, key, { table });
}

/** The picture of a mark. */
function markField() {
  const set = (/** @type {string | undefined} */ name) => setValue(["publisher"], "mark_file", name, { whole: true });
  return fileField({
    id: "mark-file", label: labelOf("publisher", "mark_file"), where: "publisher.mark_file", accept: ".png,.svg",
    value: tableAt(design(), ["publisher"]).mark_file,
    words: { note: t("markNote"), choose: t("markChoose"), remove: t("markRemove") },
    take: async (file) => set((await sendMark(file)).mark_file),
    remove: () => set(undefined),
  });
}

// Fabrics

function fabricForms() {
  const fabrics = design().fabric ?? [];
  return [
    ...fabrics.map(fabricForm),
    make("button", { class: "wide", "data-focus": "add-fabric", onclick: addFabric }, t("addFabric")),
    make("ul", { id: "contrasts" }, ...contrasts()),
  ];
}

function contrasts() {
  if (!drawing) return [];
  const { rows, panel } = drawing;
  return rows.map((row) => make("li", { class: "contrast" },
    make("span", { class: "swatch", color: row.color }), make("span", { class: "swatch", color: panel.color }),
    make("span", {}, t("contrast", { number: row.number, ratio: row.contrast }), " · ",
      t({ low: "contrastLow", fair: "contrastFair", good: "contrastGood" }[row.reads]))));
}

/**
 * @param {Fabric} fabric
 * @param {number} index
 */
function fabricForm(fabric, index) {
  /**
   * @param {keyof Fabric} key
   * @param {string} value
   * @param {ChangeOptions} [options]
   */
  const set = (key, value, options) => change((copy) => {
    const one = byKey(fabricsOf(copy)[index]);
    if (value === "") delete one[key]; else one[key] = value;
  }, options);
  const where = (/** @type {keyof Fabric} */ key) => ({ "data-focus": `fabric-${index}-${key}`, "data-where": `fabric.${index + 1}.${key}` });
  /** @type {(key: keyof Fabric, shown?: { hint?: string, empty?: string }) => HTMLElement} */
  const one = (key, shown) => field({
    property: propertiesOf("fabric")[key], label: labelOf("fabric", key), where: `fabric.${index + 1}.${key}`, key,
    value: fabric[key], set: (value, options) => set(key, String(value ?? ""), options), ...shown });
  return make("fieldset", { class: "card" },
    make("legend", { class: "hidden" }, fabric.name),
    make("div", { class: "fabric-head" },
      make("input", { type: "color", ...where("color"), value: colorOf(fabric.name) ?? "", "aria-label": t("fabricColorOf", fabric),
        oninput: (event) => set("color", event.target.value, { mark: `color-${index}` }) }),
      make("input", { type: "text", ...where("name"), value: fabric.name, "aria-label": t("keys/fabric.name"), maxlength: "60",
        onchange: (event) => rename(index, event.target) }),
      make("button", { class: "round", "aria-label": t("removeFabric", { name: fabric.name }),
        onclick: () => removeFabric(index) }, "×")),
    one("usable_width", fabric.sold_width ? { hint: "" } : {}),
    one("turns"),
    one("have", { hint: t(isMetric() ? "fabricHaveHintMetric" : "fabricHaveHint") }),
    photoField(fabric, index),
    fabric.photo ? one("photo_width") : null,
    more(`fabric.${index + 1}`, fabric.name, Boolean(fabric.sold_width ?? fabric.plan ?? fabric.stitch),
      [one("sold_width"), one("plan", { empty: t("asAllFabrics") }), one("stitch", { empty: t("asAllLetters") })]));
}

/**
 * The photo of a fabric: chosen as a file, which the program makes ready before the design names it. Its color is that of
 * the photo from then on, until she says another; a fabric whose photo is taken away keeps the color it had from it.
 *
 * @param {Fabric} fabric
 * @param {number} index
 */
function photoField(fabric, index) {
  const then = fabricNames();
  /** Another name may have been given to it meanwhile. @type {(work: (one: Fabric) => void) => void} */
  const edit = (work) => change((copy) => {
    const [all, here] = [fabricsOf(copy), fabricsOf(copy)[index]];
    const one = all.find(({ name }) => name === fabric.name) ?? (then.includes(here?.name) ? null : here);
    if (one) work(one);
  }, { whole: true });
  const remove = () => edit((one) => {
    one.color = colorOf(one.name) ?? FRESH[0];
    delete one.photo;
    delete one.photo_width;
  });
  return fileField({
    id: `photo-file-${index}`, label: t("keys/fabric.photo"), where: `fabric.${index + 1}.photo`, accept: ".jpg,.jpeg,.png,.webp",
    value: fabric.photo, words: { note: t("photoNote"), choose: t("photo"), remove: t("removePhoto") }, remove,
    take: async (file) => {
      const photo = await addPhoto(file);
      edit((one) => { one.photo = photo; delete one.color; });
    } });
}

function addFabric() {
  change((copy) => { fabricsOf(copy).push(freshFabric(copy)); }, { whole: true });
}

/**
 * The borders of a copy of the design, to be changed.
 *
 * @param {Design} copy
 */
const bordersOf = (copy) => (copy.border ??= []);

/**
 * Give a fabric another name wherever the design says it. The forms follow once the click has ended that may be taking
 * place, for it is what ends the typing of a name. A name that another fabric has is left standing and refused, or from
 * then on nobody could tell what is of which.
 *
 * @param {number} index
 * @param {HTMLInputElement} input
 */
function rename(index, input) {
  const [before, name] = [fabricNames()[index], input.value.trim()];
  const isTaken = fabricNames().some((one, place) => one === name && place !== index);
  input.setCustomValidity(isTaken ? t("fabricNameTaken", { name }) : "");
  if (isTaken) { input.reportValidity(); return; }
  if (name) change((copy) => renameFabric(copy, before, name));
  setTimeout(() => {
    renderRows();
    renderSettings();
  }, CLICK_MS);
}

/** @param {number} index */
function removeFabric(index) {
  const name = fabricNames()[index];
  change((copy) => {
    fabricsOf(copy).splice(index, 1);
    if (!fabricsOf(copy).length) delete copy.fabric;
    forgetFabric(copy, name);
  }, { whole: true });
}

// Borders

function borderForms() {
  const borders = design().border ?? [];
  return [...borders.map(borderForm), make("h4", {}, t("addBorder")), borderPictures("add-border")];
}

/** What means nothing to a kind of border; its fabrics have a form of their own. @type {Record<Border["kind"], string[]>} */
const NOT_OF_KIND = {
  strip: ["fabrics", "size"],
  squares: ["fabrics", "width", "corners", "corner_fabric", "joins"],
  rectangles: ["fabrics", "corners", "corner_fabric", "joins"],
};

/**
 * The fabric to go on with after `fabrics`: one that is not among them, or at least none beside itself.
 *
 * @param {string[]} fabrics
 */
const anotherFabric = (fabrics) => fabricNames().find((name) => !fabrics.includes(name))
  ?? fabricNames().find((name) => name !== fabrics.at(-1)) ?? fabricNames()[0];

/**
 * A border that has become one of another kind has the fabrics of that: a strip one, squares and rectangles two at least.
 *
 * @param {Design} copy
 * @param {Border} border
 */
function fitFabrics(copy, border) {
  if (border.kind === "strip") { border.fabrics = border.fabrics.slice(0, 1); return; }
  if (new Set(border.fabrics).size > 1) return;
  if (fabricsOf(copy).length < 2) fabricsOf(copy).push(freshFabric(copy));
  const other = fabricsOf(copy).find((fabric) => fabric.name !== border.fabrics[0]);
  if (other) border.fabrics = [border.fabrics[0], other.name];
}

/**
 * @param {Border} border
 * @param {number} index
 */
function borderForm(border, index) {
  /**
   * @param {(one: Border) => void} work
   * @param {ChangeOptions} [options]
   */
  const edit = (work, options) => change((copy) => work(bordersOf(copy)[index]), options);
  const keys = Object.keys(propertiesOf("border")).filter((key) => !NOT_OF_KIND[border.kind].includes(key));
  const fieldOfBorder = (/** @type {string} */ key) => fieldAt(["border", index], key, key !== "kind" ? {} : { also: `border.${index + 1}`,
    after: (_, copy) => fitFabrics(copy, bordersOf(copy)[index]) });
  return make("fieldset", { class: "card" },
    make("legend", {}, t("borderNumber", { number: index + 1 })),
    make("div", { class: "field tall" }, make("span", {}, t("keys/border.fabrics")),
      ...border.fabrics.map((name, place) => make("select", { "aria-label": t("borderFabric", { number: place + 1 }),
        "data-focus": `border-${index}-fabric-${place}`, "data-where": place ? null : `border.${index + 1}.fabrics`,
        onchange: (event) => edit((one) => { one.fabrics[place] = event.target.value; }) },
        ...fabricNames().map((one) => make("option", { value: one, selected: one === name }, one)))),
      make("div", { class: "photo" },
        border.kind === "strip" ? null : make("button", { class: "plain", "data-focus": `border-${index}-add`,
          onclick: () => edit((one) => one.fabrics.push(anotherFabric(one.fabrics)), { whole: true }) }, t("addTurn")),
        border.fabrics.length > 1 ? make("button", { class: "plain", "data-focus": `border-${index}-drop`,
          onclick: () => edit((one) => one.fabrics.pop(), { whole: true }) }, t("dropTurn")) : null)),
    ...keys.filter((key) => !SELDOM.border.includes(key)).map(fieldOfBorder),
    more(`border.${index + 1}`, t("borderNumber", { number: index + 1 }), SELDOM.border.some((key) => byKey(border)[key] !== undefined),
      keys.filter((key) => SELDOM.border.includes(key)).map(fieldOfBorder)),
    make("button", { class: "plain", "data-focus": `border-${index}-remove`, onclick: () => change((copy) => {
      bordersOf(copy).splice(index, 1);
      if (!bordersOf(copy).length) delete copy.border;
    }, { whole: true }) }, t("removeBorder", { number: index + 1 })));
}

/** What means something to each kind of quilting, that kind first. @type {Record<string, string[]>} */
const OF_QUILTING = {
  echo: ["spacing", "lines", "stitch_length", "offered"],
  lines: ["spacing", "angle", "letters", "stitch_length", "offered"],
  crosshatch: ["spacing", "angle", "letters", "stitch_length", "offered"],
  "edge to edge": ["row_height", "overlap", "repeat_width", "repeat_thread", "letters", "stitch_length", "offered"],
  "in the ditch": ["stitch_length", "offered"],
};

const quiltingForms = () => entryForms({
  path: ["quilting"], keysOf: (/** @type {Quilting} */ { kind }) => ["kind", ...OF_QUILTING[kind]], fresh: () => ({ kind: "echo" }), seldom: SELDOM.quilting,
  add: t("addQuilting"), named: (number) => t("numbered/quilting", { number }), remove: (number) => t("removeQuilting", { number }),
});

/** What may be stated of each part, and which of it. @type {Record<string, string[]>} */
const OF_PART = {
  panel: ["pieces", "length", "buy"],
  border: ["border", "fabric", "strips", "pieces", "length", "buy"],
  binding: ["strips", "length", "buy"],
  backing: ["pieces", "length", "buy"],
  "hanging sleeve": ["strips", "length", "buy"],
  letters: ["fabric", "pieces", "length", "buy", "hours"],
  fabric: ["fabric", "length", "buy"],
  "fusible web": ["length", "buy"],
};

const statedForms = () => entryForms({
  path: ["stated"], keysOf: (/** @type {Stated} */ { part }) => ["part", ...OF_PART[part]], fresh: () => ({ part: "panel" }),
  add: t("addStated"), named: (number) => t("numbered/stated", { number }), remove: (number) => t("removeStated", { number }),
});

// What is meant so

const acceptedForms = () => entryForms({
  path: ["accepted"], keysOf: () => ["finding", "words", "measured", "why"], fresh: () => ({ finding: "thin stroke" }),
  add: t("addAccepted"), named: (number) => t("numbered/accepted", { number }), remove: (number) => t("removeAccepted", { number }),
});
