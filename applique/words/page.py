"""The texts of the page, by the keys that its markup and scripts call them.

A text has `{names}` that the page fills in. Where a count decides, it comes in all the forms that the language has.
"""

from __future__ import annotations

from typing import Final, TypeAlias

from applique.language import Message, Speech, message, messages
from applique.words.design_names import CHOICES, KEYS, TABLES, Texts

__all__ = ["PAGE", "Spoken", "page_texts"]

Spoken: TypeAlias = "dict[str, str | Spoken]"
"""Texts of one language, as plain data: a text, its forms by CLDR's names of plurals, or more texts under a key."""

_HEAD: Final[Texts] = {
    "needsScripts": message("This page needs JavaScript; it loads nothing from the internet."),
    "skip": message("To the drawing"),
    "title": message("Title of the quilt"),
    "titleHint": message("A quilt of words"),
    "deeds": message("What to do with the design"),
    "undo": message("Undo"),
    "redo": message("Redo"),
    "open": message("Open"),
    "more": message("More"),
    "pull": message("Sheet of tools"),
    "save": message("Save"),
    "toDark": message("Dark"),
    "toLight": message("Light"),
    "switchToDark": message("Change to dark colors"),
    "switchToLight": message("Change to light colors"),
    "make": message("Make the pattern"),
}

_KEEPING: Final[Texts] = {
    "home": message("Your quilts"),
    "kept": message("Saved on this machine"),
    "keptSoon": message("Saving…"),
    "keptGone": message("Not saved yet"),
    "keptNot": message("Not saved"),
    "keptRefused": message("Not saved: {reason}"),
    "keptElsewhere": message("This quilt was changed in another window."),
    "takeTheirs": message("Show that one here"),
    "keepMine": message("Keep this one"),
    "startHead": message("Your quilts"),
    "startNone": message("No quilts yet. What you make is saved on this machine as you go."),
    "startKept": message("They are in {folder}, a folder for each."),
    "startNew": message("Start a quilt"),
    "startEmpty": message("A new quilt"),
    "startSample": message("From a sample"),
    "startOpen": message("Open a file"),
    "startDamaged": message("A damaged quilt"),
    "startRemove": message("Remove"),
    "startRemoveNamed": message("Remove {title}"),
    "startTrash": messages("{count} removed quilt", "{count} removed quilts", 1),
    "startTrashNote": message(
        "They stay in the trash folder of your quilts until you delete them there yourself."
    ),
    "startBack": message("Bring back"),
    "startBackNamed": message("Bring back {title}"),
    "startBroughtBack": message("“{title}” is back among your quilts."),
    "startRemoved": message("“{title}” is in the trash now: {folder}"),
}

_ROWS: Final[Texts] = {
    "words": message("The words"),
    "addRow": message("Add a row of words"),
    "rowText": message("Words of row {number}"),
    "rowHint": message("Type the words"),
    "rowLook": message("How row {number} looks"),
    "rowsPasted": messages("{count} row pasted", "{count} rows pasted", 1),
    "tooLong": message("That is {count} characters, and {most} fit here. Nothing was pasted."),
    "rowUp": message("Move row {number} up in the order"),
    "rowDown": message("Move row {number} down in the order"),
    "rowRemove": message("Remove row {number}"),
    "removed": message("Row {number} removed"),
    "font": message("Font"),
    "fabric": message("Fabric"),
    "height": message("Letter height (capital H)"),
    "asAll": message("same as all rows"),
    "align": message("Across the panel"),
    "alignDown": message("Down the panel"),
    "down": {
        "center": message("in the middle"),
        "left": message("at the top"),
        "right": message("at the foot"),
        "spread": message("spread out"),
    },
    "fits": message("as large as fits"),
    "fitsWithin": message("as large as fits, margin {margin}"),
    "wide": message("{width} wide"),
}

