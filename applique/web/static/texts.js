// Every word of the page. To translate it, translate this file; texts of findings come from the program.

export const TEXTS = {
  skip: "To the drawing",
  title: "Title of the quilt",
  titleHint: "A quilt of words",
  deeds: "What to do with the design",
  undo: "Undo",
  redo: "Redo",
  open: "Open",
  save: "Save",
  toDark: "Dark",
  toLight: "Light",
  switchToDark: "Change to dark colors",
  switchToLight: "Change to light colors",
  make: "Make the pattern",

  words: "The words",
  addRow: "Add a row of words",
  rowText: "Words of row {number}",
  rowHint: "Type the words",
  rowLook: "How row {number} looks",
  rowUp: "Move row {number} up in the order",
  rowDown: "Move row {number} down in the order",
  rowRemove: "Remove row {number}",
  font: "Font",
  fabric: "Fabric",
  height: "Height of the H",
  asAll: "as all rows",
  align: "Across the panel",
  aligns: { center: "in the middle", left: "to the left", right: "to the right", spread: "spread out" },
  fits: "as large as fits",
  removed: "Row {number} removed",

  rest: "Everything else about the quilt",
  settings: {
    panel: "Size and background",
    lettering: "Letters of all rows",
    fabric: "Fabrics",
    border: "Borders",
    sewing: "Outline, sewing, quilting",
    finishing: "Binding, backing, batting",
    paper: "Paper and printing",
    cutting: "Fusible web and cutting machine",
    cloth: "Washing and squaring up",
    about: "About the pattern, label",
    text: "The design as text",
  },
  numbered: {
    row: "Row {number}", fabric: "Fabric {number}", border: "Border {number}", quilting: "Quilting {number}",
  },
  letterNumber: "letter {number}",
  tables: {
    panel: "Panel", lettering: "Letters of all rows", row: "Rows of words", fabric: "Fabrics", border: "Borders", cloth: "Washing and squaring up",
    outline: "Outline behind the letters", sewing: "How letters are sewn", stitching: "The stitch", quilting: "Quilting",
    binding: "Binding", backing: "Backing", batting: "Batting", hanging: "Hanging", fusible: "Fusible web",
    cutting: "Cutting machine", paper: "Paper", print: "Your printer", label: "Quilt label",
    publisher: "If you publish it", design: "The pattern",
  },
  keys: {
    "panel.width": "Width", "panel.height": "Height", "panel.fabric": "Background fabric",
    "lettering.cap_height": "Height of the H", "lettering.row_gap": "White between rows",
    "lettering.rows": "Rows down the panel", "lettering.row_spacing": "Baseline to baseline",
    "lettering.align": "Across the panel", "cloth.shrinkage_percent": "Shrinkage in percent",
    "print.scale_x": "The rule along the bottom measured", "print.scale_y": "The rule up the side measured",
    "fusible.extra_percent": "Bought beyond the layout, in percent", "cutting.dxf": "DXF files too",
    "paper.full_size_nest": "The nest at full size", "paper.full_size_guide": "The whole panel at full size",
    "hanging.sleeve": "A hanging sleeve", "border.kind": "Made of", "border.first": "Sewn on first",
    "publisher.mark": "Mark", "label.care": "Care, one line each",
  },
  leftOut: "left out",

  fabricName: "Name", fabricColor: "Color", fabricWidth: "Usable width", fabricTurns: "How letters may lie",
  fabricHave: "You have of it", fabricHaveHint: "such as 2 fat quarters",
  turns: { upright: "upright only (one-way print)", half: "up or upside down", quarter: "any way round" },
  addFabric: "Add a fabric", removeFabric: "Remove {name}",
  newFabric: "Fabric {number}",
  photo: "A photo of your cloth", removePhoto: "Take the photo away",
  photoWide: "The photo shows (inches across)",
  photoNote: "The photo stays in this page; it is not in the design.",
  contrast: "Row {number} on its background: contrast {ratio} to 1",
  contrastLow: "hard to read from across a room",
  contrastFair: "readable",
  contrastGood: "clear",

  addBorder: "Add a border", removeBorder: "Remove border {number}", borderNumber: "Border {number}",
  borderFabrics: "Fabrics, in turn", addTurn: "Add a fabric in turn", dropTurn: "Take the last one away",
  borderNeedsFabric: "Add a fabric first; borders are made of the fabrics of the design.",

  textNote: "Everything that a design can hold. What you change here is checked before it is taken.",
  textTake: "Take this text", textLabel: "The design as TOML", textTaken: "The text is taken.",

  drawing: "The quilt",
  drawingLabel: "Drawing of the quilt: {words}. {size}.",
  view: "How to look at the drawing",
  moveWhat: "What a drag moves", moveRows: "Move rows", moveLetters: "Move letters",
  units: "Units", inches: "in", centimeters: "cm",
  guides: "Guides", zoom: "Size of the drawing", zoomIn: "Larger", zoomOut: "Smaller", zoomFit: "Whole quilt",
  emptyHead: "Your words go here.",
  emptyText: "Type the first row of words on the left. The quilt is drawn as you type, every letter at its true place.",
  example: "Begin with an example",
  behind: "The drawing is of before: see what stands in the way.",
  piece: "To move",
  nothingToMove: "nothing yet",
  pieceRow: "Row {number}: {text}", pieceLetter: "{text}, letter {letter} of row {number}",
  moveBy: "Move by a step", moveLeft: "Move left", moveRight: "Move right", moveUp: "Move up", moveDown: "Move down",
  putBack: "Put back",
  movingHow: "Drag on the drawing, or use the arrow keys: 1/8 in a step (2 mm), with Shift 1 in (2 cm), with Alt 1/32 in (½ mm). Page Up and Page Down choose the piece.",
  moved: "{piece} moved {distance}",
  right: "right", left: "left", up: "up", down: "down", noMove: "where it was",
  snapCenter: "on the center line", snapGap: "equal gaps", snapEdge: "in line", snapBase: "on its baseline",

  findings: "Look at these",
  looking: "Looking at every letter …",
  noFindings: "Nothing stands in the way.",
  noWords: "Nothing to look at yet.",
  stops: "Stops the work", look: "Look at it",
  tryThis: "Try: {fix}",
  showMe: "Show me", cured: "Done: {words}",
  findingsCount: "{stops} in the way, {looks} to look at",

  toBuy: "What to buy",
  counting: "Working it out …",
  improving: "Still looking for a shorter layout; it may become a little less.",
  settled: "Worked out.",
  notYet: "As soon as the drawing stands.",
  web: "Fusible web", freezerPaper: "Freezer paper", webWidth: "{width} wide",
  sheets: "Sheets to print", sheetsCount: "{count} template pages on {paper} paper",
  shapes: "{letters} letters to cut, {shapes} shapes",
  alsoBuy: "Batting, thread and more",
  precutNote: "or {precut}",

  scene: "On the wall",
  sceneLabel: "The quilt to scale beside {things}.",

  fontHead: "Fonts in your own words",
  fontFor: "for row {number}", fontForAll: "for all rows",
  fontKind: "Kind", kinds: { "": "all kinds", plain: "plain", rounded: "rounded", serif: "serif", heavy: "heavy", script: "script and hand", own: "your own" },
  fontSpells: "Only fonts that have all my letters",
  fontSewable: "Only what can be cut and sewn at this size",
  fontLacks: "lacks {letters}",
  fontScript: "joined up: cut as whole words",
  fontFine: "too fine for scissors at this size",
  weight: "Weight",
  ownFont: "A font of your own", ownFontNote: "A .ttf, .otf or .woff2 file. It stays on this machine. Read its license before you sell a pattern.",
  useFont: "Use this font", usedNow: "used now", close: "Close",
  fontAdded: "{font} is added.",

  saveHead: "Save the design", saveName: "Name of the file", saveDo: "Save", cancel: "Cancel",
  saveNote: "Your browser puts the file where it puts downloads. Open it here again to go on.",
  saved: "Saved as {name}.", opened: "{name} is open.",

  making: "Making the pattern", stop: "Stop", stopped: "Stopped. Nothing was kept.",
  steps: {
    layout: "Laying the letters out on web and cloth", "pattern.pdf": "The pattern booklet",
    "quilt-label.pdf": "The quilt label", "templates-mirrored.pdf": "Templates in mirror image",
    "templates-right-reading.pdf": "Templates the right way round", "placement-guide.pdf": "The placement guide",
    "nesting.pdf": "How the letters lie on the cloth", "preview.svg": "The picture",
    "summary.md": "The summary", "design.toml": "The design", "cut-files": "Outlines for cutting machines",
  },
  madeHead: "Your pattern is ready",
  downloadAll: "Download the folder ({size})",
  printNote: "Print at 100 % and measure the rules on the first sheet before you cut.",
  cautions: "Rotary cutters, scissors and irons hurt: cut away from yourself, and keep them and small parts from children.",
  fileList: "Every file by itself", download: "Download {name}",
  page: "Page {page} of {file}", pages: "{count} pages", onePage: "1 page",
  makeAgain: "Back to the design",

  wrong: "This did not work.",
  lost: "The program behind this page does not answer. Is the window with `applique serve` still open?",
};

/**
 * The text under `key` (with slashes for what lies deeper), its {names} filled from `values`.
 *
 * @param {string} key
 * @param {object} [values]
 * @returns {string}
 */
export function t(key, values = {}) {
  const filled = new Map(Object.entries(values));
  const text = key.split("/").reduce((/** @type {any} */ found, part) => found?.[part], TEXTS) ?? key;
  return text.replace(/\{(\w+)\}/g, (/** @type {string} */ whole, /** @type {string} */ name) => filled.get(name) ?? whole);
}

/** Fill in every text that the page names in its markup. */
export function fillTexts() {
  const named = (/** @type {string} */ what) =>
    [...document.querySelectorAll(`[data-${what}]`)].map((element) => ({ element, text: t(element.getAttribute(`data-${what}`) ?? "") }));
  for (const { element, text } of named("text")) element.textContent = text;
  for (const { element, text } of named("label")) element.setAttribute("aria-label", text);
  for (const { element, text } of named("placeholder")) element.setAttribute("placeholder", text);
}
