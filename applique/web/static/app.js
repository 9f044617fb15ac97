// The page put together: a change of the design asks for a drawing at once, and for the numbers when hands rest.

import { askJson, events, goodbye, hello, Refused, savedZip } from "./asking.js";
import { countingNumbers, noNumbers, renderNumbers } from "./buying.js";
import { chosen } from "./choosing.js";
import { canRedo, canUndo, change, design, onChange, redo, sent, setValue, take, undo } from "./design.js";
import { drawQuilting } from "./drawing.js";
import { byId, checkRadio, download, focusOn, forgetTyping, make, radios, say } from "./elements.js";
import { noteHeights } from "./fonts.js";
import { renderAccepted, renderFindings } from "./findings.js";
import { makePattern } from "./making.js";
import { markFindings } from "./marks.js";
import { restore, settle } from "./moves.js";
import { addPhoto, onPhotos } from "./photos.js";
import { loadSettings, noteDrawing, renderSettings } from "./settings.js";
import { lookAt, renderDrawing, startTable } from "./table.js";
import { fillTexts, t } from "./texts.js";
import { onPage as placed, rowOf } from "./where.js";
import { addRow, refreshRows, renderRows, showRow } from "./words.js";

/** @import { Acceptance, Design, Drawing, Finding, Places, Plan, Problem, Shown } from "./types.js" */

const RESTING_MS = 700;
/** @type {Design} */
const EXAMPLE = {
  title: "Row Steady Home",
  panel: { width: "41in", height: "47in", fabric: "Mist" },
  lettering: { font: "Fredoka", fabric: "Deep water" },
  row: [{ text: "ROW" }, { text: "STEADY", fabric: "Oar red" }, { text: "HOME" }],
  fabric: [
    { name: "Deep water", color: "#1d3f58" }, { name: "Oar red", color: "#a8402f" }, { name: "Mist", color: "#e9e4d6" },
  ],
  border: [{ kind: "strip", width: "2in", fabrics: ["Oar red"] }],
};

/** @type {Design} */
const METRIC_EXAMPLE = {
  ...EXAMPLE,
  panel: { ...EXAMPLE.panel, width: "104cm", height: "119cm" },
  border: [{ kind: "strip", fabrics: ["Oar red"], width: "5cm" }],
};

/**
 * What a new quilt begins with: language, units and paper of whoever is here.
 *
 * @type {Partial<Design>}
 */
let blank = {};
let planning = false;
let waiting = false;
/** @type {AbortController | null} */
let counting = null;
let resting = 0;
/** @type {Drawing | null} */
let drawn = null;
/** @type {Places} */
let places = { row: [], stated: [] };
/** @type {Shown[]} */
let found = [];
/** @type {Shown[]} */
let refused = [];
/** @type {Acceptance[]} */
let accepted = [];

// Planning: one question at a time, and always the newest next.

async function plan() {
  if (planning) { waiting = true; return; }
  const { data, places: kept } = sent();
  counting?.abort();
  clearTimeout(resting);
  if (!data.row.length) { showNothing(); return; }
  planning = true;
  try {
    const answer = await askJson("plan", data);
    places = kept;
    showPlan(answer);
  } catch (error) {
    places = kept;
    if (error instanceof Refused) showPlan({ drawing: null, findings: plainFindings(error.problems) });
    else showLost(error);
  }
  planning = false;
  if (waiting) { waiting = false; plan(); }
}

/**
 * @param {Problem[]} problems
 * @returns {Finding[]}
 */
const plainFindings = (problems) => problems.map((one) => ({ ...one, stops: true, cures: [], at: null, accept: null }));

/**
 * Findings with their places as the page counts rows; `sent` is the place as the program counts them.
 *
 * @param {Finding[]} list
 * @returns {Shown[]}
 */
const onPage = (list) => list.map((finding) => ({ ...finding, sent: finding.where, where: placed(finding.where, places) }));

/** @param {Plan} plan */
function showPlan({ drawing, findings }) {
  found = onPage(findings);
  byId("empty").hidden = true;
  byId("stage").classList.toggle("behind", !drawing && Boolean(drawn));
  byId("behind").hidden = Boolean(drawing) || !drawn;
  if (drawing) {
    drawn = drawing;
    byId("finished").textContent = drawing.finished;
    document.body.classList.add("drawn");
    renderDrawing(drawing, marked());
    noteDrawing(drawing);
    noteHeights(Object.fromEntries(drawing.rows.map((row, index) => [places.row[index], row.cap_height])));
    countingNumbers();
    resting = window.setTimeout(count, RESTING_MS);
  }
  byId("make").disabled = !drawing;
  showFound({ looking: true });
  performance.mark("drawn");
  document.body.dataset.plans = String(Number(document.body.dataset.plans ?? 0) + 1);
}

