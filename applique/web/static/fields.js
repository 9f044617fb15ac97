// Fields by the model of the design file: each key has the control that its kind of value needs.

import { getJson, Refused } from "./asking.js";
import { changeAt, design, putValue, spaced, tableAt, withUnit } from "./design.js";
import { hinted, make } from "./elements.js";
import { openLength } from "./measures.js";
import { FABRIC_KEYS, fabricNames } from "./naming.js";
import { t } from "./texts.js";
import { labelOf } from "./where.js";

/** @import { ChangeOptions, Design, Entry, Model, Path, Property } from "./types.js" */

/** @typedef {(value: Entry, options?: ChangeOptions) => void} SetEntry */

/** @typedef {{ "data-focus": string, "data-where": string }} Common */

/** @type {Record<string, string>} */
const MODELS = { design: "Design", print: "PrintCorrection", outline: "OutlineLayer", fussy: "FussyCut" };
/** @type {Record<string, Model>} */
let schemas = {};

/** Read the model once. */
export async function loadModel() {
  schemas = (await getJson("openapi.json")).components.schemas;
}

/**
 * The keys of a table, by its name in the design file; none until the model has been read.
 *
 * @param {string} table
 */
export const propertiesOf = (table) => schemas[MODELS[table] ?? table[0].toUpperCase() + table.slice(1)]?.properties ?? {};

/**
 * The choices that a key has; none where it takes something else.
 *
 * @param {Property} property
 */
