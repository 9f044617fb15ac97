// The quilt is kept: by the program within half a second of a change, and in this browser until then.

import { getQuilt, Gone, hello, isGone, keepQuilt, Refused, showsQuilt } from "./asking.js";
import { design, goOn, onChange, steps } from "./design.js";
import { byId, say, setText } from "./elements.js";
import { t } from "./texts.js";

/** @import { Design, KeptQuilt, Problem, Steps } from "./types.js" */

/**
 * A quilt in this browser. `waiting` says that the program has not got it yet; `by` is the page that wrote it.
 *
 * @typedef {{ by: string, revision: number, waiting: boolean, design: Design }} Mirror
 */

const REST_MS = 250;
const AGAIN_MS = 1500;
/** After how long a change that is not kept yet is said; most are kept before. */
const SAY_MS = 700;
const MOST_STEPS = 200;
const MOST_SIGNS = 600_000;
/** Bytes that a browser still sends while it leaves a page (Fetch Standard, keepalive). */
const MOST_LEAVING = 60_000;
const KEY = /^[a-z0-9]{16}$/;

/** Letters and figures at random, for a new quilt or for this page. */
const newKey = () => [...crypto.getRandomValues(new Uint8Array(16))].map((byte) => "abcdefghijkmnpqrstuvwxyz23456789"[byte % 32]).join("");

const by = newKey();
/** The page that wrote what this one went on from, until the program has answered once. */
let formerly = "";
/** The key of the quilt in sight; empty for a new one without a change. */
let quilt = "";
let revision = 0;
/** Counts changes, and which of them the program has. */
let changes = 0;
let kept = 0;
/** @type {Promise<void> | null} */
let writing = null;
let timer = 0;
let sayTimer = 0;
/** What another window has kept since. */
/** @type {KeptQuilt | null} */
let theirs = null;
/** Why it is not kept; null for no reason. */
/** @type {string | null} */
let trouble = null;
let following = false;
/** @type {BroadcastChannel | null} */
let channel = null;

/** Whether the program or at least this browser has all of it, so that the page may be left without asking. */
export const isKept = () => changes === kept || (Boolean(quilt) && Boolean(mirrorOf(quilt)?.waiting));

/**
 * What the address of the page asks for: a quilt by its key, a new one (with the name of a sample to begin with), or the
 * start screen.
 */
export function asked() {
  const given = new URLSearchParams(location.search);
  const key = given.get("quilt") ?? "";
  return { key: KEY.test(key) ? key : "", isNew: key === "new", isStart: key === "all", sample: given.get("sample") ?? "" };
}

/**
 * The quilt of that key as it goes on: from the program, or from this browser where that has more; null where it is
 * in neither.
 *
 * @param {string} key
 * @returns {Promise<(Steps & { design: Design }) | null>}
 */
export async function findQuilt(key) {
  const mirror = mirrorOf(key);
  showsQuilt(key);
  /** @type {KeptQuilt | null} */
  let found = null;
  try {
    found = await getQuilt(key);
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    if (!mirror) { showsQuilt(""); trouble = said(error.problems); return null; }
  }
  quilt = key;
  if (mirror && (mirror.waiting || !found)) {
    formerly = mirror.by;
    revision = found || mirror.waiting ? mirror.revision : 0;
    changes += 1;
    return { design: mirror.design, ...stepsOf(key) };
  }
  revision = found?.revision ?? 0;
  return found;
}

/** Why the last quilt that was asked for is not in sight. */
export const whyNot = () => trouble ?? "";

/** From now on every change is kept. */
export function startKeeping() {
  onChange(noteChange);
  byId("take-theirs").onclick = takeTheirs;
  byId("keep-mine").onclick = keepMine;
  window.addEventListener("pagehide", leave);
  window.addEventListener("pageshow", (event) => { if (event.persisted) look(); });
  document.addEventListener("visibilitychange", () => { if (document.visibilityState === "visible") look(); });
  if (quilt) settleOn(quilt);
  if (changes !== kept) soon(0);
  writeOthers();
  show();
}

