// A quilt for each name of a list: the list is chosen or pasted and shown as it was read; then each is made, and all come as one zip.

import { askJson, events, getBlob, Refused } from "./asking.js";
import { sent } from "./design.js";
import { byId, download, keepingFocus, make, say } from "./elements.js";
import { t, TEXTS } from "./texts.js";
import { onPage, whereSaid } from "./where.js";

/** @import { Fills, LineProblem, NamesRead } from "./types.js" */

const RESTING_MS = 300;
/** Characters of a list that the program reads at once. */
const MOST = 500_000;

/** What was pasted or chosen last, which stays until the page is left. */
let text = "";
/** @type {boolean | null} */
let header = null;
/** @type {NamesRead | null} */
let read = null;
/** @type {Fills} */
let fills = { rows: {}, title: null };
let isForCustomers = false;
let wrong = "";
let timer = 0;
let asked = 0;
/** @type {AbortController | null} */
let stopping = null;

/** Ask for the list. */
export function askNames() {
  const dialog = byId("names-dialog");
  stopping?.abort();
  dialog.onclose = () => stopping?.abort();
  showForm();
  if (!dialog.open) dialog.showModal();
  if (text) readSoon(0);
}

function showForm() {
  const dialog = byId("names-dialog");
  dialog.replaceChildren(
    head(t("namesHead")),
    make("p", { class: "note", id: "names-note" }, t("namesNote")),
    make("div", { class: "field tall" },
      make("label", { for: "names-text" }, t("namesText")),
      make("textarea", { id: "names-text", rows: "5", spellcheck: "false", "aria-describedby": "names-note", "data-focus": "names-text", value: text,
        oninput: (event) => take(event.target.value) })),
    make("p", { class: "photo" }, make("button", { class: "button", "data-focus": "names-choose", onclick: () => byId("names-file").click() }, t("namesChoose"))),
    make("input", { type: "file", id: "names-file", accept: ".csv,.tsv,.txt,text/csv,text/plain", hidden: true, "aria-label": t("namesChoose"),
      onchange: (event) => chooseFile(event.target) }),
    make("div", { id: "names-read", "aria-live": "polite" }),
    make("footer", {}, make("button", { class: "plain", "data-focus": "names-cancel", onclick: () => dialog.close() }, t("cancel")),
      make("button", { class: "main", id: "names-make", "data-focus": "names-make", onclick: () => makeAll() }, t("namesMakeNone"))));
  renderRead();
}

/** @param {string} title */
const head = (title) => make("header", {}, make("h2", { id: "names-head" }, title),
  make("button", { class: "round", "aria-label": t("close"), "data-focus": "names-close", onclick: () => byId("names-dialog").close() }, "×"));

/** @param {string} next */
function take(next) {
  text = next;
  header = null;
  readSoon(RESTING_MS);
}

/** @param {HTMLInputElement} input */
async function chooseFile(input) {
  const [file] = input.files ?? [];
  input.value = "";
  if (!file) return;
  try {
    if (file.size > MOST * 4) throw new RangeError();
    byId("names-text").value = new TextDecoder("utf-8", { fatal: true }).decode(await file.arrayBuffer());
    take(byId("names-text").value);
  } catch (error) {
    if (!(error instanceof RangeError || error instanceof TypeError)) throw error;
    [read, wrong] = [null, t(error instanceof RangeError ? "namesTooLarge" : "namesNotText", { name: file.name })];
    renderRead();
  }
}

/** @param {number} delay */
function readSoon(delay) {
  clearTimeout(timer);
  timer = window.setTimeout(readList, delay);
}

