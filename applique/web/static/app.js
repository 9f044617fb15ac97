// The page put together: a change of the design asks for a drawing at once, and for the numbers when hands rest.

import { askJson, events, Gone, goodbye, hello, onGone, Refused, watchProgram, whenBack } from "./asking.js";
import { ageNumbers, countingNumbers, noNumbers, renderNumbers } from "./buying.js";
import { followDesign } from "./astext.js";
import { closeBeside, renderBeside, startBeside } from "./beside.js";
import { renderCard, startCard } from "./card.js";
import { chosen, keyOf } from "./choosing.js";
import { amend, canRedo, canUndo, change, design, indexOfRow, markOfWord, onChange, redo, sent, setValue, take, undo } from "./design.js";
import { drawQuilting } from "./drawing.js";
import { onEffort } from "./effort.js";
import { byId, checkRadio, focusOn, forgetTyping, make, radios, say, setText } from "./elements.js";
import { noteFile, save, startFiles } from "./files.js";
import { noteHeights, onFontAdded } from "./fonts.js";
import { ageFindings, renderAccepted, renderFindings } from "./findings.js";
import { isKept } from "./keeping.js";
import { makePattern } from "./making.js";
import { restore, settle } from "./moves.js";
import { onPhotos } from "./photos.js";
import { loadSettings, noteDrawing, renderSettings } from "./settings.js";
import { startSheets } from "./sheets.js";
import { renderShelf, startShelf } from "./shelf.js";
import { markFindings } from "./spots.js";
import { beginQuilt } from "./start.js";
import { lookAt, renderDrawing, showTried, startTable } from "./table.js";
import { movesOf, movesToFollow, noteFollowed, noteMoves } from "./following.js";
import { fillTexts, t } from "./texts.js";
import { isTrying, startTrying } from "./trying.js";
import { lookAgain, looking } from "./view.js";
import { onPage as placed, rowOf, whereSaid } from "./where.js";
import { addRow, refreshRows, renderRows, showRow } from "./words.js";

/** @import { Acceptance, Design, Drawing, Finding, Picture, Places, Plan, Problem, Shown, Where } from "./types.js" */