_SETTINGS: Final[Texts] = {
    "rest": message("Everything else about the quilt"),
    "settings": {
        "words": message("The words"),
        "letters": message("Letters of all rows"),
        "cloth": message("Size and fabrics"),
        "edges": message("Borders and finishing"),
        "sewing": message("Sewing and quilting"),
        "sheets": message("Printing and cutting"),
        "pattern": message("The pattern to publish"),
        "text": message("The design as text"),
    },
    "settingsHold": {
        "letters": message("font, height, spacing, outline"),
        "cloth": message("panel, fabrics, stash, washing"),
        "edges": message("borders, binding, backing, batting, sleeve"),
        "sewing": message("method, stitch, thread, quilting"),
        "sheets": message("paper, your printer, fusible web, cutting machine"),
        "pattern": message("who made it, label, numbers of your own"),
        "text": message("everything at once, as its file has it"),
    },
    "layout": message("How letters are laid out"),
    "effort": message("Looking for a shorter layout"),
    "effortNote": message("how long to look for the shortest piece of fabric; kept in this browser"),
    "efforts": {
        "quick": message("quick: take the first"),
        "normal": message("normal"),
        "long": message("long: several minutes"),
    },
    "find": message("Find a setting"),
    "findHint": message("miter, sleeve, squaring"),
    "findHow": message("Type a word for it; Enter goes to the first that is found."),
    "findWhere": message("{place}: {table}"),
    "findNone": message("No setting by that word. Try another word for it."),
    "findCount": messages("{count} setting found", "{count} settings found", 1),
    "more": message("More"),
    "moreOf": message("{head}: {of}"),
    "flags": {"true": message("yes"), "false": message("no")},
    "colorOut": message("Leave out"),
    "colorOutOf": message("Leave out: {label}"),
    "axes": {"weight": message("Weight"), "width": message("Width")},
    "axisRange": message("from {least} to {most}"),
    "axisSlide": message("{label}, to slide"),
    "noAxes": message("This font has no settings."),
    "rowMoved": message("Row {number}, what was moved by hand"),
    "movedByHand": message("Moved by hand, fussy cuts"),
    "letterAt": message("{number}: {letter}"),
    "add": {
        "nudge": message("Move a letter"),
        "fussy": message("Cut a letter from one spot"),
    },
    "remove": {
        "nudge": message("Remove move {number}"),
        "fussy": message("Remove fussy cut {number}"),
    },
    "addAccepted": message("Add one that is meant so"),
    "removeAccepted": message("Remove one that is meant so: number {number}"),
    "tables": TABLES,
    "keys": KEYS,
    "choices": CHOICES,
    "numbered": {
        "row": message("Row {number}"),
        "fabric": message("Fabric {number}"),
        "border": message("Border {number}"),
        "quilting": message("Quilting {number}"),
        "stated": message("Number of your own {number}"),
        "accepted": message("Meant so, number {number}"),
        "nudge": message("Moved letter {number}"),
        "fussy": message("Fussy cut {number}"),
    },
    "letterNumber": message("letter {number}"),
    "leftOut": message("left out"),
    "asAllFabrics": message("same as all fabrics"),
    "asAllLetters": message("same as all letters"),
    "fabricNameTaken": message("Another fabric is called “{name}” already. Choose another name."),
    "addQuilting": message("Add quilting"),
    "removeQuilting": message("Remove quilting {number}"),
    "addStated": message("Add a number of your own"),
    "removeStated": message("Remove number {number}"),
    "fabricColorOf": message("Color of {name}"),
    "fabricHaveHint": message("1 1/2yd and 2 fat quarters"),
    "fabricHaveHintMetric": message("1.5m and 2 fat quarters"),
    "addFabric": message("Add a fabric"),
    "removeFabric": message("Remove {name}"),
    "newFabric": message("Fabric {number}"),
    "photo": message("Choose a photo"),
    "removePhoto": message("Remove the photo"),
    "photoNote": message(
        "A JPEG, PNG or WebP. It belongs to the design and stays on this machine; where it was taken is not kept."
    ),
    "markNote": message("A PNG or SVG that needs nothing but itself. It stays on this machine."),
    "markChoose": message("Choose a picture"),
    "markRemove": message("Remove the picture"),
    "contrast": message("Row {number} on its background: contrast {ratio} to 1"),
    "contrastLow": message("hard to read from across a room"),
    "contrastFair": message("readable"),
    "contrastGood": message("clear"),
    "addBorder": message("Add a border"),
    "removeBorder": message("Remove border {number}"),
    "borderNumber": message("Border {number}"),
    "borderFabric": message("Fabric {number}, in order"),
    "addTurn": message("Add a fabric"),
    "dropTurn": message("Remove the last one"),
    "borderAdded": message("Added: {name}, {size}."),
    "bordersUneven": message("A border does not come out even. Fix it first; then more can be added."),
    "textNote": message(
        "Everything that a design can hold. What you change here is checked before it is taken."
    ),
    "textTake": message("Take this text"),
    "textLabel": message("The design as TOML"),
    "textTaken": message("The text is taken."),
    "textLine": message("Line {number}"),
    "textBehind": message("The design has changed since you began to type here."),
    "textAsk": message(
        "The design has changed since you began to type here. Taking this text puts back what was changed."
    ),
    "textTakeAnyway": message("Take this text all the same"),
    "textBack": message("Show the design as it is now"),
}