async function readList() {
  asked += 1;
  const mine = asked;
  /** @type {NamesRead | null} */
  let answer = null;
  let problem = text.length > MOST ? t("namesTooLarge", { name: t("namesList") }) : "";
  if (text.trim() && !problem) {
    try {
      answer = await askJson("names", { design: sent().data, text, header });
    } catch (error) {
      if (!(error instanceof Refused)) throw error;
      problem = error.problems.map((one) => [one.what, one.fix].filter(Boolean).join(". ")).join("\n");
    }
  }
  if (mine !== asked) return;
  const isAnother = JSON.stringify(answer?.columns) !== JSON.stringify(read?.columns);
  [read, wrong] = [answer, problem];
  if (answer && isAnother) fills = answer.fills;
  renderRead();
}

const isFilled = () => Boolean(read && (read.placed.length || Object.keys(fills.rows).length || fills.title !== null));

function renderRead() {
  const place = document.getElementById("names-read");
  if (!place) return;
  const count = read?.count ?? 0;
  keepingFocus(() => place.replaceChildren(
    make("p", { class: "problem" }, wrong),
    ...(read ? readParts(read) : [])));
  byId("names-make").textContent = count ? t("namesMake", { count }) : t("namesMakeNone");
  byId("names-make").disabled = !count || !isFilled();
}

/** @param {NamesRead} list */
function readParts(list) {
  const rows = sent().data.row;
  return [
    make("p", { class: "names-count" }, t("namesCount", { count: list.count })),
    make("label", { class: "tick" }, make("input", { type: "checkbox", checked: list.headed, "data-focus": "names-header",
      onchange: (event) => { header = event.target.checked; readSoon(0); } }), t("namesHeader")),
    make("div", { class: "names-table", tabindex: "0", role: "group", "aria-label": t("namesFirst") },
      make("table", {}, make("thead", {}, make("tr", {}, make("th", { scope: "col" }, t("namesLine")),
        ...list.columns.map((name) => make("th", { scope: "col" }, columnName(list, name))))),
      make("tbody", {}, ...list.rows.map(({ line, cells }) => make("tr", {}, make("th", { scope: "row" }, String(line)),
        ...Array.from({ length: Math.max(cells.length, list.columns.length) }, (_, index) => make("td", {}, cells[index] ?? ""))))))),
    ...(list.count > list.rows.length ? [make("p", { class: "note" }, t("namesMore", { count: list.count - list.rows.length }))] : []),
    problemList(list.problems),
    make("h3", {}, t("namesWhere")),
    ...(list.placed.length ? [make("p", { class: "note" }, t("namesPlaced", { names: list.placed.map((name) => `{${name}}`).join(", ") }))] : []),
    ...rows.map((row, index) => choice(t("pieceRow", { number: index + 1, text: row.text }), list, fills.rows[index] ?? null, `names-row-${index}`,
      (column) => { if (column === null) delete fills.rows[index]; else fills.rows[index] = column; })),
    choice(t("title"), list, fills.title, "names-title", (column) => { fills.title = column; }),
    make("fieldset", { class: "choice names-edition" }, make("legend", { class: "hidden" }, t("namesEdition")),
      ...[false, true].map((forCustomers) => make("label", {}, make("input", { type: "radio", name: "edition", checked: isForCustomers === forCustomers,
        "data-focus": `names-edition-${forCustomers}`, onchange: () => { isForCustomers = forCustomers; } }), make("span", {}, t(forCustomers ? "namesForCustomers" : "namesForHer"))))),
  ];
}

/**
 * @param {NamesRead} list
 * @param {string} name
 */
const columnName = (list, name) => (list.headed ? name : t("namesColumn", { number: name }));

/**
 * @param {string} label
 * @param {NamesRead} list
 * @param {number | null} column
 * @param {string} name
 * @param {(column: number | null) => void} set
 */
const choice = (label, list, column, name, set) => make("label", { class: "field" }, make("span", {}, label),
  make("select", { "data-focus": name, onchange: (event) => {
    set(event.target.value === "" ? null : Number(event.target.value));
    renderRead();
  } },
    make("option", { value: "" }, t("namesStays")),
    ...list.columns.map((one, index) => make("option", { value: String(index), selected: index === column }, columnName(list, one)))));

