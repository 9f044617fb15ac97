// Everything else that a design can hold, folded away; the fields come from the model of the design file.

import { askJson, getJson, Refused } from "./asking.js";
import { byKey, change, design, sent, setValue, take, valueOf, withUnit } from "./design.js";
import { byId, hinted, keepingFocus, make, say } from "./elements.js";
import { chooseFont } from "./fonts.js";
import { photos, setPhoto } from "./photos.js";
import { t } from "./texts.js";
import { labelOf, whereSaid } from "./where.js";
import { fabricNames } from "./words.js";

/** @import { Border, ChangeOptions, Design, Drawing, Entry, Fabric, Model, Property } from "./types.js" */

/** @typedef {(value: Entry, options?: ChangeOptions) => void} SetEntry */

/** @typedef {{ "data-focus": string, "data-where": string }} Common */

/** @type {[name: string, tables: string[]][]} */
const GROUPS = [
  ["panel", ["panel"]],
  ["fabric", []],
  ["lettering", ["lettering"]],
  ["border", []],
  ["sewing", ["outline", "sewing", "stitching", "quilting"]],
  ["finishing", ["binding", "backing", "batting", "hanging"]],
  ["paper", ["paper", "print"]],
  ["cutting", ["fusible", "cutting"]],
  ["yardage", ["yardage"]],
  ["about", ["design", "label", "publisher"]],
  ["text", []],
];
/** @type {Record<string, string[]>} */
const HIDDEN = { lettering: ["axes"], design: ["title", "units"] };
const FABRIC_KEYS = ["fabric", "corner_fabric"];
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
  const list = document.querySelector("#contrasts");
  if (list) list.replaceChildren(...contrasts());
}

/** Draw the fold-outs anew. */
export function renderSettings() {
  if (!schemas.Design) return;
  keepingFocus(() => byId("settings").replaceChildren(...GROUPS.map(fold)));
}