_NAMES: Final[Texts] = {
    "namesHead": message("A quilt for each name"),
    "namesOpen": message("Make one for each name of a list"),
    "namesOpenNote": message("The same quilt with other words, a folder for each name."),
    "namesNote": message(
        "One name to a line, or a table saved from a spreadsheet as CSV. Nothing leaves this machine."
    ),
    "namesText": message("The names"),
    "namesList": message("The list"),
    "namesChoose": message("Choose a file"),
    "namesNotText": message("{name} is not UTF-8 text. Save it again from the spreadsheet as CSV, UTF-8."),
    "namesTooLarge": message("{name} is too long for a list of names. Take a shorter one."),
    "namesCount": messages("{count} name was read.", "{count} names were read.", 1),
    "namesHeader": message("The first line says what the columns are"),
    "namesFirst": message("The first lines as they were read"),
    "namesLine": message("Line"),
    "namesColumn": message("Column {number}"),
    "namesMore": messages("and {count} more line", "and {count} more lines", 1),
    "namesWhere": message("What comes from the list"),
    "namesStays": message("stays as it is"),
    "namesPlaced": message("Filled in by themselves, for they stand in braces: {names}"),
    "namesEdition": message("What is made"),
    "namesForHer": message("Your own folders"),
    "namesForCustomers": message("Editions for customers"),
    "namesMake": messages("Make {count} pattern", "Make {count} patterns", 1),
    "namesMakeNone": message("Make the patterns"),
    "namesNow": message("{number} of {count}: {name}"),
    "namesAtLine": message("Line {number}"),
    "namesStop": message("Stop"),
    "namesStopped": message("Stopped: {number} of {count} made"),
    "namesReady": message("{number} of {count} made"),
    "namesAll": message("Download them all as a zip"),
    "namesAgain": message("Back to the list"),
}

_DRAWING: Final[Texts] = {
    "drawing": message("The quilt"),
    "drawingLabel": message("Drawing of the quilt: {words}. {size}."),
    "view": message("How to look at the drawing"),
    "moveWhat": message("Dragging moves"),
    "moveRows": message("Move rows"),
    "moveLetters": message("Move letters"),
    "units": message("Units"),
    "inches": message("in"),
    "centimeters": message("cm"),
    "guides": message("Guides"),
    "zoom": message("Size of the drawing"),
    "zoomIn": message("Larger"),
    "zoomOut": message("Smaller"),
    "zoomFit": message("Whole quilt"),
    "emptyHead": message("Your words go here."),
    "emptyText": message(
        "Type the first row of words. The quilt is drawn as you type, every letter at its true place."
    ),
    "example": message("Begin with an example"),
    "behind": message("This drawing is out of date. Fix the problem shown to update it."),
    "behindMore": messages("and {count} more problem to fix", "and {count} more problems to fix", 1),
    "piece": message("To move"),
    "nothingToMove": message("nothing yet"),
    "pieceRow": message("Row {number}: {text}"),
    "pieceLetter": message("{text}, letter {letter} of row {number}"),
    "besideLabel": message("What to do with {name}"),
    "besideHeight": message("Letter height"),
    "besideRight": message("Right"),
    "besideUp": message("Up"),
    "besideTurn": message("Turn"),
    "besideMore": message("{label}: more"),
    "besideLess": message("{label}: less"),
    "besideLetter": message("One letter of it"),
    "besideRow": message("The whole row"),
    "shelf": message("Your fabrics"),
    "shelfTake": message("Take {name}"),
    "shelfFor": message("{name}: tap what it is for"),
    "shelfTaken": message("{name} in hand. Choose what it is for; Escape lays it back."),
    "useFor": message("Use {name} for"),
    "useForHint": message("Use for …"),
    "usedFor": message("{name} used for {what}"),
    "besideWrite": message("Type its words"),
    "writeRow": message("Words of row {number}, on the quilt"),
    "putBack": message("Put back"),
    "movingHow": message(
        "Drag on the drawing, or use the arrow keys: 1/8 in a step (2 mm), with Shift 1 in (2 cm), with Alt 1/32 in "
        "(½ mm). Page Up and Page Down choose the piece. N goes to the next thing that was found."
    ),
    "moved": message("{piece} moved {distance}"),
    "movedFrom": message("{piece} moved {distance}; {gap} from {neighbor}"),
    "measures": {"in": message("{number} in"), "cm": message("{number} cm")},
    "right": message("{length} right"),
    "left": message("{length} left"),
    "up": message("{length} up"),
    "down": message("{length} down"),
    "noMove": message("where it was"),
    "snapCenter": message("on the center line"),
    "snapGap": message("equal gaps"),
    "snapEdge": message("in line"),
    "snapBase": message("on its baseline"),
}

