// The card of one finding, beside its button on the quilt: what was found, its cures, that it is meant so, and the way to the next.

import { closeBeside } from "./beside.js";
import { onChange } from "./design.js";
import { byId, focusOn, keepingFocus, make, say } from "./elements.js";
import { bodyOf } from "./findings.js";
import { inWindow, putBeside } from "./near.js";
import { boxOf, buttonBox, focusSpot, membersWith, placeSaid, showOpen, startSpots, tipOf } from "./spots.js";
import { t } from "./texts.js";
import { bringIntoSight } from "./view.js";
import { rowOf } from "./where.js";

/** @import { Box, Mark } from "./types.js" */

/** @type {Mark[]} */
let found = [];
/** The finding that the card is about; null while it is closed. @type {number | null} */
let open = null;

/** Listen to the buttons on the quilt, and to the keys that go from one finding to the next. */
export function startCard() {
  startSpots(([first, ...others]) => {
    if (open !== null && [first, ...others].includes(open)) closeCard(true); else openCard(first);
  });
  window.addEventListener("scroll", placeCard, { passive: true });
  byId("card").addEventListener("keydown", (event) => {
    if (event.key !== "Escape" || event.defaultPrevented) return;
    event.preventDefault();
    closeCard(true);
  });
  for (const element of [byId("drawing"), byId("spots"), byId("card")]) element.addEventListener("keydown", stepByKey);
  document.addEventListener("focusin", ({ target }) => {
    if (open !== null && target instanceof Node && !byId("card").contains(target) && !byId("spots").contains(target)) closeCard(false);
  });
  byId("drawing").addEventListener("pointerdown", () => closeCard(false));
  onChange(() => closeCard(false)); // its cures are of the design as it was
}

/** @param {Event} event */
function stepByKey(event) {
  if (!(event instanceof KeyboardEvent) || event.ctrlKey || event.metaKey || event.altKey || event.key.toLowerCase() !== "n") return;
  if (event.target instanceof HTMLInputElement) return;
  event.preventDefault();
  if (!found.length) say(t("noFindings"));
  else if (open === null) openCard(event.shiftKey ? found.length - 1 : 0);
  else step(event.shiftKey ? -1 : 1);
}

/** @param {1 | -1} way */
const step = (way) => openCard(((open ?? 0) + way + found.length) % found.length);

/**
 * Open the card of a finding, with the place that it is about in sight.
 *
 * @param {number} index
 */
function openCard(index) {
  closeBeside();
  open = index;
  const tip = tipOf(found[index]);
  if (tip) bringIntoSight(tip);
  showOpen(index);
  draw();
  byId("card").focus({ preventScroll: true });
}

/** @param {boolean} toSpot whether the keyboard goes back to the button on the quilt */
function closeCard(toSpot) {
  if (open === null) return;
  const [index, held] = [open, byId("card").contains(document.activeElement)];
  open = null;
  byId("card").hidden = true;
  showOpen(null);
  if (toSpot) focusSpot(index);
  else if (held) byId("drawing").focus({ preventScroll: true });
}

/** @param {Mark} mark */
const sameness = ({ what, where }) => JSON.stringify([what, where]);

/**
 * Show what is found now: the card goes on with its finding where that is still there, and closes where it is not.
 *
 * @param {Mark[]} latest
 */
export function renderCard(latest) {
  const before = open === null ? null : sameness(found[open]);
  found = latest;
  if (before === null) return;
  const now = latest.findIndex((mark) => sameness(mark) === before);
  if (now < 0) { closeCard(false); return; }
  open = now;
  showOpen(now);
  draw();
}

function draw() {
  if (open === null) return;
  const [index, mark, card] = [open, found[open], byId("card")];
  const members = membersWith(index);
  card.hidden = false;
  card.className = mark.stops ? "stops" : "";
  keepingFocus(() => card.replaceChildren(
    make("header", {},
      make("h2", { id: "card-head" }, t(mark.stops ? "cardStops" : "cardLook", { number: index + 1, count: found.length })),
      make("button", { class: "round", "aria-label": t("close"), "data-focus": "card-close", onclick: () => closeCard(true) }, "×")),
    ...(members.length > 1 ? [chips(members, index)] : []),
    ...bodyOf(mark, { index, found, again: draw, place: "card-", deeds: [], where: placeSaid(mark) }),
    ...(found.length > 1 ? [make("div", { class: "card-ways" },
      make("button", { class: "plain", "data-focus": "card-before", onclick: () => go(-1, "card-before") }, t("findingBefore")),
      make("button", { class: "plain", "data-focus": "card-next", "aria-keyshortcuts": "n", onclick: () => go(1, "card-next") }, t("findingNext")))] : [])));
  placeCard();
}

/**
 * Go on by a button of the card, which keeps the keyboard.
 *
 * @param {1 | -1} way
 * @param {string} button
 */
function go(way, button) {
  step(way);
  focusOn(byId("card"), `[data-focus="${button}"]`);
  const mark = found[open ?? 0];
  say([placeSaid(mark), mark.what].filter(Boolean).join(": "));
}

/**
 * The others that stand at the same button.
 *
 * @param {number[]} members
 * @param {number} index
 */
const chips = (members, index) => make("div", { class: "card-here", role: "group", "aria-label": t("cardHere", { count: members.length }) },
  make("span", { class: "note", "aria-hidden": "true" }, t("cardHere", { count: members.length })),
  ...members.map((member) => make("button", { class: found[member].stops ? "chip stops" : "chip", "data-focus": `card-${member}`,
    "aria-current": member === index ? "true" : null, "aria-label": t("cardChip", { number: member + 1, what: found[member].what }),
    onclick: () => {
      openCard(member);
      focusOn(byId("card"), `[data-focus="card-${member}"]`);
    } }, String(member + 1))));

/** Put the card beside its button, and where there is room clear of the row or letter that it is about. */
export function placeCard() {
  if (open === null) return;
  const button = buttonBox(open);
  if (!button) return;
  const { drawn } = found[open];
  const ink = rowOf(drawn) ? boxOf(drawn) : null;
  const shown = ink && inWindow(ink);
  putBeside(byId("card"), shown ? [around(button, shown), button] : [button]);
}

/**
 * @param {Box} one
 * @param {Box} other
 * @returns {Box}
 */
const around = (one, other) =>
  [Math.min(one[0], other[0]), Math.min(one[1], other[1]), Math.max(one[2], other[2]), Math.max(one[3], other[3])];