/** What comes now is another quilt, new, beside the one that was in sight; that one stays as it is kept. */
export async function anotherQuilt() {
  await writing;
  await write();
  quilt = "";
  revision = 0;
  kept = changes;
  theirs = null;
  trouble = null;
  channel?.close();
  channel = null;
  show();
}

function noteChange() {
  if (following) return;
  if (!quilt) {
    if (!design().row.some((row) => row.text.trim()) && !design().title) return;
    quilt = newKey();
    formerly = "";
    settleOn(quilt);
  }
  changes += 1;
  mirror();
  soon(REST_MS);
  show();
}

/** @param {string} key */
function settleOn(key) {
  showsQuilt(key);
  history.replaceState(null, "", `?quilt=${key}`);
  navigator.locks?.request(`quilt-${key}`, { mode: "shared" }, () => new Promise(() => {})); // tells others that it is open
  channel = new BroadcastChannel(`quilt-${key}`);
  channel.onmessage = look;
}

/** @param {number} delay */
function soon(delay) {
  if (!timer) timer = window.setTimeout(() => { timer = 0; write(); }, delay);
}

/**
 * The newest steps that are not too much to keep.
 *
 * @returns {Steps}
 */
function keptSteps() {
  let left = MOST_SIGNS;
  const newest = (/** @type {string[]} */ list) => {
    let from = list.length;
    while (from > 0 && left >= list[from - 1].length) { from -= 1; left -= list[from].length; }
    return list.slice(from);
  };
  const { done, undone } = steps(MOST_STEPS);
  return { done: newest(done), undone: newest(undone) };
}

async function write() {
  if (writing || theirs || !quilt || changes === kept) return;
  writing = send();
  await writing;
  writing = null;
  show();
  if (changes !== kept && !theirs) soon(trouble ? AGAIN_MS : REST_MS);
}

async function send() {
  const [key, version] = [quilt, changes];
  const now = keptSteps();
  store(`steps-${key}`, now);
  try {
    const answer = await keepQuilt(key, JSON.stringify({ rests_on: revision, design: design(), by, ...now }));
    if (key === quilt) {
      revision = answer.revision;
      kept = version;
      trouble = null;
      formerly = "";
      mirror();
      channel?.postMessage(revision);
    }
  } catch (error) {
    if (error instanceof Refused && error.status === 412) await meet(key);
    else if (error instanceof Gone || !(error instanceof Refused)) trouble = t("keptGone");
    else trouble = t("keptRefused", { reason: said(error.problems) });
  }
}

/**
 * Somebody has kept another revision. Where that was this page, and the answer was lost, it goes on from there.
 *
 * @param {string} key
 */
async function meet(key) {
  const found = await getQuilt(key).catch(() => null);
  if (key !== quilt || !found) return;
  if (found.by && (found.by === by || found.by === formerly)) revision = found.revision;
  else theirs = found;
}

/** See whether another window has kept a newer revision. */
async function look() {
  if (!quilt || writing || theirs) return;
  const key = quilt;
  const found = await getQuilt(key).catch(() => null);
  if (found && key === quilt && !writing && found.revision > revision && found.by !== by && found.by !== formerly) {
    theirs = found;
    show();
  }
}

/** What the other window has comes here, with its fonts; what was here is one step of undo away. */
async function takeTheirs() {
  await hello();
  if (!theirs) return;
  const mine = changes === kept ? [] : [JSON.stringify(design())];
  const { design: next, done, undone } = theirs;
  revision = theirs.revision;
  kept = changes;
  theirs = null;
  follow(next, { done: [...done, ...mine], undone: mine.length ? [] : undone });
  if (mine.length) noteChange();
  mirror();
  show();
}

/** What is here stays; what the other window has is one step of undo away. */
function keepMine() {
  if (!theirs) return;
  const { done } = steps(MOST_STEPS);
  revision = theirs.revision;
  follow(design(), { done: [...done, JSON.stringify(theirs.design)], undone: [] });
  theirs = null;
  noteChange();
}