/** @param {LineProblem[]} problems */
const problemList = (problems) => make("ul", { class: "names-problems" }, ...problems.map(problemSaid));

/** @param {LineProblem} problem */
function problemSaid({ line, name, what, where, fix }) {
  const said = [t("namesAtLine", { number: line }), name, whereSaid(where)].filter(Boolean).join(", ");
  return make("li", { class: "finding stops" }, make("div", {}, make("p", { class: "what" }, make("strong", {}, `${said}: `), what),
    fix ? make("p", { class: "note" }, t("tryThis", { fix })) : null));
}

// Making

async function makeAll() {
  const dialog = byId("names-dialog");
  const { data, places } = sent();
  stopping = new AbortController();
  const { signal } = stopping;
  const state = { made: "", name: "", count: read?.count ?? 0, ready: 0, stopped: false };
  const bar = make("progress", { max: String(state.count), value: "0", "aria-label": t("making") });
  const now = make("p", { id: "names-now" });
  const step = make("p", { class: "note" });
  const found = problemList([]);
  const stop = make("button", { class: "main", "data-focus": "names-stop", onclick: () => { state.stopped = true; stopping?.abort(); } }, t("namesStop"));
  dialog.replaceChildren(head(t("making")), bar, now, step, found, make("footer", {}, stop));
  stop.focus();
  try {
    const question = { design: data, text, header: read?.headed, fills, edition: isForCustomers ? "customers" : "maker" };
    for await (const [kind, told] of events("names/make", question, signal)) {
      if (kind === "begun") [state.made, state.name, state.count] = [told.made, told.name, told.count];
      else if (kind === "name") {
        now.textContent = t("namesNow", { number: told.number, count: state.count, name: told.name });
        bar.value = told.number - 1;
        step.textContent = "";
        say(now.textContent);
      } else if (kind === "step") step.textContent = stepSaid(told.step);
      else if (kind === "madeName") state.ready += 1;
      else if (kind === "refusedName") {
        const problems = told.problems.map((one) => ({ ...one, line: told.line, name: told.name, where: onPage(one.where, places) }));
        found.append(...problems.map(problemSaid));
      }
    }
  } catch (error) {
    if (!state.stopped && signal.aborted) return;
    if (!signal.aborted) {
      if (!(error instanceof Refused)) throw error;
      found.append(...error.problems.map((one) => make("li", { class: "finding stops" }, make("div", {}, make("p", { class: "what" }, one.what),
        one.fix ? make("p", { class: "note" }, t("tryThis", one)) : null))));
    }
  }
  if (!dialog.open) return;
  showEnd(dialog, state, found);
}

/** @param {string} step */
const stepSaid = (step) => t(`${step in TEXTS.steps ? "steps" : "customerSteps"}/${step}`);

/**
 * @param {HTMLDialogElement} dialog
 * @param {{ made: string, name: string, count: number, ready: number, stopped: boolean }} state
 * @param {HTMLElement} found
 */
function showEnd(dialog, { made, name, count, ready, stopped }, found) {
  const problem = make("p", { class: "problem", role: "alert" });
  const title = t(stopped ? "namesStopped" : "namesReady", { number: ready, count });
  const all = make("button", { class: "main", "data-focus": "names-all", disabled: !ready, onclick: async () => {
    problem.textContent = "";
    try {
      download(await getBlob(`names/${made}/folder`), `${name}.zip`);
    } catch (error) {
      if (!(error instanceof Refused)) throw error;
      problem.textContent = error.message;
    }
  } }, t("namesAll"));
  const again = make("button", { class: "plain", "data-focus": "names-again", onclick: () => askNames() }, t("namesAgain"));
  dialog.replaceChildren(head(title), make("p", { class: "deed" }, all), problem, found, make("footer", {}, again));
  (ready ? all : again).focus();
  say(title);
}