_NEEDS: Final[Texts] = {
    "findings": message("Check before you cut"),
    "looking": message("Checking every letter …"),
    "noFindings": message("No problems found."),
    "noWords": message("Nothing to check yet."),
    "stops": message("Must fix"),
    "look": message("Check this"),
    "tryThis": message("Try: {fix}"),
    "showMe": message("Show me"),
    "cured": message("Done: {words}"),
    "spots": message("What was found, on the quilt"),
    "spotStops": message("Finding {number}, must fix: {what}"),
    "spotLook": message("Finding {number}: {what}"),
    "spotGroup": messages("{count} finding here", "{count} findings here, {names}. {first}", 1),
    "cardStops": message("Must fix: {number} of {count}"),
    "cardLook": message("Check this: {number} of {count}"),
    "cardHere": messages("{count} here:", "{count} here:", 1),
    "cardChip": message("Finding {number}: {what}"),
    "findingBefore": message("Previous"),
    "findingNext": message("Next"),
    "findingsCount": message("{stops}, {looks}"),
    "toFix": messages("{count} problem to fix", "{count} problems to fix", 1),
    "toCheck": messages("{count} thing to check", "{count} things to check", 1),
    "accept": message("Meant so"),
    "acceptNumber": message("Meant so: number {number}"),
    "acceptWhy": message("Why it is meant so"),
    "acceptEverywhere": messages("{count} place", "In all {count} places of this kind", 1),
    "acceptDo": message("Accept it"),
    "acceptedNow": message("Accepted. It comes back if what was measured changes."),
    "acceptedCount": message("Meant so: {count}"),
    "takeBack": message("Take back"),
    "takeBackNumber": message("Take back number {number}"),
    "takenBack": message("No longer accepted."),
    "toBuy": message("What to buy"),
    "counting": message("Figuring it out …"),
    "ofBefore": message("Out of date"),
    "sizeBefore": message("{size}, out of date"),
    "improving": message("Still looking for a shorter layout; it may become a little less."),
    "settled": message("Figured out."),
    "notYet": message("Appears once there are words to draw."),
    "web": message("Fusible web"),
    "freezerPaper": message("Freezer paper"),
    "webWidth": message("{width} wide"),
    "sheets": message("Sheets to print"),
    "sheetsCount": messages(
        "{count} template page on {paper} paper", "{count} template pages on {paper} paper", 1
    ),
    "letters": messages("{count} letter to cut", "{count} letters to cut", 1),
    "pieces": messages("{count} piece to cut", "{count} pieces to cut", 1),
    "shapes": messages("{count} shape", "{count} shapes", 1),
    "alsoBuy": message("Thread, notions and more"),
    "machineTime": message("Stitching the letters: {time} at the machine"),
    "precutNote": message("or {precut}"),
    "scene": message("How big it turns out"),
    "sceneLabel": message("The quilt to scale beside {things}."),
}

_FONTS: Final[Texts] = {
    "fontHead": message("Fonts in your own words"),
    "fontFor": message("for row {number}"),
    "fontForAll": message("for all rows"),
    "fontHow": message(
        "The quilt shows each font you look at. A click, Enter or its button takes it; Escape puts everything back."
    ),
    "fontKind": message("Kind"),
    "kinds": {
        "": message("all kinds"),
        "plain": message("plain"),
        "rounded": message("rounded"),
        "serif": message("serif"),
        "heavy": message("heavy"),
        "script": message("script and hand"),
        "own": message("your own"),
    },
    "fontSpells": message("Only fonts that have all my letters"),
    "fontSewable": message("Only what can be cut and sewn at this size"),
    "fontLacks": message("lacks {letters}"),
    "fontScript": message("joined up: cut as whole words"),
    "fontFine": message("too fine for scissors at this size"),
    "weight": message("Weight"),
    "ownFont": message("A font of your own"),
    "ownFontNote": message(
        "A .ttf, .otf or .woff2 file. It stays on this machine. Read its license before you sell a pattern."
    ),
    "useFont": message("Use this font"),
    "useFontNamed": message("Use this font: {name}"),
    "usedNow": message("used now"),
    "close": message("Close"),
    "fontAdded": message("{font} is added."),
}

