"""What a maker starts from: the commented design file of `applique new`, every table with each key at its default, and
the design of a new page. Where people sew in centimeters, both are in centimeters and for A4.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, Final, TypeAlias

from applique.language import Message, Speech, message

__all__ = ["new_design", "starter"]

_Line: TypeAlias = "tuple[str, Message | None]"
"""A line of the file: what it sets, which is the same in every language, and the note on it; either may be missing."""
_LONGEST: Final = 27
"""Signs of what a line sets up to which the notes stand below one another."""


def _or(*choices: str) -> Message:
    return message("or {choices}", choices=_quoted(*choices))


def _quoted(*choices: str) -> str:
    """`choices` as they are written in the file."""
    return ", ".join(f'"{choice}"' for choice in choices)


_HEAD: Final[tuple[_Line, ...]] = (
    (
        "",
        message(
            "A quilt of words. Lengths are written as you would say them: {lengths}.",
            lengths=_quoted("7in", "7 1/4in", "18.5cm", "1/2yd"),
        ),
    ),
    ("", message("A line that starts with # is a note; take the # away to use the setting behind it.")),
    ("", None),
    ('title = "Row Steady Home"', None),
    ('designer = ""', None),
)
_PANEL: Final[tuple[_Line, ...]] = (
    ("", None),
    ("[panel]", None),
    ("", message("the background the letters are sewn to; finished sizes")),
)
_IN_INCHES: Final[tuple[_Line, ...]] = (
    ('width = "36in"', None),
    ('height = "48in"', None),
    ('# seam_allowance = "1/4in"', None),
)
_IN_CENTIMETERS: Final[tuple[_Line, ...]] = (
    ('width = "90cm"', None),
    ('height = "120cm"', None),
    ('# seam_allowance = "0.75cm"', None),
)
_MOST: Final[tuple[_Line, ...]] = (
    (
        "",
        message(
            "and {trim} to cut it larger by that in all and trim it after stitching; so under satin stitch if left out",
            trim='trim_after = "1in"',
        ),
    ),
    ('# margin = "1 1/2in"', message("least distance from the letters to the finished edge")),
    ('# fabric = "Fog"', message("one of the fabrics below")),
    ("", None),
    ("[lettering]", None),
    ("", message("what every row takes unless it says otherwise")),
    (
        'font = "Fredoka"',
        message("`applique fonts` lists them; or the path of a font file of your own"),
    ),
    (
        'cap_height = "fit"',
        message(
            "letter height (capital H): a length, or {fit} for the largest that fits", fit=_quoted("fit")
        ),
    ),
    ("# axes = { weight = 650 }", message("settings of a variable font")),
    ('# letter_spacing = "0in"', message("added between all letters")),
    ('# least_gap = "1/4in"', message("no two letters come nearer than this")),
    (
        '# spacing = "font"',
        message("or {even}: the space between letters evened out by area", even=_quoted("even")),
    ),
    ('# row_gap = "1in"', message("least space between rows")),
    ('# rows = "equal white"', _or("even baselines")),
    ('# row_spacing = "9in"', message("a fixed distance from baseline to baseline")),
    ('# baseline_step = "1/4in"', message("moves rows a little, so that baselines are easy to measure")),
    ('# align = "center"', _or("left", "right", "spread")),
    ('# fabric = "Navy"', None),
    ("# alternates = false", message("letter variants of fonts that have them")),
    ('# outline = "0in"', message("how far a shape of another fabric reaches out behind the letters")),
    ("", None),
    ("[[row]]", None),
    ('text = "ROW"', None),
    ("", message("what a row can have of its own:")),
    ("# font, axes, cap_height, letter_spacing, least_gap, spacing, align, fabric, outline,", None),
    ("# stitch, stitch_width, stitch_length, thread", None),
    ('# direction = "across"', message("or {down}: letter under letter", down=_quoted("down"))),
    ('# width = "24in"', message("how wide the row is, instead of a letter height")),
    ('# baseline = "12in"', message("down from the finished top edge; then every row needs one")),
    ('# right = "0in"', message("the whole row moved by hand")),
    ('# up = "0in"', None),
    ("# turn = 0", message("degrees to the left; negative turns right")),
    ("# runs_off = false", message("true lets it run off the panel, into the seam")),
    (
        '# nudge = [{ letter = 2, right = "1/8in", up = "0in", turn = 5 }]',
        message("one letter moved and turned by hand"),
    ),
    ("", None),
    ("[[row]]", None),
    ('text = "STEADY"', None),
    ("", None),
    ("[[row]]", None),
    ('text = "HOME"', None),
    ("", None),
    ("# [[fabric]]", None),
    ('# name = "Navy"', None),
    ('# color = "#1f3a5f"', None),
    ('# usable_width = "40in"', message("what you can cut from: after washing, without the selvages")),
    (
        "",
        message(
            "or {width} between the selvages as it is sold; washing takes from that",
            width='sold_width = "42in"',
        ),
    ),
    (
        '# turns = "half"',
        message(
            "or {upright} for a one-way print, {quarter} for any",
            upright=_quoted("upright"),
            quarter=_quoted("quarter"),
        ),
    ),
    ('# have = "1 1/2yd and 2 fat quarters"', message("what's in your stash")),
    ('# plan = "least fabric"', message("as in [yardage], for this fabric alone")),
    ('# stitch = "blanket"', message("around every letter of it")),
    ("", None),
    ("# [outline]", message("the layer behind letters that have an outline")),
    ('# fabric = "Navy"', None),
    ('# thread = "#1f3a5f"', message("that of its fabric if left out")),
    ('# around = "letters"', message("or {words}: one shape behind each word", words=_quoted("words"))),
    ('# corners = "round"', _or("mitered")),
    ("# miter_limit = 2.0", message("longer mitered corners are cut off")),
    ('# counters = "open where they fit"', _or("closed")),
    ("", None),
    ("# [sewing]", None),
    ('# method = "raw edge"', _or("machine cut", "turned edge")),
    ('# turn_under = "3/16in"', message("of a turned edge")),
    ('# freezer_paper = "right side"', _or("wrong side, shiny side down", "wrong side, shiny side up")),
    (
        '# weave = "firm"',
        message("the panel's fabric; or {choices}", choices=_quoted("loose", "slippery", "stretchy")),
    ),
    ('# viewing_distance = "20ft"', message("from how far the words are read")),
    ("", message("the least that you will cut and sew; by method and stitch if left out")),
    ('# least_stroke = "1/4in"', None),
    ('# least_counter = "1/4in"', None),
    ('# least_slot = "1/8in"', None),
    ('# least_clear = "1/16in"', message("between letters, and between rows")),
    ('# least_seam = "1/2in"', message("from a letter to the panel's seam")),
    ("# least_point = 20", message("degrees")),
    ("", None),
    ("# [stitching]", None),
    (
        '# stitch = "satin"',
        message("or {choices}; chosen if left out", choices=_quoted("straight", "zigzag", "blanket")),
    ),
    ('# width = "3mm"', None),
    ('# length = "0.4mm"', None),
    ('# thread = "#1f3a5f"', message("that of the letters if left out")),
    ('# thickness = "1mm"', message("of all layers under the needle")),
    ("# waste_percent = 15", None),
    ('# spool = "500yd"', None),
    ('# bobbin = "60yd"', None),
    ('# stabilizer_width = "20in"', message("of the roll")),
    ("# pace = 160", message("stitches a minute while guiding; by the stitch if left out")),
    ('# throat = "8in"', message("room in the machine's throat")),
    ('# when = "before the borders"', _or("after the borders", "with the quilting")),
    ('# offers = ["satin", "blanket"]', message("stitches to choose from, side by side in the pattern")),
    ("", None),
    ("# [[quilting]]", message("as many as you like")),
    ('# kind = "echo"', _or("lines", "crosshatch", "edge to edge", "in the ditch")),
    ('# spacing = "1/2in"', message("from line to line, and from the letters to the first echo")),
    ("# lines = 3", message("echo lines")),
    ("# angle = 45.0", message("of straight lines")),
    ('# letters = "miss"', _or("cross")),
    ('# row_height = "10in"', message("of rows from edge to edge")),
    ('# overlap = "1/2in"', None),
    ('# repeat_width = "12in"', message("of an edge-to-edge design of your own")),
    ('# repeat_thread = "4yd"', message("needle thread in one repeat")),
    ('# stitch_length = "2.5mm"', None),
    ("# offered = false", message("one of several to choose from; not sewn as well")),
    ("", None),
    ("# [[border]]", message("as many as you like, from the panel outward")),
    ('# kind = "strip"', _or("squares", "rectangles")),
    ('# fabrics = ["Navy"]', message("squares and rectangles take several, in order")),
    ('# width = "2in"', message("of a strip; depth of rectangles")),
    ('# size = "4in"', message("side of a square; length of a rectangle")),
    ('# first = "sides"', message("or {choices}: what is sewn on first", choices=_quoted("top and bottom"))),
    ('# corners = "butted"', _or("cornerstones", "mitered")),
    ('# corner_fabric = "Navy"', None),
    ('# joins = "diagonal"', _or("straight")),
    ("", None),
    ("# [binding]", None),
    ('# fabric = "Navy"', None),
    ('# width = "2 1/2in"', None),
    ('# allowance = "10in"', message("beyond the perimeter, for corners and the end")),
    ('# grain = "straight"', _or("bias")),
    ("# left_out = false", message("true where the edge is finished another way")),
    ("", None),
    ("# [backing]", None),
    ('# kind = "cloth"', _or("wide", "leftovers")),
    ('# fabric = "Navy"', None),
    ('# overage = "4in"', message("larger than the quilt on every side")),
    ('# wide_width = "106in"', None),
    ("# left_out = false", message("true where you have your own; its size is said")),
    ("", None),
    ("# [batting]", None),
    ('# overage = "2in"', None),
    ("# left_out = false", None),
    ("", None),
    ("# [pillow]", message("where finish is {choice}", choice=_quoted("pillow"))),
    ('# back = "overlapping"', _or("zipper")),
    ('# overlap = "4in"', None),
    ("", None),
    ("# [banner]", message("where finish is {choice}", choice=_quoted("banner"))),
    ('# hangs_by = "sleeve"', _or("ties")),
    ('# tie_length = "18in"', None),
    ('# fabric = "Navy"', message("of the ties")),
    ("# batting = false", message("true: light batting inside")),
    ("", None),
    ("# [garment]", message("where finish is {choice}", choice=_quoted("garment"))),
    ('# drop = "3in"', message("from the front neckline down to the top of the panel")),
    ('# point = "the shoulder seam"', message("where it is measured from another point of the center line")),
    ("", None),
    ("# [hanging]", None),
    ("# sleeve = false", None),
    ('# fabric = "Navy"', None),
    ("", None),
    ("# [label]", None),
    ('# maker = "you"', None),
    ('# date = "Spring"', None),
    ('# place = "where"', None),
    ('# care = ["Wash cold and gently, dry flat.", "Iron the back only."]', None),
    ("", None),
    ("# [yardage]", None),
    ("# washed = false", message("true: you wash fabric before you cut it, and it loses 3%")),
    (
        "",
        message("and {shrinkage} if yours loses more or less", shrinkage="shrinkage_percent = 5"),
    ),
)
_SQUARING: Final = message("cut off to square up each cut end")
_SQUARED_IN_INCHES: Final[tuple[_Line, ...]] = (('# squaring = "1in"', _SQUARING),)
_SQUARED_IN_CENTIMETERS: Final[tuple[_Line, ...]] = (('# squaring = "2.5cm"', _SQUARING),)
_PLANNED: Final[tuple[_Line, ...]] = (
    ('# plan = "simple unless it pays"', _or("least fabric", "fewest kinds of cuts")),
    ("", None),
    ("# [[stated]]", message("a number of your own pattern: `applique check` says whether it holds")),
    (
        '# part = "binding"',
        _or("panel", "border", "backing", "hanging sleeve", "letters", "fabric", "fusible web"),
    ),
    ("# strips = 7", message("and pieces, length, buy or hours")),
    ("", None),
    ("# [[accepted]]", message("a finding that you mean so: `applique check` prints the table to paste")),
    ('# finding = "thin stroke"', None),
    ('# why = "I have sewn it before"', None),
    ("", None),
    ("# [publisher]", message("if you publish the pattern")),
    ('# name = "your name"', None),
    ('# mark = "YN"', None),
    ('# mark_file = "mark.svg"', message("or a picture as your mark, PNG or SVG")),
    ('# edition = "2nd edition"', None),
    ("# year = 2026", None),
    ('# contact = "where to reach you"', None),
    ("# contact_code = true", message("also as a code to scan")),
    ('# license = "what others may do with it"', None),
    ('# skill = "confident beginner"', None),
    ("", None),
    ("# [fusible]", None),
    ('# width = "17in"', None),
    ('# rough_cut = "1/4in"', message("left around each letter until it is fused")),
    ('# spacing = "1/8in"', message("between rough-cut letters")),
    ("# extra_percent = 25", message("extra to buy, beyond what the layout uses")),
    (
        "",
        message(
            "and {ring} to cut the middle of the web away and leave a ring inside the edge",
            ring='ring = "3/8in"',
        ),
    ),
    ("", None),
    ("# [cutting]", message("a cutting machine")),
    ('# mat_width = "12in"', message("with it, whole mats are laid out")),
    ('# mat_height = "12in"', None),
    ('# mat_margin = "1/4in"', None),
    ('# mat_spacing = "1/8in"', None),
    ("# dxf = false", message("DXF files beside the SVG ones")),
    ("", None),
)
_LETTER: Final[tuple[_Line, ...]] = (
    ("# [paper]", None),
    ('# size = "letter"', _or("A4", "legal", "tabloid", "A3")),
)
_A4: Final[tuple[_Line, ...]] = (
    ("[paper]", None),
    ('size = "A4"', _or("letter", "legal", "tabloid", "A3")),
)
_REST: Final[tuple[_Line, ...]] = (
    ('# margin = "3/8in"', None),
    ('# overlap = "3/4in"', message("what the pages of a large letter share")),
    ('# copies = "one"', message("or {each}: a template for every letter to be cut", each=_quoted("each"))),
    (
        "# full_size_nest = false",
        message("the nested letters at full size, to trace from, or for a machine to cut web by"),
    ),
    ("# full_size_guide = false", message("the whole panel on pages to lay under light fabric")),
    ('# copy_shop = "24in"', _or("36in", "A1", "A0")),
    ("# projector = false", message("the placed words at full size for a projector")),
    ("", None),
    ("# [print]", None),
    ("", message("what the 6 in rulers of a printed sheet measured, if your printer is a little off")),
    ('# scale_x = "6in"', message("the bottom ruler")),
    ('# scale_y = "6in"', message("the side ruler")),
)


def starter(speech: Speech) -> str:
    """The text of a new design file, for somebody who speaks so: its notes are in that language."""
    return "".join(f"{_written(code, note, speech)}\n" for code, note in _lines(speech))


def new_design(speech: Speech) -> Mapping[str, Any]:
    """What a design has before there are words, for somebody who speaks so, as plain data."""
    if not speech.is_metric:
        return {}
    return {"language": speech.tag, "units": "cm", "paper": {"size": "A4"}}


def _written(code: str, note: Message | None, speech: Speech) -> str:
    if note is None:
        return code
    note_said = f"# {speech.tell(note)}"
    return f"{code:<{_LONGEST}}  {note_said}" if code else note_said


def _lines(speech: Speech) -> Iterator[_Line]:
    yield from _HEAD
    yield from _settings(speech)
    yield from _PANEL
    yield from _IN_CENTIMETERS if speech.is_metric else _IN_INCHES
    yield from _MOST
    yield from _SQUARED_IN_CENTIMETERS if speech.is_metric else _SQUARED_IN_INCHES
    yield from _PLANNED
    yield from _A4 if speech.is_metric else _LETTER
    yield from _REST


def _settings(speech: Speech) -> Iterator[_Line]:
    """The language of the sheets and the units, set where they are not the defaults."""
    printed = message(
        "or {other}: what lengths are printed in", other=_quoted("in" if speech.is_metric else "cm")
    )
    if speech.is_metric:
        american = message("of the printed sheets; {tag} for American English", tag=_quoted("en"))
        yield f'language = "{speech.tag}"', american
        yield 'units = "cm"', printed
    else:
        yield (
            '# language = "en"',
            message("of the printed sheets; {tag} is British English", tag=_quoted("en-GB")),
        )
        yield '# units = "in"', printed
    yield (
        '# finish = "quilt"',
        message(
            "or {choices}: for somebody else to quilt, a cover with a back, what hangs, what is worn, or nothing "
            "around the letters",
            choices=_quoted("top only", "pillow", "banner", "garment", "letters only"),
        ),
    )