/** @param {[name: string, tables: string[]]} group */
function fold([name, tables]) {
  const details = make("details", { class: "fold", "data-group": name, open: opened.has(name) },
    make("summary", { "data-focus": `fold-${name}` }, t(`settings/${name}`)));
  if (opened.has(name)) details.append(body(name, tables));
  details.addEventListener("toggle", () => {
    if (details.open === opened.has(name)) return;
    if (details.open) opened.add(name); else opened.delete(name);
    if (details.open && details.children.length === 1) details.append(body(name, tables));
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
    .map(([key, property]) => field({
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

/** @param {Property} property */
const isTable = (property) => Boolean(referred(property)?.properties ?? (property.items && referred(property.items)?.properties));

/**
 * @param {object} field
 * @param {Property} field.property
 * @param {string} field.label
 * @param {string} field.where
 * @param {string} field.key
 * @param {any} field.value
 * @param {SetEntry} field.set
 */
function field({ property, label, where, key, value, set }) {
  const choices = (referred(property) ?? property).enum;
  const common = { "data-focus": where, "data-where": where };
  const help = property.description ? make("small", {}, property.description) : null;
  const type = property.type ?? property.anyOf?.find((one) => one.type !== "null")?.type;
  if (type === "boolean") {
    return make("label", { class: "tick" },
      make("input", { ...common, type: "checkbox", checked: value ?? property.default ?? false,
        onchange: (event) => set(event.target.checked || undefined) }), make("span", {}, label, help));
  }
  if (FABRIC_KEYS.includes(key)) return choice({ label, common, values: fabricNames(), value, named: String, empty: t("leftOut"), help, set });
  if (choices) return choice({ label, common, values: choices, value: value ?? property.default, named: (one) => t(`choices/${modelOf(property)}/${one}`), help, set, blank: property.default });
  const several = property.items && referred(property.items)?.enum;
  if (several) return ticks({ label, where, values: several, chosen: value ?? property.default ?? [], named: (one) => t(`choices/${modelOf(property.items ?? {})}/${one}`), help, set });
  if (type === "array") {
    return make("label", { class: "field tall" }, make("span", {}, label, help),
      make("textarea", { ...common, rows: "3", value: (value ?? property.default ?? []).join("\n"),
        onchange: (event) => set(event.target.value.split("\n").map((line) => line.trim()).filter(Boolean)) }));
  }
  const isNumber = type === "integer" || type === "number";
  const isLength = !isNumber && JSON.stringify(property).includes("examples");
  const typed = (/** @type {string} */ text) => (isNumber ? (text === "" ? undefined : Number(text)) : isLength ? withUnit(text) : text);
  return make("label", { class: "field" }, make("span", {}, label, help),
    make("input", { ...common, type: isNumber ? "number" : "text", value: value === "fit" ? "" : String(value ?? ""),
      ...hinted(property.default === "fit" ? t("fits") : String(property.default ?? "")),
      oninput: (event) => set(typed(event.target.value), { mark: where }),
      onchange: (event) => { if (isLength) event.target.value = withUnit(event.target.value); } }));
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
    make("ul", { id: "contrasts" }, ...contrasts()),
    make("p", { class: "note" }, t("photoNote")));
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
  /**
   * @param {"usable_width" | "sold_width" | "have"} key
   * @param {string} label
   * @param {string} hint
   * @param {boolean} isLength
   */
  const text = (key, label, hint, isLength) => make("label", { class: "field" }, make("span", {}, t(label)),
    make("input", { ...where(key), type: "text", value: fabric[key] ?? "", ...hinted(hint),
      oninput: (event) => set(key, isLength ? withUnit(event.target.value) : event.target.value, { mark: `fabric-${index}-${key}` }) }));
  const photo = photos.get(fabric.name);
  return make("fieldset", { class: "card" },
    make("legend", { class: "hidden" }, fabric.name),
    make("div", { class: "fabric-head" },
      make("input", { type: "color", ...where("color"), value: fabric.color, "aria-label": t("fabricColorOf", fabric),
        oninput: (event) => set("color", event.target.value, { mark: `color-${index}` }) }),
      make("input", { type: "text", ...where("name"), value: fabric.name, "aria-label": t("keys/fabric.name"), maxlength: "60",
        onchange: (event) => setTimeout(rename, CLICK_MS, index, event.target.value.trim()) }),
      make("button", { class: "round", "aria-label": t("removeFabric", { name: fabric.name }),
        onclick: () => removeFabric(index) }, "×")),
    text("usable_width", "keys/fabric.usable_width", fabric.sold_width ? "" : "40in", true),
    text("sold_width", "keys/fabric.sold_width", "", true),
    make("label", { class: "field" }, make("span", {}, t("keys/fabric.turns")),
      make("select", { ...where("turns"), onchange: (event) => set("turns", event.target.value) },
        ...["half", "upright", "quarter"].map((value) =>
          make("option", { value, selected: (fabric.turns ?? "half") === value }, t(`choices/Turns/${value}`))))),
    text("have", "keys/fabric.have", t("fabricHaveHint"), false),
    make("label", { class: "field" }, make("span", {}, t("keys/fabric.plan")),
      make("select", { ...where("plan"), onchange: (event) => set("plan", event.target.value) },
        make("option", { value: "" }, t("leftOut")),
        ...(schemas.Preference.enum ?? []).map((value) =>
          make("option", { value, selected: fabric.plan === value }, t(`choices/Preference/${value}`))))),
    make("div", { class: "photo" },
      make("label", { class: "button" }, t("photo"),
        make("input", { type: "file", accept: "image/*", class: "hidden",
          onchange: (event) => { if (event.target.files?.length) setPhoto(fabric.name, event.target.files[0]); } })),
      photo ? make("label", { class: "field" }, make("span", {}, t("photoWide")),
        make("input", { type: "number", min: "1", max: "200", value: String(photo.wide),
          onchange: (event) => setPhoto(fabric.name, null, Number(event.target.value) || 12) })) : null,
      photo ? make("button", { class: "plain", onclick: () => setPhoto(fabric.name, undefined) },
        t("removePhoto")) : null));
}

function addFabric() {
  change((copy) => {
    const names = fabricsOf(copy).map((fabric) => fabric.name);
    let number = names.length + 1;
    while (names.includes(t("newFabric", { number }))) number += 1;
    fabricsOf(copy).push({ name: t("newFabric", { number }), color: FRESH[names.length % FRESH.length] });
  }, { whole: true });
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
 * Give a fabric another name wherever the design says it.
 *
 * @param {number} index
 * @param {string} name
 */
function rename(index, name) {
  if (!name) { renderSettings(); return; }
  const before = fabricNames()[index];
  setPhoto(before, null, undefined, name);
  change((copy) => {
    fabricsOf(copy)[index].name = name;
    for (const table of fabricUses(copy)) if (table.fabric === before) table.fabric = name;
    for (const border of copy.border ?? []) if (border.corner_fabric === before) border.corner_fabric = name;
    for (const stated of copy.stated ?? []) if (stated.fabric === before) stated.fabric = name;
    for (const border of copy.border ?? []) border.fabrics = border.fabrics.map((one) => (one === before ? name : one));
  }, { whole: true });
}

/** @param {number} index */
function removeFabric(index) {
  const name = fabricNames()[index];
  setPhoto(name, undefined);
  change((copy) => {
    fabricsOf(copy).splice(index, 1);
    for (const table of fabricUses(copy)) if (table.fabric === name) delete table.fabric;
    for (const border of bordersOf(copy)) {
      if (border.corner_fabric === name) delete border.corner_fabric;
      border.fabrics = border.fabrics.filter((one) => one !== name);
    }
    if (copy.stated) copy.stated = copy.stated.filter((stated) => stated.fabric !== name);
    if (!copy.stated?.length) delete copy.stated;
    copy.border = bordersOf(copy).filter((border) => border.fabrics.length);
    if (!copy.border.length) delete copy.border;
    if (!fabricsOf(copy).length) delete copy.fabric;
  }, { whole: true });
}

/**
 * Every table of a design that may name one fabric; borders apart, which name several.
 *
 * @param {Design} copy
 * @returns {{ fabric?: string }[]}
 */
const fabricUses = (copy) =>
  [copy.panel, copy.lettering, copy.binding, copy.backing, copy.hanging, ...copy.row].filter((table) => table !== undefined);

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
    property, label: labelOf("border", key), where: `border.${index + 1}.${key}`, key, value: byKey(border)[key],
    set: (value, options) => edit((one) => {
      if (value === undefined || value === "") delete byKey(one)[key]; else byKey(one)[key] = value;
    }, options),
  }));
  return make("fieldset", { class: "card" },
    make("legend", {}, t("borderNumber", { number: index + 1 })),
    make("div", { class: "field tall" }, make("span", {}, t("keys/border.fabrics")),
      ...border.fabrics.map((name, place) => make("select", { "aria-label": t("borderFabric", { number: place + 1 }),
        "data-focus": `border-${index}-fabric-${place}`,
        onchange: (event) => edit((one) => { one.fabrics[place] = event.target.value; }) },
        ...fabricNames().map((one) => make("option", { value: one, selected: one === name }, one)))),
      make("div", { class: "photo" },
        border.kind === "strip" ? null : make("button", { class: "plain",
          onclick: () => edit((one) => one.fabrics.push(fabricNames()[0]), { whole: true }) }, t("addTurn")),
        border.fabrics.length > 1 ? make("button", { class: "plain",
          onclick: () => edit((one) => one.fabrics.pop(), { whole: true }) }, t("dropTurn")) : null)),
    ...fields,
    make("button", { class: "plain", onclick: () => change((copy) => {
      bordersOf(copy).splice(index, 1);
      if (!bordersOf(copy).length) delete copy.border;
    }, { whole: true }) }, t("removeBorder", { number: index + 1 })));
}

// The whole design as text

function textForm() {
  const problem = make("p", { class: "problem", role: "alert" });
  const area = make("textarea", { class: "toml", rows: "18", spellcheck: "false", "aria-label": t("textLabel") });
  askJson("write", sent().data).then(({ text }) => { area.value = text; }, () => { area.value = ""; });
  return make("div", { class: "fields" },
    make("p", { class: "note" }, t("textNote")), area, problem,
    make("button", { class: "wide", onclick: async () => {
      problem.textContent = "";
      try {
        take((await askJson("read", { text: area.value })).design);
        say(t("textTaken"));
      } catch (error) {
        if (!(error instanceof Refused)) throw error;
        problem.textContent = error.problems.map((one) => [whereSaid(one.where), one.what, one.fix && t("tryThis", { fix: one.fix })]
          .filter(Boolean).join(": ")).join("\n");
      }
    } }, t("textTake")));
}
