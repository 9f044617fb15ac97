// The shelf: a swatch of every fabric, always in reach. Choose one, then tap what it is for on the quilt, or drag it there.

import { keyOf } from "./choosing.js";
import { change, design, indexOfRow, setValue } from "./design.js";
import { byId, keepingFocus, make, say } from "./elements.js";
import { fabricNames } from "./naming.js";
import { t } from "./texts.js";
import { colorOf } from "./words.js";

/** The fabric in hand; null for none. @type {string | null} */
let inHand = null;

/** Listen to what is tapped and dropped on the quilt. */
export function startShelf() {
  const svg = byId("drawing");
  svg.addEventListener("pointerdown", (event) => {
    if (!inHand || event.button !== 0 || !(event.target instanceof Element)) return;
    event.stopImmediatePropagation();
    event.preventDefault();
    useOn(inHand, event.target);
  }, { capture: true });
  svg.addEventListener("dragover", (event) => { if (inHand) event.preventDefault(); });
  svg.addEventListener("drop", (event) => {
    event.preventDefault();
    if (inHand && event.target instanceof Element) useOn(inHand, event.target);
  });
  document.addEventListener("keydown", (event) => {
    if (event.key !== "Escape" || !inHand || event.defaultPrevented) return;
    event.preventDefault();
    take(null);
  });
}

/** @param {string | null} name */
function take(name) {
  inHand = name;
  byId("stage").classList.toggle("with-fabric", inHand !== null);
  renderShelf();
  if (name) say(t("shelfTaken", { name }));
}

/** What the shelf was drawn of, to draw it anew only of something else. */
let drawnOf = "";

/** Draw the shelf as the design is now. */
export function renderShelf() {
  if (inHand && !fabricNames().includes(inHand)) inHand = null;
  const now = JSON.stringify([fabricNames(), fabricNames().map(colorOf), inHand, inHand && [design().row, design().border]]);
  if (now === drawnOf) return;
  drawnOf = now;
  byId("shelf").hidden = !fabricNames().length;
  keepingFocus(() => byId("shelf").replaceChildren(
    make("p", { class: "shelf-said" }, inHand ? t("shelfFor", { name: inHand }) : t("shelf")),
    make("div", { class: "swatches" }, ...fabricNames().map((name, index) => make("button", {
      class: "cloth", color: colorOf(name) ?? "transparent", title: name, "aria-label": t("shelfTake", { name }), "aria-pressed": String(name === inHand),
      "data-focus": `shelf-${index}`, draggable: "true", onclick: () => take(name === inHand ? null : name),
      ondragstart: (event) => {
        event.dataTransfer?.setData("text/plain", name);
        inHand = name;
      },
      ondragend: () => take(null),
    }))),
    ...(inHand ? [useFor(inHand)] : [])));
}

/**
 * What the fabric in hand can be used for, for whoever uses the keyboard.
 *
 * @param {string} name
 */
function useFor(name) {
  const { row, border } = design();
  const places = [
    ...row.flatMap(({ text }, index) => (text.trim() ? [{ said: t("pieceRow", { number: index + 1, text }), use: () => useForRow(name, index) }] : [])),
    { said: t("tables/panel"), use: () => useForPanel(name) },
    ...(border ?? []).map((_, index) => ({ said: t("borderNumber", { number: index + 1 }), use: () => useForBorder(name, index) })),
    { said: t("tables/binding"), use: () => useForBinding(name) },
  ];
  return make("label", { class: "shelf-for" }, make("span", { class: "hidden" }, t("useFor", { name })),
    make("select", { "data-focus": "shelf-for", onchange: (event) => done(name, places[Number(event.target.value)]) },
      make("option", { value: "" }, t("useForHint")), ...places.map(({ said }, index) => make("option", { value: String(index) }, said))));
}

/**
 * @param {string} name
 * @param {{ said: string, use: () => void }} place
 */
function done(name, { said, use }) {
  use();
  say(t("usedFor", { name, what: said }));
  take(null);
}

/**
 * Use a fabric for what was tapped: the row of a letter, the panel, a border with the fabric that was tapped, the binding.
 *
 * @param {string} name
 * @param {Element} target
 */
function useOn(name, target) {
  const [letter, patch, panel] = [".letter", ".patch", ".panel"].map((one) => /** @type {SVGElement | null} */ (target.closest(one)));
  if (letter) {
    const index = indexOfRow(keyOf(Number(letter.dataset.row)));
    if (index >= 0) done(name, { said: t("pieceRow", { number: index + 1, text: design().row[index].text }), use: () => useForRow(name, index) });
  } else if (patch) {
    const number = Number(patch.dataset.border);
    done(name, { said: t("borderNumber", { number }), use: () => useForBorder(name, number - 1, patch.dataset.fabric) });
  } else if (panel) done(name, { said: t("tables/panel"), use: () => useForPanel(name) });
  else if (target.closest(".edge")) done(name, { said: t("tables/binding"), use: () => useForBinding(name) });
}

/** @type {(name: string, index: number) => void} */
const useForRow = (name, index) => change((copy) => { copy.row[index].fabric = name; }, { whole: true });
/** @param {string} name */
const useForPanel = (name) => setValue(["panel"], "fabric", name, { whole: true });
/** @param {string} name */
const useForBinding = (name) => setValue(["binding"], "fabric", name, { whole: true });

/**
 * A border has the fabric in the place of another of its own, such as that of its cornerstones, or of its first one where none is named. Where it has the fabric
 * already the two change places, so that it never comes to have one alone.
 *
 * @param {string} name
 * @param {number} index
 * @param {string} [before]
 */
function useForBorder(name, index, before) {
  change((copy) => {
    const border = copy.border?.[index];
    if (!border) return;
    if (before && border.corner_fabric === before) { border.corner_fabric = name; return; }
    const old = before && border.fabrics.includes(before) ? before : border.fabrics[0];
    border.fabrics = border.fabrics.map((one) => (one === old ? name : one === name ? old : one));
  }, { whole: true });
}
