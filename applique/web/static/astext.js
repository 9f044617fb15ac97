// The whole design as text, live both ways: it follows the design until one types in it, and is then taken only when asked.

import { askJson, Refused } from "./asking.js";
import { design, sent, take } from "./design.js";
import { byId, make, say } from "./elements.js";
import { t } from "./texts.js";
import { tomlOf } from "./toml.js";
import { whereSaid } from "./where.js";

/** @import { ReadProblem } from "./types.js" */

/** What was typed and not taken yet. @type {string | null} */
let typed = null;
/** The design that the text shows, and that what was typed began from. */
let shown = { text: "", of: "" };
/** Whether it was asked if the text may be taken although the design has changed. */
let asked = false;

const now = () => JSON.stringify(sent().data);

const area = () => /** @type {HTMLTextAreaElement | null} */ (document.querySelector("textarea.toml"));

/** The form, with what was typed and not taken still in it. */
export function textForm() {
  const form = make("div", { class: "fields", id: "as-text" },
    make("p", { class: "note" }, t("textNote")),
    make("textarea", { class: "toml", rows: "18", spellcheck: "false", "aria-label": t("textLabel"), "data-focus": "toml",
      value: typed ?? shown.text, oninput: (event) => {
        typed = event.target.value === shown.text ? null : event.target.value;
        asked = false;
        showState();
      } }),
    make("div", { id: "text-said", class: "problem", role: "alert" }),
    make("p", { id: "text-changed", class: "problem", role: "status", hidden: true }),
    make("button", { class: "wide", id: "text-take", "data-focus": "text-take", onclick: takeText }, t("textTake")),
    make("button", { class: "plain", id: "text-back", "data-focus": "text-back", hidden: true, onclick: showDesign }, t("textBack")));
  queueMicrotask(followDesign);
  return form;
}

/** Show what the design is now, unless something else is typed in its text. */
export async function followDesign() {
  if (!area()) return;
  showState();
  if (typed !== null || shown.of === now()) return;
  const { data } = sent();
  const of = JSON.stringify(data);
  let text;
  try {
    text = (await askJson("write", data)).text;
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    text = tomlOf(data);
  }
  if (typed !== null || of !== now()) return;
  shown = { text, of };
  const field = area();
  if (field) field.value = text;
}

/** Whether the design has changed since the text was that of it. */
const isBehind = () => typed !== null && shown.of !== now();

function showState() {
  if (!area()) return;
  byId("text-changed").textContent = isBehind() ? t(asked ? "textAsk" : "textBehind") : "";
  byId("text-changed").hidden = !isBehind();
  byId("text-take").textContent = t(isBehind() && asked ? "textTakeAnyway" : "textTake");
  byId("text-back").hidden = typed === null;
}

function showDesign() {
  typed = null;
  asked = false;
  byId("text-said").replaceChildren();
  byId("text-take").focus();
  followDesign();
}

async function takeText() {
  byId("text-said").replaceChildren();
  const text = typed;
  if (text === null) { say(t("textTaken")); return; }
  if (isBehind() && !asked) { asked = true; showState(); return; }
  try {
    const of = now();
    const next = (await askJson("read", { text })).design;
    if (of !== now()) { asked = false; showState(); return; }
    const isMore = typed !== text; // typed while that was read: it stays, for the next time
    if (!isMore) typed = null;
    asked = false;
    if (JSON.stringify(next) === JSON.stringify(design())) followDesign(); else take(next);
    if (isMore) {
      shown = { text, of: now() };
      showState();
    }
    say(t("textTaken"));
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    byId("text-said").replaceChildren(...error.problems.map((one) => problemAt(one, text)));
  }
}

/**
 * What is wrong, with a button that goes to its line.
 *
 * @param {ReadProblem} problem
 * @param {string} text
 */
function problemAt({ what, where, fix, line }, text) {
  const goTo = (/** @type {number} */ number) => {
    const before = text.split("\n").slice(0, number - 1).join("\n").length + (number > 1 ? 1 : 0);
    area()?.focus();
    area()?.setSelectionRange(before, before + (text.split("\n")[number - 1] ?? "").length);
  };
  return make("p", {},
    line ? make("button", { class: "plain", onclick: () => goTo(line) }, t("textLine", { number: line })) : null,
    line ? " " : null, [[whereSaid(where), what].filter(Boolean).join(": "), fix && t("tryThis", { fix })].filter(Boolean).join(". "));
}