/** What was refused last, which stays until the design changes, before what was found. */
const shown = () => [...refused, ...found];

const marked = () => shown().map((finding) => ({ ...finding, where: finding.sent ?? {} }));

/** @param {{ looking?: boolean }} [options] */
function showFound(options) {
  renderFindings(shown(), showMe, options);
  markFindings(marked());
}

/** @param {Shown[]} problems */
function showRefused(problems) {
  refused = problems;
  showFound();
}

/** @param {Shown} finding */
function showMe(finding) {
  const [row, sent] = [rowOf(finding.where), rowOf(finding.sent ?? {})];
  if (finding.stops && row) showRow(row);
  else if (sent) lookAt(sent, finding.where.letter ?? null);
}

function showNothing() {
  found = [];
  drawn = null;
  byId("empty").hidden = false;
  byId("behind").hidden = true;
  byId("stage").classList.remove("behind");
  byId("drawing").replaceChildren();
  byId("scene").replaceChildren();
  byId("finished").textContent = "";
  byId("piece").replaceChildren(make("option", {}, t("nothingToMove")));
  byId("make").disabled = true;
  document.body.classList.remove("drawn");
  noNumbers();
  showFound();
}

/** @param {unknown} error */
function showLost(error) {
  console.warn(error);
  found = plainFindings([{ what: t("lost"), where: {}, fix: "" }]);
  showFound();
}

// Numbers: quick ones when hands rest, better ones when they rest longer.

async function count() {
  counting?.abort();
  counting = new AbortController();
  const { signal } = counting;
  try {
    for await (const [name, data] of events("numbers", sent().data, signal)) {
      if (signal.aborted) return;
      if (name === "numbers" || name === "findings") {
        if (name === "numbers") {
          renderNumbers(data);
          drawQuilting(data.quilting);
          accepted = data.accepted;
          renderAccepted(accepted);
        }
        found = onPage(data.findings);
        showFound();
      } else if (name === "refused") {
        noNumbers();
        found = onPage(data.findings);
        showFound();
      }
    }
  } catch (error) {
    if (error instanceof Error && error.name === "AbortError") return;
    if (!(error instanceof Refused)) showLost(error);
  }
}

// Moves by hand

/**
 * Ask the program for the design after a move, or with a piece put back.
 *
 * @param {number} row
 * @param {number | null} letter
 * @param {string} right
 * @param {string} up
 * @param {boolean} back
 */
async function move(row, letter, right, up, back = false) {
  try {
    const answer = await askJson("move", { design: sent().data, row, letter, right, up, back });
    takeRows(answer.design);
  } catch (error) {
    restore();
    if (!(error instanceof Refused)) throw error;
    showRefused(onPage(plainFindings(error.problems)));
  }
}

/**
 * The moves of a new design, with the rows that have no words yet left where they are.
 *
 * @param {Design} next
 */
function takeRows(next) {
  const kept = places.row;
  change((copy) => {
    next.row.forEach(({ nudge, right, up, turn }, index) => Object.assign(copy.row[kept[index]], { nudge, right, up, turn }));
  });
}

// The head of the page

function renderHead() {
  byId("undo").disabled = !canUndo();
  byId("redo").disabled = !canRedo();
  const title = byId("title");
  if (document.activeElement !== title) title.value = design().title ?? "";
  const words = design().title || design().row.map((row) => row.text).join(" ").trim();
  document.title = words ? `${words} · applique` : "applique";
  checkRadio("units", design().units ?? "in");
}

function renderLight() {
  const dark = isDark();
  byId("light").textContent = t(dark ? "toLight" : "toDark");
  byId("light").setAttribute("aria-label", t(dark ? "switchToLight" : "switchToDark"));
}

const isDark = () => (document.documentElement.dataset.light ?? (matchMedia("(prefers-color-scheme: dark)").matches ? "dark" : "light")) === "dark";

function startHead() {
  byId("undo").onclick = undo;
  byId("redo").onclick = redo;
  byId("make").onclick = () => { settle(); makePattern(); };
  byId("add-row").onclick = () => addRow();
  byId("example").onclick = () => take({ ...blank, ...(blank.units === "cm" ? METRIC_EXAMPLE : EXAMPLE) });
  byId("title").oninput = () => setValue(null, "title", byId("title").value, { mark: "title" });
  for (const radio of radios("units")) {
    radio.onchange = () => setValue(null, "units", radio.value === "in" ? undefined : radio.value, { whole: true });
  }
  byId("back").onclick = () => {
    const piece = chosen();
    restore();
    if (drawn) move(piece.row, piece.letter, "0in", "0in", true);
  };
  byId("light").onclick = () => {
    document.documentElement.dataset.light = isDark() ? "light" : "dark";
    localStorage.setItem("light", document.documentElement.dataset.light);
    renderLight();
  };
  const kept = localStorage.getItem("light");
  if (kept === "light" || kept === "dark") document.documentElement.dataset.light = kept;
  matchMedia("(prefers-color-scheme: dark)").addEventListener("change", renderLight);
  renderLight();
  document.addEventListener("keydown", (event) => {
    if (!(event.ctrlKey || event.metaKey) || document.querySelector("dialog[open]")) return;
    const key = event.key.toLowerCase();
    if (event.target instanceof Element && event.target.matches(".toml")) return;
    if (key === "z" || key === "y") {
      event.preventDefault();
      settle();
      if (key === "y" || event.shiftKey) redo(); else undo();
    } else if (key === "s") {
      event.preventDefault();
      save();
    }
  });
}

