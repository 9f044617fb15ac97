// Everything else that a design can hold, folded away; the fields come from the model of the design file.

import { getJson, Refused, sendMark } from "./asking.js";
import { textForm } from "./astext.js";
import { byKey, change, design, setValue, spaced, valueOf, withUnit } from "./design.js";
import { byId, hinted, keepingFocus, make } from "./elements.js";
import { markFields } from "./findings.js";
import { chooseFont } from "./fonts.js";
import { FABRIC_KEYS, forgetFabric, renameFabric } from "./naming.js";
import { addPhoto } from "./photos.js";
import { t } from "./texts.js";
import { labelOf } from "./where.js";
import { colorOf, fabricNames, refreshRows, renderRows } from "./words.js";

/** @import { Border, ChangeOptions, Design, Drawing, Entry, Fabric, Model, Property, Quilting, Stated } from "./types.js" */

/** @typedef {(value: Entry, options?: ChangeOptions) => void} SetEntry */

/** @typedef {{ "data-focus": string, "data-where": string }} Common */

/** @type {[name: string, tables: string[]][]} */
const GROUPS = [
  ["panel", ["panel"]],
  ["fabric", []],
  ["lettering", ["lettering"]],
  ["border", []],
  ["sewing", ["outline", "sewing", "stitching"]],
  ["quilting", []],
  ["finishing", ["binding", "backing", "batting", "hanging"]],
  ["paper", ["paper", "print"]],
  ["cutting", ["fusible", "cutting"]],
  ["yardage", ["yardage"]],
  ["stated", []],
  ["about", ["design", "label", "publisher"]],
  ["text", []],
];
/** @type {Record<string, string[]>} */
const HIDDEN = { lettering: ["axes"], design: ["title", "units"] };
/** The forms are drawn anew after a click has ended, or the button under it would be gone before it is released. */
const CLICK_MS = 300;
/** @type {Record<string, string>} */
const SCHEMAS = { design: "Design", print: "PrintCorrection", outline: "OutlineLayer" };
/** @type {Set<string>} */
const opened = new Set();
/** @type {Record<string, Model>} */
let schemas = {};
/** @type {Drawing | null} */
let drawing = null;

/** Read the model once. */
export async function loadSettings() {
  schemas = (await getJson("openapi.json")).components.schemas;
}

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
  const list = document.querySelector("#contrasts");
  if (list) list.replaceChildren(...contrasts());
}

/** Draw the fold-outs anew. */
export function renderSettings() {
  if (!schemas.Design) return;
  keepingFocus(() => byId("settings").replaceChildren(...GROUPS.map(fold)));
  markFields();
}

/** @param {[name: string, tables: string[]]} group */
function fold([name, tables]) {
  const details = make("details", { class: "fold", "data-group": name, open: opened.has(name) },
    make("summary", { "data-focus": `fold-${name}` }, t(`settings/${name}`)));
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
  if (name === "fabric") return fabricForms();
  if (name === "border") return borderForms();
  if (name === "quilting") return quiltingForms();
  if (name === "stated") return statedForms();
  if (name === "text") return textForm();
  return make("div", { class: "fields" }, ...tables.flatMap((table) => [
    tables.length > 1 ? make("h3", {}, t(`tables/${table}`)) : null,
    table === "lettering" ? make("div", { class: "field" }, make("span", {}, t("font")),
      make("button", { class: "chooser", "data-focus": "font-all", onclick: () => chooseFont() },
        design().lettering?.font ?? "Montserrat")) : null,
    ...tableFields(table),
  ]));
}

/** @param {string} table */
const schemaName = (table) => SCHEMAS[table] ?? table[0].toUpperCase() + table.slice(1);

/** @param {string} table */
function tableFields(table) {
  const inDesign = table === "design" ? null : table;
  return Object.entries(schemas[schemaName(table)].properties ?? {})
    .filter(([key, property]) => !(HIDDEN[table] ?? []).includes(key) && key !== "font" && !isTable(property))
    .map(([key, property]) => (key === "mark_file" ? markField : field)({
      property, label: labelOf(table, key), where: inDesign ? `${table}.${key}` : key, key,
      value: valueOf(inDesign, key),
      set: (value, options) => setValue(inDesign, key, value, options),
    }));
}

/**
 * The name of the model that a property refers to.
 *
 * @param {Property} property
 */
