// Everything else that a design can hold, folded away; the fields come from the model of the design file.

import { askJson, getJson, Refused } from "./asking.js";
import { change, design, sent, setValue, take, valueOf, withUnit } from "./design.js";
import { byId, keepingFocus, make, say } from "./elements.js";
import { chooseFont } from "./fonts.js";
import { photos, setPhoto } from "./photos.js";
import { t } from "./texts.js";
import { labelOf, whereSaid } from "./where.js";
import { fabricNames } from "./words.js";

const GROUPS = [
  ["panel", ["panel"]],
  ["fabric", []],
  ["lettering", ["lettering"]],
  ["border", []],
  ["sewing", ["outline", "sewing", "stitching", "quilting"]],
  ["finishing", ["binding", "backing", "batting", "hanging"]],
  ["paper", ["paper", "print"]],
  ["cutting", ["fusible", "cutting"]],
  ["cloth", ["cloth"]],
  ["about", ["design", "label", "publisher"]],
  ["text", []],
];
const HIDDEN = { lettering: ["axes"], design: ["title", "units"] };
const FABRIC_KEYS = ["fabric", "corner_fabric"];
/** The forms are drawn anew after a click has ended, or the button under it would be gone before it is released. */
const CLICK_MS = 300;
const opened = new Set();
let schemas = null;
let drawing = null;

/** Read the model once. */
export async function loadSettings() {
  schemas = (await getJson("openapi.json")).components.schemas;
}

/** What the last drawing said: contrasts, and the fabrics that stand in where the design names none. */
export function noteDrawing(latest) {
  drawing = latest;
  const list = document.querySelector("#contrasts");
  if (list) list.replaceChildren(...contrasts());
}

/** Draw the fold-outs anew. */
export function renderSettings() {
  if (!schemas) return;
  keepingFocus(() => byId("settings").replaceChildren(...GROUPS.map(fold)));
}

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

const schemaName = (table) => ({ design: "Design", print: "PrintCorrection", outline: "OutlineLayer" })[table] ?? table[0].toUpperCase() + table.slice(1);

function tableFields(table) {
  const inDesign = table === "design" ? null : table;
  return Object.entries(schemas[schemaName(table)].properties)
    .filter(([key, property]) => !(HIDDEN[table] ?? []).includes(key) && key !== "font" && !isTable(property))
    .map(([key, property]) => field({
      property, label: labelOf(table, key), where: inDesign ? `${table}.${key}` : key, key,
      value: valueOf(inDesign, key),
      set: (value, options) => setValue(inDesign, key, value, options),
    }));
}

const isTable = (property) => {
  const target = property.$ref && schemas[property.$ref.split("/").pop()];
  return (target && target.properties) || (property.items && property.items.$ref);
};

function field({ property, label, where, key, value, set }) {
  const kind = property.$ref?.split("/").pop();
  const target = kind ? schemas[kind] : property;
  const common = { "data-focus": where, "data-where": where };
  const help = property.description ? make("small", {}, property.description) : null;
  if (property.type === "boolean") {
    return make("label", { class: "tick" },
      make("input", { ...common, type: "checkbox", checked: value ?? property.default ?? false,
        onchange: (event) => set(event.target.checked || undefined) }), make("span", {}, label, help));
  }
  if (FABRIC_KEYS.includes(key)) return choice(label, common, fabricNames().map((name) => [name, name]), value, t("leftOut"), help, set);
  if (target.enum) return choice(label, common, target.enum.map((one) => [one, t(`choices/${kind}/${one}`)]), value ?? property.default, null, help, set, property.default);
  if (property.type === "array") {
    return make("label", { class: "field tall" }, make("span", {}, label, help),
      make("textarea", { ...common, rows: "3", value: (value ?? property.default ?? []).join("\n"),
        onchange: (event) => set(event.target.value.split("\n").map((line) => line.trim()).filter(Boolean)) }));
  }
  const isNumber = property.type === "integer" || property.type === "number";
  const isLength = !isNumber && JSON.stringify(property).includes("examples");
  const typed = (text) => (isNumber ? (text === "" ? undefined : Number(text)) : isLength ? withUnit(text) : text);
  return make("label", { class: "field" }, make("span", {}, label, help),
    make("input", { ...common, type: isNumber ? "number" : "text", value: value === "fit" ? "" : String(value ?? ""),
      placeholder: property.default === "fit" ? t("fits") : String(property.default ?? ""),
      oninput: (event) => set(typed(event.target.value), { mark: where }),
      onchange: (event) => { if (isLength) event.target.value = withUnit(event.target.value); } }));
}

function choice(label, common, values, value, empty, help, set, blank) {
  return make("label", { class: "field" }, make("span", {}, label, help),
    make("select", { ...common, onchange: (event) => set(event.target.value === blank ? undefined : event.target.value, { whole: true }) },
      empty === null ? null : make("option", { value: "" }, empty),
      ...values.map(([one, words]) => make("option", { value: one, selected: one === value }, words))));
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
  return (drawing?.rows ?? []).map((row) => make("li", { class: "contrast" },
    make("span", { class: "swatch", color: row.color }), make("span", { class: "swatch", color: drawing.panel.color }),
    make("span", {}, t("contrast", { number: row.number, ratio: row.contrast }), " · ",
      t({ low: "contrastLow", fair: "contrastFair", good: "contrastGood" }[row.reads]))));
}