const RESTING_MS = 700;
/** A name of the window stands so long at least. */
const NAMED_MS = 400;
/** So much of what stops the work is said under the drawing; all of it stands on the quilt and in the list. */
const MOST_SAID = 2;
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
/** The lines of quilting of that drawing, once they have come. @type {Picture | null} */
let quilted = null;
/** How the quilt was looked at before something was tried on it. @type {ReturnType<typeof looking> | null} */
let lookedFrom = null;
/** Whether the drawing is of before, because what there is now cannot be drawn. */
let isStale = false;
/** The rows of the drawing, by their keys. @type {number[]} */
let drawnKeys = [];
/** How many changes the design has seen, and how many that of the drawing had. */
let changes = 0;
let drawnOf = 0;
/** @type {Places} */
let places = { row: [], stated: [], accepted: [], keys: [] };
/** @type {Shown[]} */
let found = [];
/** How many changes the design had seen of which that was found. */
let foundOf = 0;
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
  const asked = changes;
  try {
    const answer = await askJson("plan", data);
    places = kept;
    showPlan(answer, asked);
  } catch (error) {
    places = kept;
    if (error instanceof Refused) showPlan({ drawing: null, findings: plainFindings(error.problems) }, asked);
    else showWrong(error);
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
const onPage = (list) => list.map((finding) => shownAt(finding, places));

/**
 * @param {Finding} finding
 * @param {Places} sentFrom
 * @returns {Shown}
 */
const shownAt = (finding, sentFrom) => ({ ...finding, sent: finding.where, where: placed(finding.where, sentFrom) });

/**
 * @param {Plan} plan
 * @param {number} asked how many changes its design had seen
 */
function showPlan({ drawing, findings }, asked) {
  found = onPage(findings);
  foundOf = asked;
  isStale = !drawing && Boolean(drawn);
  byId("empty").hidden = Boolean(drawing || drawn);
  byId("empty").classList.add("refused");
  byId("stage").classList.toggle("behind", isStale);
  if (drawing) {
    drawn = drawing;
    drawnKeys = places.keys;
    drawnOf = asked;
    quilted = null;
    setText(byId("finished"), drawing.finished);
    document.body.classList.add("drawn");
    if (!isTrying()) renderDrawing(drawing, drawnKeys);
    noteDrawing(drawing);
    if (drawing.photos.length) renderShelf();
    noteHeights(Object.fromEntries(drawing.rows.map((row, index) => [places.row[index], row.cap_height])));
    countingNumbers();
    resting = window.setTimeout(count, RESTING_MS);
    moving = moving.then(followSizes);
  } else if (drawn) {
    setText(byId("finished"), t("sizeBefore", { size: drawn.finished }));
    ageNumbers();
  }
  byId("make").disabled = !drawing;
  showFound({ looking: true });
  performance.mark("drawn");
  document.body.dataset.plans = String(Number(document.body.dataset.plans ?? 0) + 1);
}

/** What was refused last, which stays until the design changes, before what was found. */
const shown = () => [...refused, ...found];

/** What is shown, with its place as the drawing counts rows: one of before may lack the row. */
const marked = () => shown().map((finding) => ({ ...finding, drawn: onDrawing(finding) }));

/**
 * @param {Shown} finding
 * @returns {Where}
 */
function onDrawing({ sent = {} }) {
  const row = rowOf(sent);
  if (!row) return sent;
  const number = drawnKeys.indexOf(places.keys[row - 1]) + 1;
  return number ? { ...sent, path: ["row", number] } : {};
}

/** @param {{ looking?: boolean }} [options] */
function showFound(options) {
  showStops();
  renderFindings(shown(), showMe, { ...options, old: foundOf !== changes });
  const marks = marked();
  markFindings(marks);
  renderCard(marks);
}

/** What stops the work stands on the drawing too, where it is in sight beside the setting that it is about. */
function showStops() {
  const stops = shown().filter((finding) => finding.stops).map((finding) => [whereSaid(finding.where), finding.what].filter(Boolean).join(": "));
  setText(byId("empty-said"), drawn ? "" : stops.join("\n"));
  const more = stops.length - MOST_SAID;
  setText(byId("behind"), [...(isStale ? [t("behind")] : []), ...stops.slice(0, MOST_SAID), ...(more > 0 ? [t("behindMore", { count: more })] : [])].join("\n"));
  byId("behind").hidden = !drawn || !byId("behind").textContent;
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
  closeBeside();
  found = [];
  drawn = null;
  byId("empty").hidden = false;
  byId("empty").classList.remove("refused");
  isStale = false;
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

// What is tried on the quilt

/** @param {Drawing} drawing */
function showTrial(drawing) {
  lookedFrom ??= looking();
  byId("stage").classList.add("trying");
  showTried(drawing);
}

function forgetTrial() {
  lookedFrom = null;
  byId("stage").classList.remove("trying");
}

function endTrial() {
  const before = lookedFrom;
  forgetTrial();
  if (!drawn) return;
  renderDrawing(drawn, drawnKeys);
  if (quilted) drawQuilting(quilted);
  if (before) lookAgain(before);
}

/**
 * A fault of the page itself: the design is kept, and the console says more.
 *
 * @param {unknown} error
 */
function showWrong(error) {
  console.warn(error);
  found = plainFindings([{ what: t("wrong"), where: {}, fix: "" }]);
  showFound();
}

/**
 * Say that the program is gone, above everything, or go on when it is back.
 *
 * @param {Gone | null} gone
 */
function showGone(gone) {
  const words = gone ? `${gone.message} ${t("lostFix")}` : "";
  setText(byId("gone-words"), words);
  byId("gone").hidden = !gone;
  if (gone) return;
  say(t("programBack"));
  plan();
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
          quilted = data.quilting;
          if (!isTrying()) drawQuilting(quilted);
          accepted = data.accepted;
          renderAccepted(accepted);
        }
        found = onPage(data.findings);
        foundOf = changes;
        showFound();
      } else if (name === "refused") {
        noNumbers();
        found = onPage(data.findings);
        foundOf = changes;
        showFound();
      }
    }
  } catch (error) {
    if (error instanceof Error && error.name === "AbortError") return;
    if (!(error instanceof Refused)) showWrong(error);
  }
}