_FILES: Final[Texts] = {
    "saveHead": message("Save the design"),
    "saveName": message("Name of the file"),
    "saveDo": message("Save"),
    "cancel": message("Cancel"),
    "saveNote": message("Your browser puts the file where it puts downloads. Open it here again to go on."),
    "saveZipNote": message(
        "It is a zip of the design with its photos, fonts and mark. Open the zip itself here again."
    ),
    "saved": message("Saved as {name}."),
    "opened": message("{name} is open."),
    "notOpened": message("{name} was not opened: {what}"),
    "making": message("Making the pattern"),
    "stop": message("Stop"),
    "stopped": message("Stopped. Nothing was kept."),
    "steps": {
        "layout": message("Laying the letters out on web and fabric"),
        "pattern.pdf": message("The pattern booklet"),
        "sew-along.html": message("The page to sew by"),
        "quilt-label.pdf": message("The label for the back"),
        "templates-mirrored.pdf": message("Templates in mirror image"),
        "templates-right-reading.pdf": message("Templates the right way round"),
        "placement-guide.pdf": message("The placement guide"),
        "nesting.pdf": message("How the letters lie on the fabric"),
        "preview.svg": message("The picture"),
        "summary.md": message("The summary"),
        "design.toml": message("The design"),
        "cut-files": message("Outlines for cutting machines"),
    },
    "customerSteps": {
        "layout": message("Laying the letters out on web and fabric"),
        "pattern-letter": message("The pattern on letter paper"),
        "templates-letter": message("The templates alone on letter paper"),
        "pattern-A4": message("The pattern on A4 paper"),
        "templates-A4": message("The templates alone on A4 paper"),
        "to-color": message("The page to color in"),
        "cut-files": message("Outlines for cutting machines"),
        "sew-along": message("The page for the tablet beside the machine"),
    },
    "forCustomers": message("Make it for customers"),
    "forCustomersNote": message(
        "The pattern to sell or give away: on letter and A4 paper, with nothing in it that is only for you."
    ),
    "madeForCustomers": message("The pattern for customers is ready"),
    "madeHead": message("Your pattern is ready"),
    "downloadAll": message("Download the folder ({size})"),
    "sizes": {"kB": message("{number} kB"), "MB": message("{number} MB")},
    "printNote": message("Print at 100% and measure the rules on the first sheet before you cut."),
    "cautions": message(
        "Rotary cutters, scissors and irons hurt: cut away from yourself, and keep them and small parts from children."
    ),
    "fileList": message("Every file by itself"),
    "download": message("Download {name}"),
    "page": message("Page {page} of {file}"),
    "pages": messages("{count} page", "{count} pages", 1),
    "makeAgain": message("Back to the design"),
    "wrong": message("This did not work."),
    "lost": message("The program behind this page does not answer."),
    "lostToAnother": message("The program was started anew and does not know this page."),
    "lostFix": message(
        "Your quilt is kept here and this page goes on when the program is back. To be safe, save a copy. If the "
        "window with `applique serve` is closed, start it again; if it shows another address, open that."
    ),
    "programBack": message("The program is back."),
    "saveCopy": message("Save a copy"),
    "copyName": message("quilt"),
    "saveNoteGone": message(
        "The program does not answer, so your browser writes this copy itself. Fonts, photos and other pictures of "
        "your own are not in it. Open it here again when the program is back."
    ),
    "makeDied": message("The making has stopped: the program ended. Nothing was kept."),
}

PAGE: Final[Texts] = {
    **_HEAD,
    **_KEEPING,
    **_ROWS,
    **_SETTINGS,
    **_NAMES,
    **_DRAWING,
    **_NEEDS,
    **_FONTS,
    **_FILES,
}
"""Every text of the page."""


def page_texts(speech: Speech) -> Spoken:
    """Every text of the page as `speech` has it, its `{names}` not yet filled in."""
    return _spoken(PAGE, speech)


def _spoken(texts: Texts, speech: Speech) -> Spoken:
    return {
        key: _said(text, speech) if isinstance(text, Message) else _spoken(text, speech)
        for key, text in texts.items()
    }


def _said(text: Message, speech: Speech) -> str | Spoken:
    return dict(speech.forms(text)) if text.plural else speech.template(text)
