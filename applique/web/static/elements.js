// Elements made in one call, so that no text of a maker is ever read as markup.

import { t } from "./texts.js";

const SVG = "http://www.w3.org/2000/svg";

/**
 * Elements of the page by their ids, and of its dialogs while they are open.
 *
 * @typedef {object} PageElements
 * @property {HTMLElement} accepted
 * @property {HTMLButtonElement} add-row
 * @property {HTMLElement} behind
 * @property {HTMLElement} beside
 * @property {HTMLElement} buy
 * @property {HTMLButtonElement} buy-open
 * @property {HTMLElement} buy-sheet
 * @property {HTMLElement} buy-state
 * @property {HTMLElement} card
 * @property {HTMLElement} count
 * @property {HTMLOutputElement} distance
 * @property {SVGSVGElement} drawing
 * @property {SVGSVGElement} marks
 * @property {SVGGElement} guide-lines
 * @property {HTMLElement} snap-x
 * @property {HTMLElement} snap-y
 * @property {HTMLElement} choice
 * @property {HTMLElement} empty
 * @property {HTMLElement} empty-said
 * @property {HTMLButtonElement} example
 * @property {HTMLElement} findings
 * @property {HTMLButtonElement} findings-open
 * @property {HTMLElement} findings-sheet
 * @property {HTMLElement} finished
 * @property {HTMLElement} elsewhere
 * @property {HTMLDialogElement} font-dialog
 * @property {HTMLElement} font-problem
 * @property {HTMLElement} gone
 * @property {HTMLElement} head
 * @property {HTMLButtonElement} gone-save
 * @property {HTMLElement} gone-words
 * @property {HTMLInputElement} guides
 * @property {HTMLElement} kept
 * @property {HTMLButtonElement} keep-mine
 * @property {HTMLButtonElement} light
 * @property {HTMLButtonElement} make
 * @property {HTMLDialogElement} make-dialog
 * @property {HTMLButtonElement} more
 * @property {HTMLButtonElement} open
 * @property {HTMLInputElement} open-file
 * @property {HTMLDialogElement} names-dialog
 * @property {HTMLInputElement} names-file
 * @property {HTMLButtonElement} names-make
 * @property {HTMLTextAreaElement} names-text
 * @property {HTMLSelectElement} piece
 * @property {HTMLButtonElement} pull
 * @property {HTMLElement} quilts
 * @property {HTMLElement} quilts-note
 * @property {HTMLButtonElement} redo
 * @property {HTMLElement} removed
 * @property {HTMLElement} rows
 * @property {SVGSVGElement} ruler-x
 * @property {SVGSVGElement} ruler-y
 * @property {HTMLElement} said
 * @property {HTMLButtonElement} save
 * @property {HTMLDialogElement} save-dialog
 * @property {HTMLElement} scene
 * @property {HTMLElement} settings
 * @property {HTMLElement} shelf
 * @property {HTMLElement} side
 * @property {HTMLElement} spots
 * @property {HTMLElement} stage
 * @property {HTMLButtonElement} text-back
 * @property {HTMLElement} text-changed
 * @property {HTMLElement} text-said
 * @property {HTMLButtonElement} text-take
 * @property {HTMLElement} start
 * @property {HTMLElement} start-problem
 * @property {HTMLButtonElement} take-theirs
 * @property {HTMLInputElement} title
 * @property {HTMLButtonElement} undo
 * @property {HTMLElement} writing
 * @property {HTMLButtonElement} zoom-fit
 * @property {HTMLButtonElement} zoom-in
 * @property {HTMLButtonElement} zoom-out
 */

/** @typedef {string | number | boolean | null | undefined} Plain */

/** @typedef {Node | string | null | undefined} Child */

/**
 * Attributes of an element `E`, and its listeners, which have it as their target.
 *
 * @template E
 * @typedef {{
 *   onclick?: (event: MouseEvent & { target: E }) => unknown,
 *   onchange?: (event: Event & { target: E }) => unknown,
 *   oninput?: (event: Event & { target: E }) => unknown,
 *   onkeydown?: (event: KeyboardEvent & { target: E }) => unknown,
 *   onpaste?: (event: ClipboardEvent & { target: E }) => unknown,
 *   onsubmit?: (event: SubmitEvent & { target: E }) => unknown,
 *   [name: string]: Plain | ((event: any) => unknown),
 * }} Attributes
 */