// Moves by hand

/** Moves are asked one after the other, each of the design that the one before has led to. */
let moving = Promise.resolve();

/**
 * Move the row of that key, or one letter of it, by so much, or put it back.
 *
 * @param {number} key
 * @param {number | null} letter
 * @param {string} right
 * @param {string} up
 * @param {boolean} back
 */
function move(key, letter, right, up, back = false) {
  moving = moving.then(() => askMove(key, letter, right, up, back));
}

/**
 * Ask where a move ends; asked again where the row was changed while that was answered, or what was typed then would be lost.
 *
 * @type {(key: number, letter: number | null, right: string, up: string, back: boolean) => Promise<void>}
 */
async function askMove(key, letter, right, up, back) {
  const { data, places: asked } = sent();
  const row = asked.keys.indexOf(key);
  if (row < 0) return;
  try {
    const answer = await askJson("move", { design: data, row: row + 1, letter, right, up, back });
    const { nudge, right: across, up: rise, turn } = answer.design.row[row];
    const { data: now, places: here } = sent();
    if (JSON.stringify(now.row[here.keys.indexOf(key)]) !== JSON.stringify(data.row[row])) return await askMove(key, letter, right, up, back);
    const index = indexOfRow(key);
    change((copy) => { Object.assign(copy.row[index], { nudge, right: across, up: rise, turn }); });
    noteMoves(key, design().row[index], drawnHeight(key));
  } catch (error) {
    restore();
    if (error instanceof Refused) showRefused(plainFindings(error.problems).map((finding) => shownAt(finding, asked)));
    else showWrong(error);
  }
}

/**
 * How high the capitals of a row are in the drawing; undefined where it is not in it.
 *
 * @param {number} key
 */
const drawnHeight = (key) => drawn?.rows[drawnKeys.indexOf(key)]?.cap_height;

/** Whether moves may follow: once after each change, or they and the size that fits would chase each other. */
let mayFollow = true;

/**
 * Moves by hand grow and shrink with the letters of a row that is as large as fits. Heights of a drawing that is older
 * than the design are no guide: its own drawing is on the way.
 */
async function followSizes() {
  if (!mayFollow) return;
  for (const key of drawnKeys) {
    if (drawnOf !== changes) return;
    const [index, height] = [indexOfRow(key), drawnHeight(key)];
    const row = design().row[index];
    if (!row || !height || row.width || (row.cap_height ?? design().lettering?.cap_height ?? "fit") !== "fit") continue;
    const from = movesToFollow(key, row, height);
    if (!from) continue;
    const { data, places: asked } = sent();
    const number = asked.keys.indexOf(key) + 1;
    const rows = data.row.map((one, place) => (place === number - 1 ? { ...one, ...from.moves } : one));
    try {
      const answer = await askJson("follow", { design: { ...data, row: rows }, row: number, before: from.height, now: height });
      const followed = movesOf(answer.design.row[number - 1]);
      const place = indexOfRow(key);
      noteFollowed(key, followed, height);
      if (drawnOf !== changes) return;
      if (place < 0 || JSON.stringify(followed) === JSON.stringify(movesOf(design().row[place]))) continue;
      amend((copy) => { Object.assign(copy.row[place], followed); });
      drawnOf = changes;
      mayFollow = false;
    } catch (error) {
      if (!(error instanceof Refused)) throw error;
    }
  }
}

/**
 * Do `work` once every move has come that was made before.
 *
 * @param {() => unknown} work
 */
function afterMoves(work) {
  settle();
  moving = moving.then(() => { work(); });
}

// The head of the page

function renderHead() {
  const [back, forth, held] = [byId("undo"), byId("redo"), document.activeElement];
  back.disabled = !canUndo();
  forth.disabled = !canRedo();
  if (held === back && back.disabled) forth.focus(); // a button that is no longer of use lets go of the keyboard
  if (held === forth && forth.disabled) back.focus();
  const title = byId("title");
  const named = design().title ?? "";
  if (document.activeElement !== title && title.value !== named) title.value = named;
  checkRadio("units", design().units ?? "in");
  if (!naming) nameWindow();
}