const modelOf = ({ $ref = "" }) => $ref.replace(/.*\//, "");

/**
 * The model that a property refers to.
 *
 * @param {Property} property
 */
const referred = (property) => (property.$ref ? schemas[modelOf(property)] : undefined);

/**
 * What a number field holds; what is no number stays as it was typed, for the program to refuse.
 *
 * @param {string} text
 */
function numberOf(text) {
  const plain = text.trim();
  return plain === "" ? undefined : Number.isNaN(Number(plain)) ? plain : Number(plain);
}

/**
 * A long run that is written in inches, in the yards or meters in which it is sold.
 *
 * @param {string} text
 */
function runOf(text) {
  const inches = /^[\d.]+in$/.test(text) ? Number.parseFloat(text) : null;
  if (inches === null) return text;
  return design().units === "cm" ? `${Number((inches * 0.0254).toFixed(1))}m` : `${Number((inches / 36).toFixed(2))}yd`;
}

/** @param {Property} property */
const helpOf = ({ description }) => (description ? make("small", {}, description) : null);

/** @param {Property} property */
const isTable = (property) => Boolean(referred(property)?.properties ?? (property.items && referred(property.items)?.properties));

/**
 * A field by the model of its property; `where` may name several places, its own first. `hint` stands in it while it is
 * empty, `empty` names the choice of none.
 *
 * @param {object} field
 * @param {Property} field.property
 * @param {string} field.label
 * @param {string} field.where
 * @param {string} field.key
 * @param {any} field.value
 * @param {SetEntry} field.set
 * @param {string} [field.hint]
 * @param {string} [field.empty]
 */
function field({ property, label, where, key, value, set, hint, empty }) {
  const chosen = property.anyOf?.find((one) => one.$ref) ?? property;
  const choices = chosen.$ref ? schemas[modelOf(chosen)].enum : undefined;
  const common = { "data-focus": where.split(" ")[0], "data-where": where };
  const help = helpOf(property);
  const type = property.type ?? property.anyOf?.find((one) => one.type !== "null")?.type;
  if (type === "boolean") {
    return make("label", { class: "tick" },
      make("input", { ...common, type: "checkbox", checked: value ?? property.default ?? false,
        onchange: (event) => set(event.target.checked || undefined) }), make("span", {}, label, help));
  }
  if (FABRIC_KEYS.includes(key)) return choice({ label, common, values: fabricNames(), value, named: String, empty: t("leftOut"), help, set });
  if (choices) {
    const isOpen = property.default === null;
    return choice({ label, common, values: choices, value: value ?? property.default, named: (one) => t(`choices/${modelOf(chosen)}/${one}`), help, set,
      ...(isOpen ? { empty: empty ?? t("leftOut") } : { blank: property.default }) });
  }
  const several = property.items && referred(property.items)?.enum;
  if (several) return ticks({ label, where, values: several, chosen: value ?? property.default ?? [], named: (one) => t(`choices/${modelOf(property.items ?? {})}/${one}`), help, set });
  if (type === "array") {
    return make("label", { class: "field tall" }, make("span", {}, label, help),
      make("textarea", { ...common, rows: "3", value: (value ?? property.default ?? []).join("\n"),
        onchange: (event) => set(event.target.value.split("\n").map((line) => line.trim()).filter(Boolean)) }));
  }
  const isNumber = type === "integer" || type === "number";
  const isLength = !isNumber && JSON.stringify(property).includes("examples");
  const isRun = property.examples?.[0]?.endsWith("yd") ?? false;
  const plain = (/** @type {any} */ entry) => (isRun ? runOf(String(entry ?? "")) : String(entry ?? ""));
  const shown = (/** @type {any} */ entry) => (isLength ? spaced(plain(entry)) : plain(entry));
  const typed = (/** @type {string} */ text) => (isNumber ? numberOf(text) : isLength ? withUnit(text) : text);
  return make("label", { class: "field" }, make("span", {}, label, help),
    make("input", { ...common, type: "text", inputmode: isNumber ? "decimal" : null, value: value === "fit" ? "" : shown(value),
      ...hinted(hint ?? (property.default === "fit" ? t("fits") : shown(property.default))),
      oninput: (event) => set(typed(event.target.value), { mark: where }),
      onchange: (event) => { if (isLength) event.target.value = spaced(withUnit(event.target.value)); } }));
}

/**
 * The picture of a mark.
 *
 * @param {object} field
 * @param {string} field.label
 * @param {string} field.where
 * @param {any} field.value
 * @param {SetEntry} field.set
 */
const markField = ({ label, where, value, set }) => fileField({
  id: "mark-file", label, where, accept: ".png,.svg", value,
  words: { note: t("markNote"), choose: t("markChoose"), remove: t("markRemove") },
  take: async (file) => set((await sendMark(file)).mark_file, { whole: true }),
  remove: () => set(undefined, { whole: true }),
});

/**
 * A picture chosen as a file, which the program looks at before the design names it.
 *
 * @param {object} field
 * @param {string} field.id
 * @param {string} field.label
 * @param {string} field.where
 * @param {string} field.accept
 * @param {string | undefined} field.value
 * @param {{ note: string, choose: string, remove: string }} field.words
 * @param {(file: File) => Promise<void>} field.take
 * @param {() => void} field.remove
 */
function fileField({ id, label, where, accept, value, words, take: took, remove }) {
  const problem = make("p", { class: "problem", role: "alert" });
  const input = make("input", { type: "file", accept, class: "hidden", id, "data-focus": where, "data-where": where,
    onchange: async (event) => {
      const file = event.target.files?.[0];
      event.target.value = "";
      if (!file) return;
      problem.textContent = "";
      try {
        await took(file);
      } catch (error) {
        if (!(error instanceof Refused)) throw error;
        problem.textContent = error.problems.map((one) => [one.what, one.fix && t("tryThis", { fix: one.fix })].filter(Boolean).join(": ")).join("\n");
      }
    } });
  return make("div", { class: "field tall" },
    make("span", {}, label, make("small", {}, words.note)),
    make("div", { class: "photo" }, input,
      make("label", { class: "button", for: id }, words.choose),
      value ? make("span", {}, value) : null,
      value ? make("button", { class: "plain", onclick: remove }, words.remove) : null),
    problem);
}

/**
 * A choice of `values`; `empty` names the choice of none, and `blank` is the one that is left out of the design.
 *
 * @param {object} choice
 * @param {string} choice.label
 * @param {Common} choice.common
 * @param {string[]} choice.values
 * @param {string | undefined} choice.value
 * @param {(value: string) => string} choice.named
 * @param {string} [choice.empty]
 * @param {HTMLElement | null} choice.help
 * @param {SetEntry} choice.set
 * @param {string} [choice.blank]
 */
function choice({ label, common, values, value, named, empty, help, set, blank }) {
  return make("label", { class: "field" }, make("span", {}, label, help),
    make("select", { ...common, onchange: (event) => set(event.target.value === blank ? undefined : event.target.value, { whole: true }) },
      empty === undefined ? null : make("option", { value: "" }, empty),
      ...values.map((one) => make("option", { value: one, selected: one === value }, named(one)))));
}

/**
 * A tick for each of `values`, any number of which may be chosen.
 *
 * @param {object} ticks
 * @param {string} ticks.label
 * @param {string} ticks.where
 * @param {string[]} ticks.values
 * @param {string[]} ticks.chosen
 * @param {(value: string) => string} ticks.named
 * @param {HTMLElement | null} ticks.help
 * @param {SetEntry} ticks.set
 */
function ticks({ label, where, values, chosen, named, help, set }) {
  const group = make("fieldset", { class: "field ticks", "data-where": where }, make("legend", {}, label, help),
    ...values.map((one) => make("label", { class: "tick" },
      make("input", { "data-focus": `${where}-${one}`, type: "checkbox", value: one, checked: chosen.includes(one), onchange: () => {
        const now = [...group.querySelectorAll("input")].filter((box) => box.checked).map((box) => box.value);
        set(now.length ? now : undefined);
      } }), make("span", {}, named(one)))));
  return group;
}

// Fabrics

const FRESH = ["#1f4e5f", "#c8553d", "#e0b04c", "#5b7553", "#8d6a9f", "#d9cbb3", "#34495e", "#b5838d"];

function fabricForms() {
  const fabrics = design().fabric ?? [];
  return make("div", { class: "fields" },
    ...fabrics.map(fabricForm),
    make("button", { class: "wide", "data-focus": "add-fabric", onclick: addFabric }, t("addFabric")),
    make("ul", { id: "contrasts" }, ...contrasts()));
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
  /** @type {(key: keyof Fabric, more?: { hint?: string, empty?: string }) => HTMLElement} */
  const one = (key, more) => field({
    property: (schemas.Fabric.properties ?? {})[key], label: labelOf("fabric", key), where: `fabric.${index + 1}.${key}`, key,
    value: fabric[key], set: (value, options) => set(key, String(value ?? ""), options), ...more });
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
    one("sold_width"),
    one("turns"),
    one("have", { hint: t("fabricHaveHint") }),
    one("plan", { empty: t("asAllFabrics") }),
    one("stitch", { empty: t("asAllLetters") }),
    photoField(fabric, index),
    fabric.photo ? one("photo_width") : null);
}

