// The design as a file: saved under a name of hers, opened again with the photos and fonts that belong to it.

import { askJson, Gone, isGone, openZip, Refused, savedZip } from "./asking.js";
import { design, sent, take } from "./design.js";
import { byId, download, make, say } from "./elements.js";
import { anotherQuilt } from "./keeping.js";
import { addPhoto } from "./photos.js";
import { leaveStart } from "./start.js";
import { t } from "./texts.js";
import { tomlOf } from "./toml.js";
import { whereSaid } from "./where.js";

/** @import { Design, Problem, ReadProblem, Shown } from "./types.js" */

/** What the design was opened from, or saved as last. @type {string | null} */
let fileName = null;
/** @type {(problems: Problem[]) => void} */
let refuse = () => {};
/** @type {(said: Shown[]) => void} */
let notOpened = () => {};

/**
 * Begin to open files; `onRefused` is told why a design cannot be saved, `onNotOpened` what is wrong in a file.
 *
 * @param {(problems: Problem[]) => void} onRefused
 * @param {(said: Shown[]) => void} onNotOpened
 */
export function startFiles(onRefused, onNotOpened) {
  refuse = onRefused;
  notOpened = onNotOpened;
  byId("open").onclick = () => byId("open-file").click();
  byId("open-file").onchange = () => openFile(byId("open-file"));
}

/**
 * The design came from a file of that name.
 *
 * @param {string | null} name
 */
export const noteFile = (name) => { fileName = name; };

/** Hand the design over as a file, or as a zip where files belong to it. */
export async function save() {
  const dialog = byId("save-dialog");
  const { data } = sent();
  const isCopy = isGone();
  const isZip = !isCopy && hasFiles(data);
  const named = (/** @type {string} */ text) => text.trim().replace(/(\.toml|\.zip)?$/i, isZip ? ".zip" : ".toml");
  let written;
  /** @type {Blob} */
  let content;
  try {
    written = isCopy ? copyOfOwn() : await askJson("write", data);
    content = isZip ? await savedZip(data) : new Blob([written.text], { type: "application/toml" });
  } catch (error) {
    if (error instanceof Gone) { save(); return; }
    if (!(error instanceof Refused)) throw error;
    refuse(error.problems);
    return;
  }
  const name = make("input", { type: "text", value: named(fileName ?? written.name), id: "save-name", maxlength: "100" });
  dialog.replaceChildren(make("form", { method: "dialog", onsubmit: () => {
    const chosenName = named(name.value);
    fileName = chosenName;
    download(content, chosenName);
    say(t("saved", { name: chosenName }));
  } },
    make("h2", { id: "save-head" }, t("saveHead")),
    make("label", { class: "field tall", for: "save-name" }, make("span", {}, t("saveName")), name),
    make("p", { class: "note" }, t(isCopy ? "saveNoteGone" : "saveNote"), isZip ? ` ${t("saveZipNote")}` : null),
    make("footer", {},
      make("button", { class: "plain", type: "button", onclick: () => dialog.close() }, t("cancel")),
      make("button", { class: "main" }, t("saveDo")))));
  dialog.showModal();
  name.select();
}

/**
 * Whether photos, fonts of her own or a mark belong to a design.
 *
 * @param {Design} data
 */
const hasFiles = ({ fabric = [], lettering = {}, row, publisher }) => Boolean(publisher?.mark_file) || fabric.some(({ photo }) => photo)
  || [lettering, ...row].some(({ font }) => font?.includes("."));

/** The design as the browser writes it, while the program is gone. */
const copyOfOwn = () => ({ text: tomlOf(sent().data), name: (design().title ?? "").replace(/[^\p{L}\p{N} _-]+/gu, "").trim() || t("copyName") });

/** What is wrong in a file that is not open: nothing of it is a place of this design. @param {ReadProblem} problem */
const saidOf = ({ what, where, line }) => [line ? t("textLine", { number: line }) : "", whereSaid(where), what].filter(Boolean).join(": ");

const PHOTO = /\.(jpe?g|png|webp)$/i;
const ZIP = /\.zip$/i;

/**
 * The design of a file, with the photos that were chosen beside it.
 *
 * @param {File} file
 * @param {File[]} files
 */
async function readFiles(file, files) {
  /** @type {Record<string, string>} */
  const photos = {};
  for (const photo of files) if (PHOTO.test(photo.name)) photos[photo.name] = await addPhoto(photo);
  return askJson("read", { text: (await file.text()).slice(0, 900_000), photos });
}

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
    const { design: next } = await (ZIP.test(file.name) ? openZip(file) : readFiles(file, files));
    await anotherQuilt();
    take(next);
    leaveStart();
    fileName = file.name;
    say(t("opened", { name: file.name }));
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    const { name } = file;
    notOpened(error.problems.map((problem) => ({ what: t("notOpened", { name, what: saidOf(problem) }), fix: problem.fix, where: {}, at: null,
      stops: false, cures: [], accept: null })));
    say(error.message);
  }
}
