// Elements made in one call, so that no text of a maker is ever read as markup.

const SVG = "http://www.w3.org/2000/svg";

function fill(element, attributes, children) {
  for (const [name, value] of Object.entries(attributes)) {
    if (value === null || value === undefined || value === false) continue;
    if (name.startsWith("on")) element.addEventListener(name.slice(2), value);
    else if (name === "value" || name === "checked" || name === "hidden") element[name] = value;
    else if (name === "color") element.style.setProperty("--color", value);
    else element.setAttribute(name, value === true ? "" : value);
  }
  element.append(...children.flat().filter((child) => child !== null && child !== undefined));
  return element;
}

/** An HTML element with attributes, `on…` listeners and children. */
export const make = (tag, attributes = {}, ...children) => fill(document.createElement(tag), attributes, children);

/** An SVG element with attributes, listeners and children. */
export const draw = (tag, attributes = {}, ...children) => fill(document.createElementNS(SVG, tag), attributes, children);

export const byId = (id) => document.getElementById(id);

/** Say something to those who listen instead of look. */
export function say(text) {
  const said = byId("said");
  said.textContent = "";
  requestAnimationFrame(() => { said.textContent = text; });
}

/** Render anew without taking the keyboard away: the element of the same `data-focus` gets it back, with its caret. */
export function keepingFocus(render) {
  const held = document.activeElement?.dataset?.focus;
  const caret = document.activeElement?.selectionStart;
  render();
  if (!held) return;
  const again = document.querySelector(`[data-focus="${CSS.escape(held)}"]`);
  again?.focus({ preventScroll: true });
  if (typeof caret === "number" && again?.type === "text") again.setSelectionRange(caret, caret);
}

/** Hand a file to the maker. */
export function download(blob, name) {
  const link = make("a", { href: URL.createObjectURL(blob), download: name });
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}