/**
 * @param {Design} next
 * @param {Steps} withSteps
 */
function follow(next, withSteps) {
  following = true;
  goOn(next, withSteps);
  following = false;
}

// In this browser

/**
 * @param {string} name
 * @returns {any}
 */
function stored(name) {
  try { return JSON.parse(localStorage.getItem(name) ?? "null"); } catch { return null; }
}

/**
 * @param {string} name
 * @param {object} value
 */
function store(name, value) {
  const text = JSON.stringify(value);
  try {
    localStorage.setItem(name, text);
  } catch { // full: what the program has is not needed here
    for (const key of mirrored()) if (key !== quilt && !mirrorOf(key)?.waiting) forget(key);
    try { localStorage.setItem(name, text); } catch { /* the program has to do */ }
  }
}

/**
 * @param {string} key
 * @returns {Mirror | null}
 */
const mirrorOf = (key) => stored(`quilt-${key}`);

/**
 * @param {string} key
 * @returns {Steps}
 */
const stepsOf = (key) => stored(`steps-${key}`) ?? { done: [], undone: [] };

const mirrored = () => Object.keys(localStorage).filter((name) => name.startsWith("quilt-")).map((name) => name.slice("quilt-".length));

function mirror() {
  if (quilt) store(`quilt-${quilt}`, { by, revision, waiting: changes !== kept, design: design() });
}

/**
 * Nothing of the quilt stays in this browser.
 *
 * @param {string} key
 */
export function forget(key) {
  localStorage.removeItem(`quilt-${key}`);
  localStorage.removeItem(`steps-${key}`);
}

/** What this browser has of quilts that nobody has open, and the program has not, is kept now. */
async function writeOthers() {
  const held = new Set((await navigator.locks?.query())?.held?.map((lock) => lock.name));
  for (const key of mirrored()) {
    const found = mirrorOf(key);
    if (key === quilt || held.has(`quilt-${key}`) || !found?.waiting) continue;
    try {
      const newest = await getQuilt(key).catch(() => null);
      if (newest && newest.by !== found.by && newest.revision !== found.revision) continue; // whoever opens it is asked
      const answer = await keepQuilt(key, JSON.stringify(
        { rests_on: newest?.revision ?? 0, design: found.design, by: found.by, ...stepsOf(key) }), { aside: true });
      store(`quilt-${key}`, { ...found, revision: answer.revision, waiting: false });
    } catch (error) {
      if (error instanceof Gone || !(error instanceof Refused)) return; // it stays here until its quilt is opened, or the program is back
    }
  }
}

/** The page is left: what is not kept yet goes along, and stays in this browser. */
function leave() {
  if (!quilt || changes === kept || theirs) return;
  const now = keptSteps();
  mirror();
  store(`steps-${quilt}`, now);
  const text = JSON.stringify({ rests_on: revision, design: design(), by, ...now });
  if (text.length < MOST_LEAVING) keepQuilt(quilt, text, { keepalive: true }).catch(() => {});
}

// What is said of it

/** @param {Problem[]} problems */
const said = (problems) => problems.map((one) => [one.what, one.fix].filter(Boolean).join(". ")).join("; ");

function show() {
  const note = byId("kept");
  clearTimeout(sayTimer);
  byId("elsewhere").hidden = !theirs;
  byId("keep-mine").hidden = changes === kept;
  if (!quilt) { note.textContent = ""; note.dataset.kept = ""; return; }
  if (trouble || (theirs && changes !== kept)) {
    const text = trouble ?? t("keptNot");
    if (note.textContent !== text && !isGone()) say(text); // that the program is gone is said above everything
    note.textContent = text;
    note.dataset.kept = "no";
  } else if (changes === kept) {
    setText(note, t("kept"));
    note.dataset.kept = "yes";
  } else {
    note.dataset.kept = "soon";
    sayTimer = window.setTimeout(() => { setText(note, t("keptSoon")); }, SAY_MS);
  }
}
