// One button for the pattern: its making step by step, then its real pages and its files.

import { events, getBlob, Gone, Refused } from "./asking.js";
import { sent } from "./design.js";
import { byId, download, make, say } from "./elements.js";
import { askNames } from "./names.js";
import { t, TEXTS } from "./texts.js";
import { onPage, whereSaid } from "./where.js";

/** @import { Made, Places, Problem } from "./types.js" */

/** What is made, and for whom: where it is asked for, its steps, and what is said when it is ready. */
/** @typedef {{ asks: "make" | "make-for-customers", texts: string, ready: string }} Kind */
/** @type {Kind} */
const FOR_HER = { asks: "make", texts: "steps", ready: "madeHead" };
/** @type {Kind} */
const FOR_CUSTOMERS = { asks: "make-for-customers", texts: "customerSteps", ready: "madeForCustomers" };

/** @type {AbortController | null} */
let stopping = null;

/** Make the pattern and show it. */
export const makePattern = () => makeKind(FOR_HER);

/** @param {Kind} kind */
async function makeKind(kind) {
  const steps = Object.keys(kind === FOR_HER ? TEXTS.steps : TEXTS.customerSteps);
  const dialog = byId("make-dialog");
  const bar = make("progress", { max: String(steps.length), value: "0", "aria-label": t("making") });
  const list = make("ol", { class: "steps" }, ...steps.map((step) => make("li", { "data-step": step }, t(`${kind.texts}/${step}`))));
  stopping?.abort();
  stopping = new AbortController();
  const { signal } = stopping;
  dialog.replaceChildren(
    make("header", {}, make("h2", { id: "make-head" }, t("making"))), bar, list,
    make("footer", {}, make("button", { class: "plain", onclick: () => dialog.close() }, t("stop"))));
  dialog.onclose = () => {
    if (!signal.aborted && bar.isConnected) say(t("stopped"));
    stopping?.abort();
  };
  dialog.showModal();
  step(kind, list, bar, steps[0]);
  const asked = sent();
  try {
    for await (const [name, data] of events(kind.asks, asked.data, signal)) {
      if (name === "step") step(kind, list, bar, data.step);
      else if (name === "done") show(kind, dialog, data);
      else fail(dialog, name === "refused" ? data.findings : [{ what: t("wrong"), where: {}, fix: "" }], asked.places);
    }
  } catch (error) {
    if (signal.aborted) return;
    if (!(error instanceof Refused)) throw error;
    fail(dialog, error instanceof Gone ? [{ what: t("makeDied"), where: {}, fix: "" }, ...error.problems] : error.problems, asked.places);
  }
}

/**
 * @param {Kind} kind
 * @param {HTMLElement} list
 * @param {HTMLProgressElement} bar
 * @param {string} name
 */
function step(kind, list, bar, name) {
  const items = [...list.children];
  const place = items.findIndex((item) => item instanceof HTMLElement && item.dataset.step === name);
  bar.value = place;
  for (const [index, item] of items.entries()) {
    item.className = index < place ? "done" : index === place ? "now" : "";
  }
  say(t(`${kind.texts}/${name}`));
}

/**
 * @param {HTMLDialogElement} dialog
 * @param {Problem[]} problems
 * @param {Places} places
 */
function fail(dialog, problems, places) {
  /** @type {[Problem, string][]} */
  const said = problems.map((one) => [one, whereSaid(onPage(one.where, places))]);
  dialog.replaceChildren(
    make("header", {}, make("h2", { id: "make-head" }, t("wrong"))),
    make("ul", {}, ...said.map(([one, where]) => make("li", { class: "finding stops" }, make("div", {},
      make("p", { class: "what" }, where ? make("strong", {}, `${where}: `) : "", one.what),
      one.fix ? make("p", { class: "note" }, t("tryThis", one)) : null)))),
    make("footer", {}, make("button", { class: "main", onclick: () => dialog.close() }, t("makeAgain"))));
}

/** @param {number} bytes */
const kilobytes = (bytes) => (bytes > 1e6 ? t("sizes/MB", { number: Math.round(bytes / 1e5) / 10 }) : t("sizes/kB", { number: Math.max(1, Math.round(bytes / 1e3)) }));

/**
 * @param {Kind} kind
 * @param {HTMLDialogElement} dialog
 * @param {Made} made
 */
function show(kind, dialog, made) {
  const called = (/** @type {string} */ name) => (kind === FOR_HER ? t(`steps/${name}`) : name);
  const pdfs = made.files.filter((file) => file.pages);
  const problem = make("p", { class: "problem", role: "alert" });
  const fetched = async (/** @type {string} */ path, /** @type {string} */ name) => {
    problem.textContent = "";
    try {
      download(await getBlob(path), name);
    } catch (error) {
      if (!(error instanceof Refused)) throw error;
      problem.textContent = error.message;
    }
  };
  const whole = made.files.reduce((sum, file) => sum + file.size, 0);
  const seen = new IntersectionObserver((entries) => {
    for (const { isIntersecting, target } of entries) {
      if (isIntersecting && target instanceof HTMLImageElement) { seen.unobserve(target); load(target); }
    }
  }, { root: dialog, rootMargin: "300px" });
  const all = make("button", { class: "main", onclick: () => fetched(`made/${made.made}/folder`, `${made.name}.zip`) },
    t("downloadAll", { size: kilobytes(whole) }));
  dialog.replaceChildren(
    make("header", {}, make("h2", { id: "make-head" }, t(kind.ready)),
      make("button", { class: "plain", onclick: () => dialog.close() }, t("makeAgain"))),
    make("p", { class: "deed" }, all), problem,
    ...(kind === FOR_HER ? [make("p", { class: "deed" },
      make("button", { class: "plain", onclick: () => makeKind(FOR_CUSTOMERS) }, t("forCustomers")), " ", t("forCustomersNote")),
    make("p", { class: "deed" }, make("button", { class: "plain", onclick: () => { dialog.close(); askNames(); } }, t("namesOpen")), " ", t("namesOpenNote"))] : []),
    make("p", { class: "note" }, t("printNote"), " ", t("cautions")),
    ...pdfs.map((file) => make("section", { class: "document" },
      make("div", { class: "document-head" },
        make("h3", {}, called(file.name), " ", make("small", {}, t("pages", { count: file.pages }))),
        make("button", { class: "plain", "aria-label": t("download", file),
          onclick: () => fetched(`made/${made.made}/file/${file.name}`, file.name) }, file.name)),
      make("div", { class: "pages", tabindex: "0", role: "group", "aria-label": called(file.name) },
        ...Array.from({ length: file.pages }, (_, index) => {
        const picture = make("img", { class: "sheet", alt: t("page", { page: index + 1, file: file.name }),
          "data-path": `made/${made.made}/page/${index + 1}/${file.name}?width=440` });
        seen.observe(picture);
        return picture;
      })))),
    make("details", { class: "fold" }, make("summary", {}, t("fileList")),
      make("ul", { class: "files" }, ...made.files.map((file) => make("li", {},
        make("button", { class: "plain", onclick: () => fetched(`made/${made.made}/file/${encodeURI(file.name)}`, file.name.replace(/.*\//, "")) },
          file.name), " ", make("small", {}, kilobytes(file.size)))))));
  dialog.scrollTop = 0;
  all.focus();
  say(t(kind.ready));
}

/** @param {HTMLImageElement} picture */
async function load(picture) {
  try {
    picture.src = URL.createObjectURL(await getBlob(picture.dataset.path ?? ""));
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
  }
}