/**
 * @template {HTMLElement | SVGElement} E
 * @param {E} element
 * @param {Attributes<E>} attributes
 * @param {(Child | Child[])[]} children
 */
function fill(element, attributes, children) {
  for (const [name, value] of Object.entries(attributes)) {
    if (value === null || value === undefined || value === false) continue;
    if (typeof value === "function") element.addEventListener(name.slice(2), /** @type {EventListener} */ (value));
    else if (name === "value" || name === "checked" || name === "hidden") Object.assign(element, { [name]: value });
    else if (name === "color") element.style.setProperty("--color", String(value));
    else element.setAttribute(name, value === true ? "" : String(value));
  }
  element.append(...children.flat().filter((child) => child !== null && child !== undefined));
  return element;
}

/**
 * An HTML element with attributes, `on…` listeners and children.
 *
 * @template {keyof HTMLElementTagNameMap} Tag
 * @param {Tag} tag
 * @param {Attributes<HTMLElementTagNameMap[Tag]>} attributes
 * @param {(Child | Child[])[]} children
 */
export const make = (tag, attributes = {}, ...children) => fill(document.createElement(tag), attributes, children);

/**
 * An SVG element with attributes, listeners and children.
 *
 * @template {keyof SVGElementTagNameMap} Tag
 * @param {Tag} tag
 * @param {Attributes<SVGElementTagNameMap[Tag]>} attributes
 * @param {(Child | Child[])[]} children
 */
export const draw = (tag, attributes = {}, ...children) => fill(document.createElementNS(SVG, tag), attributes, children);

/**
 * Make `nodes` the children of `parent`, in that order; those that stand there already are not touched.
 *
 * @param {Element} parent
 * @param {Element[]} nodes
 */
export function arrange(parent, nodes) {
  const wanted = new Set(nodes);
  for (const child of [...parent.children]) if (!wanted.has(child)) child.remove();
  let place = parent.firstElementChild;
  for (const node of nodes) {
    if (node === place) place = place.nextElementSibling;
    else parent.insertBefore(node, place);
  }
}

/**
 * Set the attribute of an element where it has another value: a browser works on what is written even where it is the same.
 *
 * @param {Element} element
 * @param {string} name
 * @param {string} value
 */
export function setAttribute(element, name, value) {
  if (element.getAttribute(name) !== value) element.setAttribute(name, value);
}

/**
 * Have an element say something where it says something else: a browser lays out text anew that it was given again.
 *
 * @param {Element} element
 * @param {string} text
 */
export function setText(element, text) {
  if (element.textContent !== text) element.textContent = text;
}

/**
 * The element with that id.
 *
 * @template {keyof PageElements} Id
 * @param {Id} id
 */
export const byId = (id) => /** @type {PageElements[Id]} */ (/** @type {unknown} */ (document.getElementById(id)));

/**
 * The radio buttons of that name; `grip` is what moves apply to.
 *
 * @param {"grip" | "units"} name
 * @returns {HTMLInputElement[]}
 */
export const radios = (name) => [...document.querySelectorAll(`input[name="${name}"]`)].filter((one) => one instanceof HTMLInputElement);

/**
 * Check one of the radio buttons of that name.
 *
 * @param {"grip" | "units"} name
 * @param {string} value
 */
export function checkRadio(name, value) {
  for (const radio of radios(name)) radio.checked = radio.value === value;
}

/**
 * Give the keyboard to the first element inside `element` that `selector` finds.
 *
 * @param {Element} element
 * @param {string} selector
 */
export function focusOn(element, selector) {
  /** @type {HTMLElement | null} */ (element.querySelector(selector))?.focus();
}

/**
 * The hint in an empty field, and the width that shows it whole.
 *
 * @param {string} placeholder
 */
export const hinted = (placeholder) => ({ placeholder, size: Math.max(8, placeholder.length) });

/**
 * Say something to those who listen instead of look.
 *
 * @param {string} text
 */
export function say(text) {
  const said = byId("said");
  said.textContent = "";
  requestAnimationFrame(() => { said.textContent = text; });
}

/** @typedef {HTMLInputElement | HTMLTextAreaElement} Typed A field that one types in. */

/** @type {Typed | null} */
let typing = null;

