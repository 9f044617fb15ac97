// The rulers along two edges of the stage: zero at the center line, and at the upper finished edge of the panel. They are
// drawn while they show: as something moves, or when asked.

import { drawn } from "./drawing.js";
import { byId, draw } from "./elements.js";
import { isMetric } from "./measures.js";
import { inView, stageSize } from "./view.js";

/** Pixels across a ruler. */
const DEEP = 24;

const TICKS = { in: [1 / 8, 1 / 4, 1 / 2, 1, 2, 6, 12, 24], cm: [1, 2, 5, 10, 20, 50, 100].map((mm) => mm / 25.4) };
const NAMED = { in: [1, 2, 5, 6, 10, 12, 20, 24, 50, 60, 100], cm: [1, 2, 5, 10, 20, 50, 100] };

/** Draw both for what is in sight, where they show. */
export function drawRulers() {
  const [panel, view, { classList }] = [drawn()?.panel, inView(), byId("stage")];
  if (!panel || !view || !(classList.contains("moving") || classList.contains("guided"))) return;
  ruler(byId("ruler-x"), view.scale, view.x, panel.x + panel.width / 2, true);
  ruler(byId("ruler-y"), view.scale, view.y, panel.y, false);
}

/**
 * @param {SVGSVGElement} element
 * @param {number} scale
 * @param {number} start
 * @param {number} zero
 * @param {boolean} across
 */
function ruler(element, scale, start, zero, across) {
  const { width, height } = stageSize();
  const [long, deep] = [across ? width : height, DEEP];
  element.setAttribute("viewBox", across ? `0 0 ${long} ${deep}` : `0 0 ${deep} ${long}`);
  const units = isMetric() ? "cm" : "in";
  const ticks = TICKS[units];
  const inch = isMetric() ? 1 / 2.54 : 1;
  const fine = ticks.find((step) => step * scale >= 7) ?? ticks[ticks.length - 1];
  const named = NAMED[units].map((count) => count * inch)
    .find((step) => step * scale >= 46 && Math.abs(step / fine - Math.round(step / fine)) < 1e-6) ?? fine * 10;
  const parts = [];
  for (let index = Math.ceil((start - zero) / fine); (zero + index * fine - start) * scale < long; index += 1) {
    const at = (zero + index * fine - start) * scale;
    const value = index * fine;
    const whole = Math.abs(value / named - Math.round(value / named)) < 1e-6;
    const length = whole ? deep * 0.45 : deep * 0.22;
    parts.push(draw("line", across ? { x1: at, x2: at, y1: deep, y2: deep - length } : { x1: deep, x2: deep - length, y1: at, y2: at }));
    if (whole) {
      const words = String(Math.round(Math.abs(value) / inch));
      parts.push(draw("text", across ? { x: at, y: deep * 0.44, "text-anchor": "middle" }
        : { "text-anchor": "middle", transform: `translate(${deep * 0.44} ${at}) rotate(-90)` }, words));
    }
  }
  element.replaceChildren(...parts);
}
