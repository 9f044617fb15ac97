// The questions to the program behind the page. The key of the page is in its address; it goes along as a header.

import { effort } from "./effort.js";
import { t } from "./texts.js";

/** @import { Answers, KeptQuilt, ReadProblem, Told, ToldOfNames } from "./types.js" */

const token = location.pathname.split("/")[1];
let tab = sessionStorage.getItem("tab") ?? "";
let quilt = new URLSearchParams(location.search).get("quilt") ?? "";

const headers = () => ({ "x-applique-token": token, "x-applique-tab": tab });

/** What the program refuses, with its problems. */
export class Refused extends Error {
  /**
   * @param {ReadProblem[]} problems
   * @param {number} status
   */
  constructor(problems, status) {
    super(problems.map((problem) => problem.what).join("; "));
    this.problems = problems;
    this.status = status;
  }
}

/** Nobody has answered: the program has ended, or another one is there that does not know this page. */
export class Gone extends Refused {
  /** @param {boolean} another */
  constructor(another) {
    super([{ what: t(another ? "lostToAnother" : "lost"), where: {}, fix: "" }], another ? 403 : 0);
  }
}

const LOOK_EVERY_MS = 1000;
/** How often a page in sight asks whether the program is still there. */
const BEAT_MS = 2500;
/** @type {(gone: Gone | null) => void} */
let told = () => {};
/** @type {Promise<void> | null} */
let waiting = null;

/**
 * `listener` is told when the program is found to be gone, and with null when it is back.
 *
 * @param {(gone: Gone | null) => void} listener
 */
export const onGone = (listener) => { told = listener; };

export const isGone = () => waiting !== null;

/** When the program is there again; it is asked now and then, and only while it is gone. */
export const whenBack = () => waiting ?? Promise.resolve();

/** @param {Gone} gone */
function lost(gone) {
  waiting ??= lookUntilBack();
  told(gone);
  return gone;
}

async function lookUntilBack() {
  for (;;) {
    await new Promise((again) => { setTimeout(again, LOOK_EVERY_MS); });
    let response;
    try { response = await fetch(`/api/hello?quilt=${quilt}`, { method: "POST", body: "{}", headers: headers() }); } catch { continue; }
    if (response.ok) {
      keepTab((await response.json()).tab);
      break;
    }
    if (response.status === 403) told(new Gone(true));
  }
  waiting = null;
  told(null);
}

/** @param {string} key */
function keepTab(key) {
  tab = key;
  sessionStorage.setItem("tab", tab);
}

/**
 * What `asked` comes to; where nobody answers, that is said.
 *
 * @template T
 * @param {Promise<T>} asked
 * @returns {Promise<T>}
 */
async function orLost(asked) {
  try {
    return await asked;
  } catch (error) {
    if (error instanceof Error && error.name === "AbortError") throw error;
    throw lost(new Gone(false));
  }
}

/** @param {Response} response */
async function answered(response) {
  if (response.ok) return response;
  if (response.status === 403) throw lost(new Gone(true));
  /** @type {ReadProblem[]} */
  let problems = [];
  try { problems = (await response.json()).problems; } catch { /* no words came */ }
  throw new Refused(problems, response.status);
}

/**
 * @param {"GET" | "POST" | "PUT" | "DELETE"} method
 * @param {string} path
 * @param {BodyInit} [body]
 * @param {{ signal?: AbortSignal, keepalive?: boolean }} [options]
 */
async function ask(method, path, body, options = {}) {
  const call = () => orLost(fetch(`/api/${path}`, { method, body, headers: headers(), ...options }));
  let response = await call();
  if (response.status === 409) { // the program has forgotten this page
    await hello();
    response = await call();
  }
  return answered(response);
}

/**
 * @template {keyof Answers} Path
 * @param {Path} path
 * @param {object} value
 * @returns {Promise<Answers[Path]>}
 */
export const askJson = async (path, value) => (await ask("POST", path, JSON.stringify(value))).json();

/**
 * @template {keyof Answers} Path
 * @param {Path} path
 * @returns {Promise<Answers[Path]>}
 */
export const getJson = async (path) => (await ask("GET", path)).json();

/**
 * Keep a quilt with the program: the number of the new revision. `aside` is one that this page does not show.
 *
 * @param {string} key
 * @param {string} history
 * @param {{ keepalive?: boolean, aside?: boolean }} [options]
 * @returns {Promise<{ revision: number }>}
 */
export const keepQuilt = async (key, history, { keepalive, aside } = {}) =>
  (await ask("PUT", `quilts/${key}${aside ? "?aside" : ""}`, history, { keepalive })).json();