function fabricForm(fabric, index) {
  const set = (key, value, options) => change((copy) => {
    if (value === "") delete copy.fabric[index][key]; else copy.fabric[index][key] = value;
  }, options);
  const where = (key) => ({ "data-focus": `fabric-${index}-${key}`, "data-where": `fabric.${index + 1}.${key}` });
  const text = (key, label, hint, isLength) => make("label", { class: "field" }, make("span", {}, t(label)),
    make("input", { ...where(key), type: "text", value: fabric[key] ?? "", placeholder: hint,
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
    text("usable_width", "keys/fabric.usable_width", "40in", true),
    make("label", { class: "field" }, make("span", {}, t("keys/fabric.turns")),
      make("select", { ...where("turns"), onchange: (event) => set("turns", event.target.value) },
        ...["half", "upright", "quarter"].map((value) =>
          make("option", { value, selected: (fabric.turns ?? "half") === value }, t(`choices/Turns/${value}`))))),
    text("have", "keys/fabric.have", t("fabricHaveHint"), false),
    make("div", { class: "photo" },
      make("label", { class: "button" }, t("photo"),
        make("input", { type: "file", accept: "image/*", class: "hidden",
          onchange: (event) => { if (event.target.files.length) setPhoto(fabric.name, event.target.files[0]); } })),
      photo ? make("label", { class: "field" }, make("span", {}, t("photoWide")),
        make("input", { type: "number", min: "1", max: "200", value: String(photo.wide),
          onchange: (event) => setPhoto(fabric.name, null, Number(event.target.value) || 12) })) : null,
      photo ? make("button", { class: "plain", onclick: () => setPhoto(fabric.name, undefined) },
        t("removePhoto")) : null));
}

function addFabric() {
  change((copy) => {
    copy.fabric ??= [];
    const names = copy.fabric.map((fabric) => fabric.name);
    let number = names.length + 1;
    while (names.includes(t("newFabric", { number }))) number += 1;
    copy.fabric.push({ name: t("newFabric", { number }), color: FRESH[names.length % FRESH.length] });
  }, { whole: true });
}

const USES = [["panel"], ["lettering"], ["binding"], ["backing"], ["hanging"]];

/** Give a fabric another name wherever the design says it. */
function rename(index, name) {
  if (!name) return renderSettings();
  const before = design().fabric[index].name;
  setPhoto(before, null, undefined, name);
  return change((copy) => {
    copy.fabric[index].name = name;
    eachUse(copy, (table, key) => { if (table[key] === before) table[key] = name; });
    for (const border of copy.border ?? []) border.fabrics = border.fabrics.map((one) => (one === before ? name : one));
  }, { whole: true });
}

function removeFabric(index) {
  const { name } = design().fabric[index];
  setPhoto(name, undefined);
  change((copy) => {
    copy.fabric.splice(index, 1);
    eachUse(copy, (table, key) => { if (table[key] === name) delete table[key]; });
    for (const border of copy.border ?? []) border.fabrics = border.fabrics.filter((one) => one !== name);
    copy.border = (copy.border ?? []).filter((border) => border.fabrics.length);
    if (!copy.border.length) delete copy.border;
    if (!copy.fabric.length) delete copy.fabric;
  }, { whole: true });
}

function eachUse(copy, work) {
  for (const [table] of USES) if (copy[table]) work(copy[table], "fabric");
  for (const row of copy.row) work(row, "fabric");
  for (const border of copy.border ?? []) work(border, "corner_fabric");
}

// Borders

function borderForms() {
  const borders = design().border ?? [];
  if (!fabricNames().length) return make("p", { class: "note" }, t("borderNeedsFabric"));
  return make("div", { class: "fields" },
    ...borders.map(borderForm),
    make("button", { class: "wide", "data-focus": "add-border", onclick: () => change((copy) => {
      (copy.border ??= []).push({ kind: "strip", fabrics: [fabricNames()[0]], width: copy.units === "cm" ? "5cm" : "2in" });
    }, { whole: true }) }, t("addBorder")));
}

/** What can be said of each kind of border, beside its fabrics. */
const BORDER_KEYS = {
  strip: ["kind", "width", "first", "corners", "corner_fabric", "joins"],
  squares: ["kind", "size", "first"],
  rectangles: ["kind", "width", "size", "first"],
};

function borderForm(border, index) {
  const edit = (work, options) => change((copy) => work(copy.border[index]), options);
  const fields = Object.entries(schemas.Border.properties).filter(([key]) => BORDER_KEYS[border.kind].includes(key)).map(([key, property]) => field({
    property, label: labelOf("border", key), where: `border.${index + 1}.${key}`, key, value: border[key],
    set: (value, options) => edit((one) => { if (value === undefined || value === "") delete one[key]; else one[key] = value; }, options),
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
      copy.border.splice(index, 1);
      if (!copy.border.length) delete copy.border;
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
