// Borders to choose from, as small pictures that the program draws of what they would be here; one click adds one.

import { askJson, Refused } from "./asking.js";
import { change, design, onChange } from "./design.js";
import { keepingFocus, make, say } from "./elements.js";
import { fabricsOf, freshFabric } from "./naming.js";
import { t } from "./texts.js";

/** @import { BorderChoice, Design } from "./types.js" */

/** So many fabrics of its own may a border need. */
const MOST_SPARE = 2;
/** What was asked last, and what came; null before the first answer. @type {{ asked: string, borders: BorderChoice[] | null }} */
let latest = { asked: "", borders: null };
/** @type {Promise<void> | null} */
let asking = null;
/** The rows of pictures in the page, and what each is called. @type {Map<HTMLElement, string>} */
const shown = new Map();

/**
 * A row of pictures of the borders that can be added.
 *
 * @param {string} name tells it from others for the keyboard
 */
export function borderPictures(name) {
  const row = make("div", { class: "border-pictures", role: "group", "aria-label": t("addBorder") });
  shown.set(row, name);
  fill(row, name);
  refreshBorders();
  return row;
}

/** The pictures in sight become those of the design as it is now. */
export async function refreshBorders() {
  await null; // what is being put into the page is in it then
  for (const row of shown.keys()) if (!row.isConnected) shown.delete(row); else noteAge(row);
  if (shown.size) await newest();
}

/** What the choice of borders goes by; words have no part in it. */
function question() {
  const { units, panel, fabric, border, yardage } = design();
  const copy = structuredClone({ row: [{ text: "A" }], units, panel, fabric, border, yardage });
  /** @type {Design["fabric"]} */
  const spare = [];
  for (let count = 0; count < MOST_SPARE; count += 1) spare.push(freshFabric({ ...copy, fabric: [...(copy.fabric ?? []), ...spare] }));
  return JSON.stringify({ design: copy, spare });
}

/** Ask until the answer is that of the design as it is; one question at a time. */
async function newest() {
  while (question() !== latest.asked) await (asking ??= askOnce());
}

async function askOnce() {
  const asked = question();
  /** @type {BorderChoice[] | null} */
  let borders = null;
  try {
    borders = (await askJson("borders", JSON.parse(asked))).borders;
  } catch (error) {
    if (!(error instanceof Refused)) throw error; // what is wrong is said among the findings
  }
  latest = { asked, borders };
  asking = null;
  keepingFocus(() => { for (const [row, name] of shown) fill(row, name); });
}

/**
 * @param {HTMLElement} row
 * @param {string} name
 */
function fill(row, name) {
  const { borders } = latest;
  noteAge(row);
  row.replaceChildren(...(borders ?? []).map((choice, index) => make("button", {
    class: "border-picture", "data-focus": index ? `${name}-${choice.look.replaceAll(" ", "-")}` : name, onclick: () => add(choice.look) },
    make("img", { src: `data:image/svg+xml,${encodeURIComponent(choice.picture)}`, alt: "" }),
    make("span", {}, choice.name), make("small", {}, choice.size), ...choice.does.map((said) => make("small", { class: "does" }, said)))));
  if (borders && !borders.length) row.append(make("p", { class: "note" }, t("bordersUneven")));
}

/**
 * Pictures of the design as it was are shown as such until the new ones come.
 *
 * @param {HTMLElement} row
 */
const noteAge = (row) => row.setAttribute("aria-busy", String(question() !== latest.asked));
onChange(() => { for (const row of shown.keys()) noteAge(row); });

/** @param {string} look */
async function add(look) {
  await newest();
  const choice = latest.borders?.find((one) => one.look === look);
  if (!choice) return;
  const { border, panel, fabric } = choice.changes;
  change((copy) => {
    if (fabric.length) fabricsOf(copy).push(...fabric);
    if (Object.keys(panel).length) copy.panel = { ...copy.panel, ...panel };
    (copy.border ??= []).push(...border);
  }, { whole: true });
  say([t("borderAdded", { name: choice.name, size: choice.size }), ...choice.does].join(" "));
}