// Saving and opening

async function save() {
  settle();
  const dialog = byId("save-dialog");
  const { data } = sent();
  const hasPhotos = data.fabric?.some((fabric) => fabric.photo) ?? false;
  const named = (/** @type {string} */ text) => text.trim().replace(/(\.toml|\.zip)?$/i, hasPhotos ? ".zip" : ".toml");
  let written;
  /** @type {Blob} */
  let content;
  try {
    written = await askJson("write", data);
    content = hasPhotos ? await savedZip(data) : new Blob([written.text], { type: "application/toml" });
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    showRefused(onPage(plainFindings(error.problems)));
    return;
  }
  const name = make("input", { type: "text", value: named(fileName ?? written.name), id: "save-name", maxlength: "100" });
  dialog.replaceChildren(make("form", { method: "dialog", onsubmit: () => {
    const chosenName = named(name.value);
    fileName = chosenName;
    saved = JSON.stringify(design());
    download(content, chosenName);
    say(t("saved", { name: chosenName }));
  } },
    make("h2", { id: "save-head" }, t("saveHead")),
    make("label", { class: "field tall", for: "save-name" }, make("span", {}, t("saveName")), name),
    make("p", { class: "note" }, t("saveNote"), hasPhotos ? ` ${t("saveZipNote")}` : null),
    make("footer", {},
      make("button", { class: "plain", type: "button", onclick: () => dialog.close() }, t("cancel")),
      make("button", { class: "main" }, t("saveDo")))));
  dialog.showModal();
  name.select();
}

/** @type {string | null} */
let fileName = null;
/** @type {string | null} */
let saved = null;

/**
 * Ask before a design is lost that was changed and not saved.
 *
 * @param {Event} event
 */
function guard(event) {
  if (canUndo() && JSON.stringify(design()) !== saved) event.preventDefault();
}

const PHOTO = /\.(jpe?g|png|webp)$/i;

/**
 * Open a design, and the photos of its fabrics that were chosen with it.
 *
 * @param {HTMLInputElement} input
 */
async function openFile(input) {
  const files = [...(input.files ?? [])];
  input.value = "";
  const file = files.find(({ name }) => !PHOTO.test(name));
  if (!file) return;
  try {
    /** @type {Record<string, string>} */
    const photos = {};
    for (const photo of files) if (PHOTO.test(photo.name)) photos[photo.name] = await addPhoto(photo);
    const { design: next } = await askJson("read", { text: (await file.text()).slice(0, 900_000), photos });
    take(next);
    saved = JSON.stringify(design());
    fileName = file.name;
    say(t("opened", { name: file.name }));
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    showRefused(plainFindings(error.problems));
    say(error.message);
  }
}

async function begin() {
  fillTexts();
  startHead();
  startTable(move);
  onPhotos(() => { if (drawn) renderDrawing(drawn, marked()); });
  byId("save").onclick = save;
  byId("open").onclick = () => byId("open-file").click();
  byId("open-file").onchange = () => openFile(byId("open-file"));
  onChange((whole, another) => {
    refused = [];
    if (another) forgetTyping();
    renderHead();
    renderAccepted(accepted);
    if (whole) { renderRows(); renderSettings(); } else refreshRows();
    plan();
  });
  window.addEventListener("beforeunload", guard);
  window.addEventListener("pagehide", goodbye);
  window.addEventListener("pageshow", (event) => { if (event.persisted) hello(); });
  const start = await hello();
  const kept = sessionStorage.getItem("design");
  const first = kept ? JSON.parse(kept) : start.design;
  fileName = start.name || null;
  if (!start.name) blank = start.design;
  take(first.row?.length ? first : { ...first, row: [{ text: "" }] }, { fresh: true });
  byId("title").disabled = false;
  if (!design().row[0].text) focusOn(byId("rows"), "input");
  document.body.classList.add("ready");
  performance.mark("ready");
  await loadSettings();
  renderSettings();
}

begin();