/** The wait until the window may be named anew. */
let naming = 0;

/** Name the window by the words, while somebody types at most every so often: a browser tells each name about. */
function nameWindow() {
  naming = 0;
  const words = design().title || design().row.map((row) => row.text).join(" ").trim();
  const named = words ? `${words} · applique` : "applique";
  setText(byId("head"), words || "applique");
  if (document.title === named) return;
  document.title = named;
  naming = window.setTimeout(nameWindow, NAMED_MS);
}

function renderLight() {
  const dark = isDark();
  byId("light").textContent = t(dark ? "toLight" : "toDark");
  byId("light").setAttribute("aria-label", t(dark ? "switchToLight" : "switchToDark"));
}

const isDark = () => (document.documentElement.dataset.light ?? (matchMedia("(prefers-color-scheme: dark)").matches ? "dark" : "light")) === "dark";

function startHead() {
  byId("undo").onclick = () => afterMoves(undo);
  byId("redo").onclick = () => afterMoves(redo);
  byId("make").onclick = () => afterMoves(makePattern);
  byId("add-row").onclick = () => addRow();
  byId("example").onclick = () => {
    const { units } = design(); // what she chose, whatever a new quilt begins with
    take({ ...blank, ...(units === "cm" ? METRIC_EXAMPLE : EXAMPLE), units });
  };
  byId("title").oninput = () => setValue([], "title", byId("title").value, { mark: markOfWord("title", byId("title").value) });
  for (const radio of radios("units")) {
    radio.onchange = () => setValue([], "units", radio.value === "in" ? undefined : radio.value, { whole: true });
  }
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
      afterMoves(key === "y" || event.shiftKey ? redo : undo);
    } else if (key === "s") {
      event.preventDefault();
      afterMoves(save);
    }
  });
}

/**
 * Ask before a change is lost that could not be kept.
 *
 * @param {Event} event
 */
function guard(event) {
  if (!isKept()) event.preventDefault();
}

/**
 * What the program answers, as soon as there is one.
 *
 * @template T
 * @param {() => Promise<T>} ask
 * @returns {Promise<T>}
 */
async function onceThere(ask) {
  for (;;) {
    await whenBack();
    try { return await ask(); } catch (error) { if (!(error instanceof Gone)) throw error; }
  }
}

async function begin() {
  fillTexts();
  startHead();
  startSheets();
  startShelf();
  startTable(move);
  startCard();
  startBeside(() => {
    const piece = chosen();
    restore();
    if (drawn) move(keyOf(piece.row), piece.letter, "0in", "0in", true);
  });
  onFontAdded(plan);
  onEffort(plan);
  onPhotos(() => { if (drawn && !isTrying()) renderDrawing(drawn, drawnKeys); });
  startTrying({ show: showTrial, back: endTrial, taken: forgetTrial });
  byId("save").onclick = () => afterMoves(save);
  byId("gone-save").onclick = () => afterMoves(save);
  onGone(showGone);
  startFiles((problems) => showRefused(onPage(plainFindings(problems))), showRefused);
  onChange((whole, another) => {
    refused = [];
    changes += 1;
    mayFollow = true;
    ageFindings();
    if (drawn) countingNumbers();
    if (another) forgetTyping();
    renderHead();
    renderAccepted(accepted);
    renderBeside();
    renderShelf();
    if (whole) { renderRows(); renderSettings(); } else { refreshRows(); followDesign(); }
    plan();
  });
  window.addEventListener("beforeunload", guard);
  window.addEventListener("pagehide", goodbye);
  window.addEventListener("pageshow", (event) => { if (event.persisted) hello(); });
  const start = await onceThere(hello);
  watchProgram();
  noteFile(start.name || null);
  blank = start.blank;
  await beginQuilt(start);
  byId("title").disabled = false;
  if (!document.body.classList.contains("starting") && !design().row[0].text) focusOn(byId("rows"), "input");
  document.body.classList.add("ready");
  performance.mark("ready");
  await onceThere(loadSettings);
  renderRows();
  renderSettings();
}

begin();
