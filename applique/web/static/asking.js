// The questions to the program behind the page. The key of the page is in its address; it goes along as a header.

/** @import { Answers, Problem, Told } from "./types.js" */

const token = location.pathname.split("/")[1];
let tab = sessionStorage.getItem("tab") ?? "";

const headers = () => ({ "x-applique-token": token, "x-applique-tab": tab });

/** What the program refuses, with its problems. */
export class Refused extends Error {
  /**
   * @param {Problem[]} problems
   * @param {number} status
   */
  constructor(problems, status) {
    super(problems.map((problem) => problem.what).join("; "));
    this.problems = problems;
    this.status = status;
  }
}

/** @param {Response} response */
async function answered(response) {
  if (response.ok) return response;
  /** @type {Problem[]} */
  let problems = [];
  try { problems = (await response.json()).problems; } catch { /* no words came */ }
  throw new Refused(problems, response.status);
}

/**
 * @param {"GET" | "POST"} method
 * @param {string} path
 * @param {BodyInit} [body]
 * @param {{ signal?: AbortSignal }} [options]
 */
async function ask(method, path, body, options = {}) {
  const call = () => fetch(`/api/${path}`, { method, body, headers: headers(), ...options });
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
 * The photo of a fabric, for this page to keep: the name that the design has for it, and the mean of its light.
 *
 * @param {File} file
 * @returns {Promise<{ photo: string, color: string }>}
 */
export const sendPhoto = async (file) => (await ask("POST", `photos?name=${encodeURIComponent(file.name)}`, file)).json();

/**
 * A design and its photos as a zip.
 *
 * @param {object} value
 */
export const savedZip = async (value) => (await ask("POST", "save", JSON.stringify(value))).blob();

/** This page's own key with the program, and the design to begin with. */
export async function hello() {
  const answer = await askJson("hello", {});
  tab = answer.tab;
  sessionStorage.setItem("tab", tab);
  return answer;
}

export function goodbye() {
  fetch("/api/goodbye", { method: "POST", headers: headers(), keepalive: true });
}

/**
 * Server-sent events of an answer, each as (name, data), as they come.
 *
 * @param {"numbers" | "make" | "make-for-customers"} path
 * @param {object} value
 * @param {AbortSignal} signal
 * @returns {AsyncGenerator<Told>}
 */
export async function* events(path, value, signal) {
  const response = await ask("POST", path, JSON.stringify(value), { signal });
  if (!response.body) return;
  const reader = response.body.pipeThrough(new TextDecoderStream()).getReader();
  let text = "";
  for (;;) {
    const { value: part, done } = await reader.read();
    if (done) return;
    text += part;
    let end;
    while ((end = text.indexOf("\n\n")) >= 0) {
      const [head, data] = text.slice(0, end).split("\n");
      text = text.slice(end + 2);
      yield /** @type {Told} */ ([head.slice("event: ".length), JSON.parse(data.slice("data: ".length))]);
    }
  }
}