/**
 * The photo of a fabric: chosen as a file, which the program makes ready before the design names it. Its color is that of
 * the photo from then on, until she says another; a fabric whose photo is taken away keeps the color it had from it.
 *
 * @param {Fabric} fabric
 * @param {number} index
 */
function photoField(fabric, index) {
  /** @type {(work: (one: Fabric) => void) => void} */
  const edit = (work) => change((copy) => {
    const one = fabricsOf(copy).find(({ name }) => name === fabric.name);
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
 * A fabric of a new name and another color.
 *
 * @param {Design} copy
 * @returns {Fabric}
 */
function freshFabric(copy) {
  const names = fabricsOf(copy).map((fabric) => fabric.name);
  let number = names.length + 1;
  while (names.includes(t("newFabric", { number }))) number += 1;
  return { name: t("newFabric", { number }), color: FRESH[names.length % FRESH.length] };
}

/**
 * The fabrics of a copy of the design, to be changed.
 *
 * @param {Design} copy
 */
const fabricsOf = (copy) => (copy.fabric ??= []);

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
  if (!fabricNames().length) return make("p", { class: "note" }, t("borderNeedsFabric"));
  return make("div", { class: "fields" },
    ...borders.map(borderForm),
    make("button", { class: "wide", "data-focus": "add-border", onclick: () => change((copy) => {
      bordersOf(copy).push({ kind: "strip", fabrics: [fabricNames()[0]], width: copy.units === "cm" ? "5cm" : "2in" });
    }, { whole: true }) }, t("addBorder")));
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
  const fields = Object.entries(schemas.Border.properties ?? {}).filter(([key]) => !NOT_OF_KIND[border.kind].includes(key)).map(([key, property]) => field({
    property, label: labelOf("border", key), key,
    where: key === "kind" ? `border.${index + 1}.kind border.${index + 1}` : `border.${index + 1}.${key}`, value: byKey(border)[key],
    set: (value, options) => change((copy) => {
      const one = bordersOf(copy)[index];
      if (value === undefined || value === "") delete byKey(one)[key]; else byKey(one)[key] = value;
      if (key === "kind") fitFabrics(copy, one);
    }, options),
  }));
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
    ...fields,
    make("button", { class: "plain", "data-focus": `border-${index}-remove`, onclick: () => change((copy) => {
      bordersOf(copy).splice(index, 1);
      if (!bordersOf(copy).length) delete copy.border;
    }, { whole: true }) }, t("removeBorder", { number: index + 1 })));
}

// Tables that a design may have several of

/**
 * The forms of all tables of a kind, and what adds one.
 *
 * @param {"quilting" | "stated"} table
 * @param {(entry: any) => string[]} keysOf what means something in `entry`
 * @param {() => object} fresh
 * @param {{ add: string, remove: (number: number) => string }} words
 */
function entryForms(table, keysOf, fresh, words) {
  /** @type {(copy: Design) => any[]} */
  const entries = (copy) => (copy[table] ??= []);
  const properties = schemas[schemaName(table)].properties ?? {};
  return make("div", { class: "fields" },
    ...(design()[table] ?? []).map((entry, index) => make("fieldset", { class: "card" },
      make("legend", {}, t(`numbered/${table}`, { number: index + 1 })),
      ...keysOf(entry).map((key, place) => field({
        property: properties[key], label: labelOf(table, key), key, value: byKey(entry)[key],
        where: place ? `${table}.${index + 1}.${key}` : `${table}.${index + 1}.${key} ${table}.${index + 1}`,
        set: (value, options) => change((copy) => {
          const one = entries(copy)[index];
          if (value === undefined || value === "") delete one[key]; else one[key] = value;
          if (place === 0) for (const other of Object.keys(one)) if (!keysOf(one).includes(other)) delete one[other];
        }, options),
      })),
      make("button", { class: "plain", "data-focus": `remove-${table}-${index}`, onclick: () => change((copy) => {
        entries(copy).splice(index, 1);
        if (!entries(copy).length) delete copy[table];
      }, { whole: true }) }, words.remove(index + 1)))),
    make("button", { class: "wide", "data-focus": `add-${table}`,
      onclick: () => change((copy) => { entries(copy).push(fresh()); }, { whole: true }) }, words.add));
}

/** What means something to each kind of quilting, that kind first. @type {Record<string, string[]>} */
const OF_QUILTING = {
  echo: ["spacing", "lines", "stitch_length", "offered"],
  lines: ["spacing", "angle", "letters", "stitch_length", "offered"],
  crosshatch: ["spacing", "angle", "letters", "stitch_length", "offered"],
  "edge to edge": ["row_height", "overlap", "repeat_width", "repeat_thread", "letters", "stitch_length", "offered"],
  "in the ditch": ["stitch_length", "offered"],
};

const quiltingForms = () => entryForms("quilting", (/** @type {Quilting} */ { kind }) => ["kind", ...OF_QUILTING[kind]],
  () => ({ kind: "echo" }), { add: t("addQuilting"), remove: (number) => t("removeQuilting", { number }) });

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

const statedForms = () => entryForms("stated", (/** @type {Stated} */ { part }) => ["part", ...OF_PART[part]],
  () => ({ part: "panel" }), { add: t("addStated"), remove: (number) => t("removeStated", { number }) });