/**
 * A quilt that the program keeps.
 *
 * @param {string} key
 * @returns {Promise<KeptQuilt>}
 */
export const getQuilt = async (key) => (await ask("GET", `quilts/${key}`)).json();

/**
 * Put a kept quilt into the trash: the folder where it is then.
 *
 * @param {string} key
 * @returns {Promise<{ folder: string }>}
 */
export const removeQuilt = async (key) => (await ask("DELETE", `quilts/${key}`)).json();

/**
 * Bring a quilt back from the trash: the key that it has from then on.
 *
 * @param {string} place
 * @returns {Promise<{ quilt: string }>}
 */
export const bringBack = async (place) => (await ask("POST", `removed/${encodeURIComponent(place)}/back`, "{}")).json();

/**
 * The design of a sample.
 *
 * @param {string} name
 * @returns {Promise<Answers["read"]>}
 */
export const getSample = async (name) => (await ask("GET", `samples/${encodeURIComponent(name)}`)).json();

/** @param {string} path */
export const getBlob = async (path) => (await ask("GET", path)).blob();

/**
 * @param {string} path
 * @param {File} file
 * @returns {Promise<{ font: string }>}
 */
export const sendFile = async (path, file) => (await ask("POST", path, file)).json();

/**
 * The picture of a mark, for this page to keep: the name that the design has for it.
 *
 * @param {File} file
 * @returns {Promise<{ mark_file: string }>}
 */
export const sendMark = async (file) => (await ask("POST", `marks?name=${encodeURIComponent(file.name)}`, file)).json();

/**
 * This page shows the quilt that is kept under `key`: whenever the program gets to know the page, it brings its files.
 *
 * @param {string} key
 */
export const showsQuilt = (key) => { quilt = key; };

/**
 * The photo of a fabric, for this page to keep: the name that the design has for it, and the mean of its light.
 *
 * @param {File} file
 * @returns {Promise<{ photo: string, color: string }>}
 */
export const sendPhoto = async (file) => (await ask("POST", `photos?name=${encodeURIComponent(file.name)}`, file)).json();

/**
 * A design with its photos, fonts and mark as a zip.
 *
 * @param {object} value
 */
export const savedZip = async (value) => (await ask("POST", "save", JSON.stringify(value))).blob();

/**
 * The design of a zip that was saved; what is packed with it is added to this page.
 *
 * @param {File} file
 * @returns {Promise<Answers["read"]>}
 */
export const openZip = async (file) => (await ask("POST", "open", file)).json();

/** This page's own key with the program, and the design to begin with. */
export async function hello() {
  const response = await ask("POST", `hello?quilt=${quilt}`, "{}");
  /** @type {Answers["hello"]} */
  const answer = await response.json();
  keepTab(answer.tab);
  return answer;
}

/** Ask now and then whether the program is still there, while the page is in sight; whoever listens is told when it is not. */
export function watchProgram() {
  setInterval(async () => {
    if (document.hidden || isGone()) return;
    try { await ask("GET", "there"); } catch (error) { if (!(error instanceof Refused)) throw error; }
  }, BEAT_MS);
}

export function goodbye() {
  fetch("/api/goodbye", { method: "POST", headers: headers(), keepalive: true }).catch(() => {});
}

const ENDS = ["done", "refused", "failed"];

/**
 * Server-sent events of an answer, each as (name, data), as they come.
 *
 * @template {"numbers" | "make" | "make-for-customers" | "names/make"} Path
 * @param {Path} path
 * @param {object} value
 * @param {AbortSignal} signal
 * @returns {AsyncGenerator<Path extends "names/make" ? ToldOfNames : Told>}
 */
export async function* events(path, value, signal) {
  const response = await ask("POST", `${path}?effort=${effort()}`, JSON.stringify(value), { signal });
  if (!response.body) return;
  const reader = response.body.pipeThrough(new TextDecoderStream()).getReader();
  let [text, ended] = ["", false];
  for (;;) {
    const { value: part, done } = await orLost(reader.read());
    if (done && ended) return;
    if (done) throw lost(new Gone(false));
    text += part;
    let end;
    while ((end = text.indexOf("\n\n")) >= 0) {
      const [head, data] = text.slice(0, end).split("\n");
      text = text.slice(end + 2);
      ended = ENDS.includes(head.slice("event: ".length));
      yield /** @type {any} */ ([head.slice("event: ".length), JSON.parse(data.slice("data: ".length))]);
    }
  }
}