/**
 * @param {unknown} element
 * @returns {element is Typed}
 */
const isTyped = (element) => element instanceof HTMLTextAreaElement || (element instanceof HTMLInputElement && element.type === "text");

document.addEventListener("input", ({ target }) => { if (isTyped(target)) typing = target; }, true);
document.addEventListener("paste", (event) => { if (isTyped(event.target)) refuseTooLong(event, event.target); }, true);
document.addEventListener("change", ({ target }) => { if (target === typing) typing = null; }, true);

/**
 * A browser would cut what is longer than a field holds, and say nothing.
 *
 * @param {ClipboardEvent} event
 * @param {Typed} field
 */
function refuseTooLong(event, field) {
  const pasted = event.clipboardData?.getData("text") ?? "";
  const kept = field.value.length - ((field.selectionEnd ?? 0) - (field.selectionStart ?? 0));
  if (field.maxLength < 0 || kept + pasted.length <= field.maxLength) return;
  event.preventDefault();
  field.setCustomValidity(t("tooLong", { count: kept + pasted.length, most: field.maxLength }));
  field.reportValidity();
  field.addEventListener("input", () => field.setCustomValidity(""), { once: true });
  field.addEventListener("blur", () => field.setCustomValidity(""), { once: true });
}

/**
 * Whether `field` holds what is being typed and is not finished.
 *
 * @param {Typed} field
 */
export const isTyping = (field) => field === typing;

/** Another design is about to be shown: what was being typed belonged to the one before. */
export function forgetTyping() {
  typing = null;
}

/**
 * Leave in `field` what was being typed in its forerunner. A browser tells no change of text that it was given,
 * so the change is told here when `field` is left.
 *
 * @param {Typed} field
 * @param {string} text
 */
function goOnTyping(field, text) {
  field.value = text;
  typing = field;
  field.addEventListener("blur", () => { if (isTyping(field)) field.dispatchEvent(new Event("change", { bubbles: true })); });
}

/**
 * @param {string} place
 * @returns {HTMLElement | null}
 */
const elementOf = (place) => document.querySelector(`[data-focus="${CSS.escape(place)}"]`);

/**
 * The elements that the keyboard can go to from `element` when that is gone: those after it, then those before it.
 *
 * @param {HTMLElement} element
 */
function placesFrom(element) {
  const all = [...document.querySelectorAll("[data-focus]")];
  const own = all.indexOf(element);
  if (own >= 0) return [...all.slice(own + 1), ...all.slice(0, own).reverse()];
  const after = all.filter((one) => element.compareDocumentPosition(one) & Node.DOCUMENT_POSITION_FOLLOWING);
  const before = all.filter((one) => element.compareDocumentPosition(one) & Node.DOCUMENT_POSITION_PRECEDING);
  return [...after, ...before.reverse()];
}

/**
 * Render anew without taking the keyboard away: the element of the same `data-focus` gets it back, with its selection and
 * with what is being typed in it, or the next one where that is gone.
 *
 * @param {() => void} render
 */
export function keepingFocus(render) {
  const before = document.activeElement;
  const text = isTyped(before) && isTyping(before) ? before.value : null;
  const held = before instanceof HTMLElement ? before.dataset.focus : undefined;
  const caret = before instanceof HTMLInputElement || before instanceof HTMLTextAreaElement ? [before.selectionStart, before.selectionEnd] : null;
  const next = before instanceof HTMLElement && before !== document.body ? placesFrom(before) : [];
  render();
  if (before?.isConnected && document.activeElement === before) return; // to set a selection lays the whole page out
  if (!held || !elementOf(held)) {
    if (before && !before.isConnected) next.map((one) => elementOf(one.getAttribute("data-focus") ?? "")).find((one) => one && !one.matches(":disabled"))?.focus({ preventScroll: true });
    return;
  }
  const again = elementOf(held);
  if (text !== null && isTyped(again)) goOnTyping(again, text);
  again?.focus({ preventScroll: true });
  if (caret !== null && isTyped(again)) again.setSelectionRange(caret[0], caret[1]);
}

/**
 * Hand a file to the maker.
 *
 * @param {Blob} blob
 * @param {string} name
 */
export function download(blob, name) {
  const link = make("a", { href: URL.createObjectURL(blob), download: name });
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}
