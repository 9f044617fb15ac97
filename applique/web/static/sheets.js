// What unfolds: the sheets above the foot of the page, the sheet of tools on a narrow window, what the head folds away.

import { drawScene } from "./drawing.js";
import { byId } from "./elements.js";

/** @type {[opener: "findings-open" | "buy-open", sheet: "findings-sheet" | "buy-sheet"][]} */
const SHEETS = [["findings-open", "findings-sheet"], ["buy-open", "buy-sheet"]];
/** Pulled up, the sheet of tools leaves so much of the window to the quilt. */
const LEFT_TO_QUILT = 0.4;

/** Listen to what unfolds them. */
export function startSheets() {
  for (const [opener, sheet] of SHEETS) {
    byId(opener).onclick = () => unfold(byId(sheet).hidden ? opener : null);
  }
  byId("more").onclick = () => showMore(!isMore());
  byId("pull").onclick = () => {
    const isUp = byId("pull").getAttribute("aria-expanded") === "true";
    window.scrollTo({ top: isUp ? 0 : byId("side").offsetTop - innerHeight * LEFT_TO_QUILT, behavior: isCalm() ? "auto" : "smooth" });
  };
  window.addEventListener("scroll", () => byId("pull").setAttribute("aria-expanded", String(scrollY > innerHeight / 8)), { passive: true });
  document.addEventListener("keydown", (event) => {
    if (event.key !== "Escape" || event.defaultPrevented) return;
    const open = SHEETS.find(([, sheet]) => !byId(sheet).hidden && byId(sheet).contains(document.activeElement))
      ?? SHEETS.find(([opener, sheet]) => !byId(sheet).hidden && document.activeElement === byId(opener));
    if (open) { unfold(null); byId(open[0]).focus(); }
    if (isMore()) { showMore(false); byId("more").focus(); }
  });
  window.addEventListener("beforeprint", () => drawScene({ printing: true }));
  window.addEventListener("afterprint", () => drawScene());
  document.addEventListener("pointerdown", ({ target }) => {
    if (isMore() && target instanceof Element && !target.closest(".deeds")) showMore(false);
  });
}

const isCalm = () => matchMedia("(prefers-reduced-motion: reduce)").matches;
const isMore = () => byId("more").getAttribute("aria-expanded") === "true";

/** @param {boolean} open */
function showMore(open) {
  byId("more").setAttribute("aria-expanded", String(open));
  byId("more").parentElement?.classList.toggle("open", open);
}

/**
 * Unfold one sheet above the foot, or none; one is open at a time.
 *
 * @param {"findings-open" | "buy-open" | null} wanted
 */
export function unfold(wanted) {
  for (const [opener, sheet] of SHEETS) {
    byId(sheet).hidden = opener !== wanted;
    byId(opener).setAttribute("aria-expanded", String(opener === wanted));
  }
  drawScene();
}
