// Where the page begins: the quilts that are kept, as pictures; new ones, empty or from a sample; a file to open.

import { bringBack, getBlob, getJson, getSample, Refused, removeQuilt } from "./asking.js";
import { goOn, take } from "./design.js";
import { byId, focusOn, make, say } from "./elements.js";
import { asked, findQuilt, forget, startKeeping, whyNot } from "./keeping.js";
import { t } from "./texts.js";

/** @import { Design, Hello, ListedQuilt } from "./types.js" */

const NO_STEPS = { done: [], undone: [] };

/**
 * Begin with what the address asks for, and keep it from now on.
 *
 * @param {Hello} start
 */
export async function beginQuilt(start) {
  const { key, isNew, isStart, sample } = asked();
  const found = key ? await findQuilt(key) : null;
  const first = found?.design ?? (start.name && !isNew && !isStart ? start.design : start.blank);
  goOn(first.row?.length ? first : { ...first, row: [{ text: "" }] }, found ?? NO_STEPS);
  startKeeping();
  if (sample) await takeSample(start.blank, sample);
  if (!found && !isNew && (isStart || !start.name)) await showStart();
}

/**
 * @param {Design} blank
 * @param {string} name
 */
async function takeSample(blank, name) {
  try {
    take({ ...blank, ...(await getSample(name)).design });
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    say(error.message);
  }
}

/** The page shows a quilt, and no longer what there is to begin with. */
export const leaveStart = () => document.body.classList.remove("starting");

async function showStart() {
  document.body.classList.add("starting");
  document.title = `${t("startHead")} · applique`;
  byId("start").replaceChildren(
    make("h1", {}, t("startHead")),
    make("p", { class: "problem", role: "alert", id: "start-problem" }, whyNot()),
    make("ul", { class: "quilts", id: "quilts" }),
    make("div", { class: "start-new" }, make("h2", {}, t("startNew")),
      make("button", { class: "button", onclick: () => byId("open").click() }, t("startOpen"))),
    make("ul", { class: "quilts" },
      make("li", {}, make("a", { class: "quilt", href: "?quilt=new", id: "new-quilt" },
        make("span", { class: "quilt-picture blank" }, "+"), make("strong", {}, t("startEmpty")))),
      ...(await getJson("samples")).samples.map(({ sample, title }) => make("li", {},
        card(`?quilt=new&sample=${encodeURIComponent(sample)}`, title, t("startSample"), `samples/${sample}/picture`)))),
    make("div", { id: "removed" }));
  await showQuilts();
  focusOn(byId("start"), "a");
}

async function showQuilts() {
  const { quilts, folder } = await getJson("quilts");
  byId("quilts").replaceChildren(...quilts.map(kept));
  await showRemoved();
  byId("quilts").after(make("p", { class: "note", id: "quilts-note" }, quilts.length ? t("startKept", { folder }) : t("startNone")));
}

/** @param {ListedQuilt} quilt */
const whenOf = (quilt) => new Date(quilt.changed).toLocaleString(document.documentElement.lang, { dateStyle: "medium", timeStyle: "short" });

/** @param {ListedQuilt} quilt */
const titleOf = (quilt) => quilt.title || t(quilt.problems.length ? "startDamaged" : "titleHint");

/** The removed quilts unfold below all others; their pictures are asked for then. */
async function showRemoved() {
  const { quilts } = await getJson("removed");
  const isOpen = byId("removed").querySelector("details")?.open ?? false;
  byId("removed").replaceChildren(...(quilts.length ? [removedFold(quilts, isOpen)] : []));
}

/**
 * @param {ListedQuilt[]} quilts
 * @param {boolean} isOpen
 */
function removedFold(quilts, isOpen) {
  const details = make("details", { class: "fold" }, make("summary", {}, t("startTrash", { count: quilts.length })));
  details.addEventListener("toggle", () => {
    if (details.open && details.children.length === 1) {
      details.append(make("p", { class: "note" }, t("startTrashNote")), make("ul", { class: "quilts" }, ...quilts.map(removedQuilt)));
    }
  });
  details.open = isOpen;
  return details;
}

/** @param {ListedQuilt} quilt */
function removedQuilt(quilt) {
  const title = titleOf(quilt);
  const picture = make("span", { class: "quilt-picture" });
  if (quilt.problems.length) picture.classList.add("blank"); else showPicture(picture, `removed/${quilt.quilt}/picture`);
  return make("li", {}, make("div", { class: "quilt" }, picture, make("strong", {}, title), make("small", {}, whenOf(quilt))),
    make("button", { class: "plain", "aria-label": t("startBackNamed", { title }), onclick: () => putBack(quilt.quilt, title) }, t("startBack")));
}

/**
 * @param {string} place
 * @param {string} title
 */
const putBack = (place, title) => orSaid(async () => {
  const { quilt } = await bringBack(place);
  byId("quilts-note").remove();
  await showQuilts();
  say(t("startBroughtBack", { title }));
  focusOn(byId("quilts"), `a[href="?quilt=${quilt}"]`);
});

/**
 * Do `work`; what is refused is said above the quilts.
 *
 * @param {() => Promise<void>} work
 */
async function orSaid(work) {
  const problem = byId("start-problem");
  try {
    await work();
    problem.textContent = "";
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    problem.textContent = error.problems.map((one) => [one.what, one.fix].filter(Boolean).join(". ")).join("; ");
  }
}

/** @param {ListedQuilt} quilt */
function kept(quilt) {
  const [when, title] = [whenOf(quilt), titleOf(quilt)];
  const shown = quilt.problems.length
    ? make("div", { class: "quilt" }, make("strong", {}, title),
      quilt.problems.map((one) => make("p", { class: "problem" }, one.what, make("small", {}, one.fix))), make("small", {}, when))
    : card(`?quilt=${quilt.quilt}`, title, when, `quilts/${quilt.quilt}/picture`);
  return make("li", {}, shown,
    make("button", { class: "plain", "aria-label": t("startRemoveNamed", { title }), onclick: () => remove(quilt.quilt, title) },
      t("startRemove")));
}

/**
 * @param {string} address
 * @param {string} title
 * @param {string} note
 * @param {string} picture
 */
function card(address, title, note, picture) {
  const shown = make("span", { class: "quilt-picture" });
  showPicture(shown, picture);
  return make("a", { class: "quilt", href: address }, shown, make("strong", {}, title), make("small", {}, note));
}

/**
 * What cannot be drawn yet has no picture, and is opened all the same.
 *
 * @param {HTMLElement} place
 * @param {string} path
 */
async function showPicture(place, path) {
  try {
    const url = URL.createObjectURL(await getBlob(path));
    place.append(make("img", { src: url, alt: "", onload: () => URL.revokeObjectURL(url) }));
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    place.classList.add("blank");
  }
}

/**
 * @param {string} key
 * @param {string} title
 */
const remove = (key, title) => orSaid(async () => {
  const { folder } = await removeQuilt(key);
  forget(key);
  byId("quilts-note").remove();
  await showQuilts();
  byId("quilts-note").prepend(t("startRemoved", { title, folder }), " ");
  say(t("startRemoved", { title, folder }));
});
