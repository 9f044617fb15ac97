// Photos of the maker's cloth. They stay in this page and never leave the browser.

/**
 * `wide` is how many inches of cloth it shows across, `shape` its height to its width.
 *
 * @typedef {{ url: string, wide: number, shape: number }} Photo
 */

/** @type {Map<string, Photo>} */
export const photos = new Map();
/** @type {(() => void)[]} */
const listeners = [];
/** @param {() => void} listener */
export const onPhotos = (listener) => listeners.push(listener);

/**
 * Take the photo `file` of the fabric `name`; `undefined` takes it away, `null` keeps the one there is.
 * `wide` is how many inches of cloth it shows across; `next` another name of the fabric.
 *
 * @param {string} name
 * @param {File | null | undefined} file
 * @param {number} [wide]
 * @param {string} [next]
 */
export function setPhoto(name, file, wide, next = name) {
  const before = photos.get(name);
  if (file === undefined) {
    if (before) URL.revokeObjectURL(before.url);
    photos.delete(name);
    for (const listener of listeners) listener();
    return;
  }
  if (!file) {
    if (!before) return;
    photos.delete(name);
    photos.set(next, { ...before, wide: wide ?? before.wide });
    for (const listener of listeners) listener();
    return;
  }
  if (before) URL.revokeObjectURL(before.url);
  const url = URL.createObjectURL(file);
  const image = new Image();
  image.onload = () => {
    photos.set(next, { url, wide: wide ?? before?.wide ?? 12, shape: image.naturalHeight / image.naturalWidth });
    for (const listener of listeners) listener();
  };
  image.onerror = () => URL.revokeObjectURL(url);
  image.src = url;
}