export function choicesOf(property) {
  const chosen = property.anyOf?.find((one) => one.$ref) ?? property.items ?? property;
  return (chosen.$ref && referred(chosen)?.enum?.map((one) => t(`choices/${modelOf(chosen)}/${one}`))) || [];
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
export function numberOf(text) {
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
export const isTable = (property) => Boolean(referred(property)?.properties ?? (property.items && referred(property.items)?.properties));

/** A color that is left out shows as gray, and says so. */
const NO_COLOR = "#8a8a8a";

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
export function field({ property, label, where, key, value, set, hint, empty }) {
  const chosen = property.anyOf?.find((one) => one.$ref) ?? property;
  const choices = chosen.$ref ? schemas[modelOf(chosen)].enum : undefined;
  const common = { "data-focus": where.split(" ")[0], "data-where": where };
  const help = helpOf(property);
  const type = property.type ?? property.anyOf?.find((one) => one.type !== "null")?.type;
  if (type === "boolean" && property.default === null) {
    return choice({ label, common, values: ["true", "false"], value: value === undefined ? value : String(value), named: (one) => t(`flags/${one}`), help,
      empty: empty ?? t("leftOut"), set: (chosen, options) => set(chosen === "" ? undefined : chosen === "true", options) });
  }
  if (type === "boolean") {
    return make("label", { class: "tick" },
      make("input", { ...common, type: "checkbox", checked: value ?? property.default ?? false,
        onchange: (event) => set(event.target.checked || undefined) }), make("span", {}, label, help));
  }
  if (FABRIC_KEYS.includes(key)) return choice({ label, common, values: fabricNames(), value, named: String, empty: empty ?? t("leftOut"), help, set });
  if (JSON.stringify(property).includes("0-9a-fA-F]{6}")) return colorField({ label, common, value, empty: empty ?? t("leftOut"), help, set });
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
    make("input", { ...common, type: "text", inputmode: isNumber ? "decimal" : null, value: value === "fit" && property.default === "fit" ? "" : shown(value),
      ...hinted(hint ?? (property.default === "fit" ? t("fits") : isLength && !isRun ? openLength(plain(property.default)) : shown(property.default))),
      oninput: (event) => set(typed(event.target.value), { mark: where }),
      onchange: (event) => { if (isLength) event.target.value = spaced(withUnit(event.target.value)); } }));
}

/**
 * A color that may be left out.
 *
 * @param {object} field
 * @param {string} field.label
 * @param {Common} field.common
 * @param {string | undefined} field.value
 * @param {string} field.empty
 * @param {HTMLElement | null} field.help
 * @param {SetEntry} field.set
 */
function colorField({ label, common, value, empty, help, set }) {
  const said = make("span", { class: "note" }, value ?? empty);
  const out = make("button", { class: "plain", "data-focus": `${common["data-focus"]}-out`, hidden: value === undefined,
    "aria-label": t("colorOutOf", { label }), onclick: () => set(undefined, { whole: true }) }, t("colorOut"));
  return make("div", { class: "field" }, make("span", {}, label, help),
    make("span", { class: "photo" },
      make("input", { ...common, type: "color", value: value ?? NO_COLOR, "aria-label": label, oninput: (event) => {
        said.textContent = event.target.value;
        out.hidden = false;
        set(event.target.value, { mark: common["data-focus"] });
      } }), said, out));
}

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
export function fileField({ id, label, where, accept, value, words, take: took, remove }) {
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
 * A choice among numbers that have words; one that is none of them stands as it is.
 *
 * @param {object} choice
 * @param {string} choice.label
 * @param {string} choice.where
 * @param {number} choice.value
 * @param {[value: number, words: string][]} choice.choices
 * @param {SetEntry} choice.set
 */
function numbered({ label, where, value, choices, set }) {
  /** @type {[value: number, words: string][]} */
  const all = choices.some(([one]) => one === value) ? choices : [...choices, [value, String(value)]];
  return make("label", { class: "field" }, make("span", {}, label),
    make("select", { "data-focus": where, "data-where": where, onchange: (event) => set(Number(event.target.value)) },
      ...all.map(([one, words]) => make("option", { value: String(one), selected: one === value }, words))));
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

/**
 * A field that sets a key of the table at `path`, whose indexes count from 0. `also` names another place that it stands for.
 *
 * @param {Path} path
 * @param {string} key
 * @param {{ table?: string, hint?: string, empty?: string, also?: string, property?: Property, choices?: [value: number, words: string][], after?: (table: Record<string, any>, copy: Design) => void }} [more]
 */
export function fieldAt(path, key, { table = String(path.findLast((part) => typeof part === "string")), hint, empty, also, property, choices, after } = {}) {
  const place = placeOf([...path, key]);
  /** @type {SetEntry} */
  const set = (value, options) => changeAt(path, (target, copy) => {
    putValue(target, key, value);
    after?.(target, copy);
  }, options);
  const [value, label] = [tableAt(design(), path)[key], labelOf(path[0] === "row" ? "row" : table, key)];
  if (choices) return numbered({ label, where: place, value, choices, set });
  return field({
    property: property ?? propertiesOf(table)[key], label, key, hint, empty, where: also ? `${place} ${also}` : place, value, set,
  });
}

/**
 * A place as fields are named by it, counted from 1.
 *
 * @param {Path} path
 */
export const placeOf = (path) => path.map((part) => (typeof part === "number" ? part + 1 : part)).join(".");

/**
 * What is set seldom, folded away; it stands open where something of it is set or wrong.
 *
 * @param {string} id
 * @param {string} label
 * @param {boolean} isSet
 * @param {(HTMLElement | null)[]} fields
 * @param {string} [head]
 */
export function more(id, label, isSet, fields, head = t("more")) {
  if (!fields.length) return null;
  const details = make("details", { class: "more", "data-more": id, open: unfolded.get(id) ?? isSet },
    make("summary", { "data-focus": `more-${id}`, "aria-label": t("moreOf", { head, of: label }) }, head),
    make("div", { class: "fields" }, ...fields));
  details.addEventListener("toggle", () => unfolded.set(id, details.open));
  return details;
}

/** What she unfolded or folded herself. @type {Map<string, boolean>} */
const unfolded = new Map();

/**
 * The forms of all tables of a kind, and what adds one.
 *
 * @param {object} entries
 * @param {Path} entries.path where the list of them is
 * @param {(entry: any) => string[]} entries.keysOf what means something in `entry`; what it is by comes first
 * @param {(list: any[]) => object} entries.fresh
 * @param {string} entries.add
 * @param {(number: number) => string} entries.named
 * @param {(number: number) => string} entries.remove
 * @param {(key: string, path: Path) => HTMLElement | null} [entries.own] a field of its own for a key
 * @param {string[]} [entries.seldom] keys that are folded away
 */
export function entryForms({ path, keysOf, fresh, add, named, remove, own = () => null, seldom = [] }) {
  const [outer, table] = [path.slice(0, -1), String(path.at(-1))];
  /** @type {(work: (list: any[]) => void) => void} */
  const edit = (work) => changeAt(outer, (holder) => {
    work(holder[table] ??= []);
    if (!holder[table].length) delete holder[table];
  }, { whole: true });
  /** @type {(entry: any, index: number) => HTMLElement} */
  const form = (entry, index) => {
    const here = [...path, index];
    const one = (/** @type {string} */ key) => own(key, here) ?? fieldAt(here, key, keysOf(entry)[0] !== key ? {} : { also: placeOf(here), after: (table) => {
      for (const other of Object.keys(table)) if (!keysOf(table).includes(other)) delete table[other];
    } });
    return make("fieldset", { class: "card" },
      make("legend", {}, named(index + 1)),
      ...keysOf(entry).filter((key) => !seldom.includes(key)).map(one),
      more(placeOf(here), named(index + 1), seldom.some((key) => entry[key] !== undefined), keysOf(entry).filter((key) => seldom.includes(key)).map(one)),
      make("button", { class: "plain", "data-focus": `remove-${placeOf(here)}`, onclick: () => edit((list) => { list.splice(index, 1); }) },
        remove(index + 1)));
  };
  return [
    ...(tableAt(design(), outer)[table] ?? []).map(form),
    make("button", { class: "wide", "data-focus": `add-${placeOf(path)}`, onclick: () => edit((list) => { list.push(fresh(list)); }) }, add),
  ];
}
