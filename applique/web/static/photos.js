// Photos of fabrics, which the program keeps beside the design: those that this page has fetched to draw them.

import { getBlob, sendPhoto } from "./asking.js";

/** @type {Map<string, string>} */
const urls = new Map();
/** @type {Set<string>} */
const asked = new Set();
/** @type {(() => void)[]} */
const listeners = [];

/**
 * `listener()` is told when a photo has come.
 *
 * @param {() => void} listener
 */
export const onPhotos = (listener) => listeners.push(listener);

/**
 * Where the browser has the photo `name`; undefined until it has come.
 *
 * @param {string} name
 */
export function urlOf(name) {
  if (!urls.has(name) && !asked.has(name)) {
    asked.add(name);
    fetched(name);
  }
  return urls.get(name);
}

/** @param {string} name */
async function fetched(name) {
  try {
    urls.set(name, URL.createObjectURL(await getBlob(`photos/${encodeURIComponent(name)}`)));
  } catch (error) {
    console.warn(error);
    asked.delete(name);
    return;
  }
  for (const listener of listeners) listener();
}

/**
 * Give the program a photo; the name that the design has for it.
 *
 * @param {File} file
 */
export const addPhoto = async (file) => (await sendPhoto(file)).photo;
