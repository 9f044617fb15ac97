"""Template sheets laid out: which template stands where on which page, and how large letters are tiled.

Two frames. *Paper*: inches on the printed page, origin at its lower left corner, y up. *Drawing area*: true
inches on cloth, origin at the lower left corner of the area that a page has for drawing. They differ by the
printer's correction: a printer that prints 6 in as 5.64 in is sent everything 6/5.64 larger. All of it is
laid out right-reading; the mirrored file mirrors whole pages.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

import shapely
from shapely.geometry import MultiPolygon, Polygon, box
from shapely.geometry.base import BaseGeometry

from applique.design import Copies, Paper, PaperSize, PrintCorrection
from applique.errors import Problem, Refusal
from applique.geometry.place import Place
from applique.geometry.points import Bounds, Point
from applique.geometry.polygons import Shape
from applique.nesting import NestPiece, fits, nest_bins
from applique.pieces import MOST_ROWS_SAID, Layer, Template, rows_said
from applique.typeset.labels import label_width

__all__ = [
    "PAPER_INCHES",
    "LabelSpot",
    "SheetFrame",
    "SheetItem",
    "TemplatePage",
    "TemplateSheets",
    "Tile",
    "TiledTemplate",
    "Tiling",
    "label_size",
    "lay_out_templates",
    "sheet_frame",
    "tile_area",
]

_MM: Final = 1 / Fraction(254, 10)
PAPER_INCHES: Final[dict[PaperSize, tuple[Fraction, Fraction]]] = {
    PaperSize.LETTER: (Fraction(17, 2), Fraction(11)),
    PaperSize.LEGAL: (Fraction(17, 2), Fraction(14)),
    PaperSize.TABLOID: (Fraction(11), Fraction(17)),
    PaperSize.A4: (210 * _MM, 297 * _MM),
    PaperSize.A3: (297 * _MM, 420 * _MM),
}
"""Width and height of each paper, upright. Sources: ISO 216 for A4 and A3; ANSI/ASME Y14.1 for letter and
tabloid; legal is a US stationery size (from memory)."""

HEADER: Final = 0.62
"""Inches of paper for the title, the method and the page number."""
RULE_STRIP: Final = 0.44
"""Inches of paper for the rule along the bottom and the one up the side."""
TICK: Final = 0.22
"""Length of a baseline tick, and its distance from the ink `TICK_GAP`."""
TICK_GAP: Final = 0.06
BETWEEN: Final = 0.2
"""Clear inches between templates on a page."""
_NAME_SIZE: Final = 0.22
_DETAIL_SIZE: Final = 0.115
_LEADING: Final = 1.3
_LABEL_PAD: Final = 0.07
_WIDEST_LABEL: Final = 1.8
"""Inches of the longest line of a label. A label wider than its letter takes the paper that other letters need, and
one wider than a page would make the smallest letter a tile."""
_MOST_LABEL_LINES: Final = 10
_ARROW: Final = 0.24
"""Width of the column that the grain arrow takes beside a label."""
_QUARTER_TURNS: Final = (0.0, 90.0, 180.0, 270.0)
_MARKS_AT: Final = (0.25, 0.75)
"""Where along a page's side its join marks stand."""
_MOST_PAGES: Final = 2_000
_NESTED_PER_SHELVED: Final = 0.7
"""Pages of nested shapes for one of shelved boxes; measured 0.64 to 0.72 at cap heights of 2 to 5 in."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetFrame:
    """A printed page: its size and drawing area in inches of paper, and the printer's correction.

    `paper_per_true_x` and `_y` are paper inches for one true inch, 1 for a true printer. `rule_inches` and
    `rule_mm` are what the two rules can measure here, as (along the bottom, up the side).
    """

    width: float
    height: float
    margin: float
    drawing: Bounds
    paper_per_true_x: float
    paper_per_true_y: float
    rule_inches: tuple[int, int]
    rule_mm: tuple[int, int]

    @property
    def room(self) -> tuple[float, float]:
        """Width and height of the drawing area in true inches."""
        x0, y0, x1, y1 = self.drawing
        return (x1 - x0) / self.paper_per_true_x, (y1 - y0) / self.paper_per_true_y


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelSpot:
    """Where a template's label stands, about the template's own origin.

    `box` holds the lines of text; `turn_deg` is 0 for text along x, 90 for text up y. `arrow` is the grain
    arrow as (x, low y, high y), always along the letter's height. `inside` says that it lies on the letter.
    """

    lines: tuple[str, ...]
    box: Bounds
    turn_deg: int
    arrow: tuple[float, float, float]
    inside: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetItem:
    """A template on a page and its place in the drawing area."""

    template: int
    place: Place
    label: LabelSpot


@dataclass(frozen=True, slots=True, kw_only=True)
class TemplatePage:
    """A page of whole templates."""

    items: tuple[SheetItem, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Tile:
    """One page of a drawing larger than a page: the `window` of it that the page shows, in its frame.

    `name` is its row letter from the top and its column number from the left, such as B2.
    """

    name: str
    row: int
    column: int
    window: Bounds


@dataclass(frozen=True, slots=True, kw_only=True)
class Tiling:
    """A drawing cut into tiles that share an overlap.

    `area` is what the tiles cover. Neighbors are trimmed and joined on `seams_x` and `seams_y`, lines in the
    middle of their overlap that both pages print; `marks` are points on the seams that both print too, to be
    laid one on the other. Tiles without ink are not in `tiles`.
    """

    area: Bounds
    rows: int
    columns: int
    seams_x: tuple[float, ...]
    seams_y: tuple[float, ...]
    marks: tuple[Point, ...]
    tiles: tuple[Tile, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class TiledTemplate:
    """A template larger than a page, turned about its origin, and its tiling in that frame."""

    template: int
    place: Place
    tiling: Tiling


@dataclass(frozen=True, slots=True, kw_only=True)
class TemplateSheets:
    """All template pages: first the whole ones, then the tiled templates, tile by tile."""

    frame: SheetFrame
    copies: Copies
    pages: tuple[TemplatePage, ...]
    tiled: tuple[TiledTemplate, ...]

    @property
    def page_count(self) -> int:
        """Pages with templates, the first page with its explanations not counted."""
        return len(self.pages) + sum(len(tiled.tiling.tiles) for tiled in self.tiled)


def sheet_frame(paper: Paper, correction: PrintCorrection) -> SheetFrame:
    """The page that `paper` and the printer's `correction` leave to draw on.

    Raises:
        Refusal: margins that leave no room, or an overlap as large as the drawing area.
    """
    width, height = (float(side) for side in PAPER_INCHES[paper.size])
    margin = float(paper.margin)
    drawing = (margin + RULE_STRIP, margin + RULE_STRIP, width - margin, height - margin - HEADER)
    if drawing[2] - drawing[0] < 3 or drawing[3] - drawing[1] < 3:
        raise Refusal(
            Problem(
                what="the margins leave too little of the paper",
                where="[paper] margin",
                fix='margin = "3/8in"',
            )
        )
    across, up = 1 / float(correction.scale_x), 1 / float(correction.scale_y)
    room = ((drawing[2] - drawing[0]) / across, (drawing[3] - drawing[1]) / up)
    if float(paper.overlap) > min(room) / 2:
        raise Refusal(
            Problem(
                what="tiles would share more than half of each page",
                where="[paper] overlap",
                fix='overlap = "3/4in"',
            )
        )
    return SheetFrame(
        width=width,
        height=height,
        margin=margin,
        drawing=drawing,
        paper_per_true_x=across,
        paper_per_true_y=up,
        rule_inches=(min(6, math.floor(room[0])), min(6, math.floor(room[1]))),
        rule_mm=(min(150, math.floor(room[0] * 2.54) * 10), min(150, math.floor(room[1] * 2.54) * 10)),
    )


def lay_out_templates(
    templates: Sequence[Template], paper: Paper, correction: PrintCorrection, *, own_fonts: tuple[str, ...]
) -> TemplateSheets:
    """Templates on as few pages as their shapes allow; whole where they fit, tiled where they do not.

    Raises:
        Refusal: more pages than anybody would print.
    """
    frame = sheet_frame(paper, correction)
    labels = {template.key: label_spot(template, paper.copies, own_fonts=own_fonts) for template in templates}
    pieces = {
        template.key: NestPiece(
            key=template.key,
            shape=_footprint(template, labels[template.key]),
            count=template.count if paper.copies is Copies.EACH else 1,
            turns_deg=_QUARTER_TURNS,
        )
        for template in templates
    }
    width, height = frame.room
    whole = [piece for piece in pieces.values() if fits(piece, width=width, height=height)]
    small = {piece.key for piece in whole}
    numbers = {template.key: template.number for template in templates}
    counts = {key: piece.count for key, piece in pieces.items()}
    tiled = tuple(_tiled(template, frame, paper) for template in templates if template.key not in small)
    tiles = sum(len(large.tiling.tiles) * counts[templates[large.template - 1].key] for large in tiled)
    _refuse_too_many(tiles + _pages_about(whole, width, height))
    nest = nest_bins(whole, width=width, height=height, spacing=BETWEEN) if whole else None
    pages = tuple(
        TemplatePage(
            items=tuple(
                SheetItem(
                    template=numbers[spot.key],
                    place=spot.place,
                    label=labels[spot.key],
                )
                for spot in page
            )
        )
        for page in (nest.bins if nest else ())
    )
    each = tuple(large for large in tiled for _ in range(counts[templates[large.template - 1].key]))
    return TemplateSheets(frame=frame, copies=paper.copies, pages=pages, tiled=each)


def _pages_about(pieces: Sequence[NestPiece], width: float, height: float) -> int:
    """About how many pages the pieces will take: by their boxes, upright, shelved, less what nesting saves."""
    boxes = sorted(
        (
            (y1 - y0 + BETWEEN, x1 - x0 + BETWEEN, piece.count)
            for piece in pieces
            for x0, y0, x1, y1 in [piece.shape.bounds]
        ),
        reverse=True,
    )
    pages, left, used = 0, 0.0, width
    for tall, long, count in boxes:
        for _ in range(count):
            if used + long > width:
                used = 0.0
                if left < tall:
                    pages, left = pages + 1, height
                left -= tall
            used += long
    return math.ceil(pages * _NESTED_PER_SHELVED)


def _refuse_too_many(pages: int) -> None:
    """Refuse more pages than anybody would print, before the work of laying them out.

    Raises:
        Refusal: with the number of pages, judged by the boxes around the letters.
    """
    if pages > _MOST_PAGES:
        raise Refusal(
            Problem(
                what=f"the templates take about {pages:,} pages; {_MOST_PAGES:,} are the most",
                where="[paper]",
                fix='smaller or fewer letters, larger paper, or copies = "one"',
            )
        )


def _footprint(template: Template, label: LabelSpot) -> Shape:
    """All that a template needs on paper: its shape, a letter's baseline ticks and a label that lies beside it."""
    x0, _, x1, _ = template.outermost.bounds
    half = 0.03
    parts: list[BaseGeometry] = [template.outermost]
    if template.letter:
        parts += [
            box(x0 - TICK_GAP - TICK, -half, x0 - TICK_GAP, half),
            box(x1 + TICK_GAP, -half, x1 + TICK_GAP + TICK, half),
        ]
    if not label.inside:
        parts.append(box(*_with_arrow(label)))
    whole = shapely.union_all(parts)
    return whole if isinstance(whole, Polygon | MultiPolygon) else MultiPolygon()


def _with_arrow(label: LabelSpot) -> Bounds:
    x0, y0, x1, y1 = label.box
    x, low, high = label.arrow
    return (min(x0, x - _ARROW / 2), min(y0, low), max(x1, x + _ARROW / 2), max(y1, high))


# Labels


def label_lines(template: Template, copies: Copies, *, own_fonts: tuple[str, ...]) -> tuple[str, ...]:
    """What a template says of itself: its letter or name, then how many from which fabric, then its rows if any.

    No line is wider than a label may be: names of fabrics go on in the next line, words too long for one are cut
    short with an ellipsis, rows too many to name are counted.
    """
    details = ["outline behind it"] if template.layer is Layer.OUTLINE else []
    for use in template.uses:
        cut = use.fabric.name if copies is Copies.EACH else f"cut {use.count} · {use.fabric.name}"
        details += _wrapped(cut, own_fonts)
    most = _MOST_LABEL_LINES - 2
    if len(details) > most:
        details = [*details[: most - 1], "the rest: see summary.md"]
    rows = len(template.in_rows)
    if rows > MOST_ROWS_SAID:
        details.append(f"in {rows_said(template)}")
    elif rows:
        details.append(f"{'row' if rows == 1 else 'rows'} {rows_said(template)}")
    return (_shortened(template.text, 0, own_fonts), *details)


def _wrapped(text: str, own_fonts: tuple[str, ...]) -> list[str]:
    """`text` in lines of a label, none wider than a label may be."""
    lines: list[str] = []
    for word in text.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and _fits_label(longer, 1, own_fonts):
            lines[-1] = longer
        else:
            lines.append(_shortened(word, 1, own_fonts))
    return lines


def _shortened(text: str, line: int, own_fonts: tuple[str, ...]) -> str:
    """`text`, cut with an ellipsis where it is wider than a label may be."""
    if _fits_label(text, line, own_fonts):
        return text
    count = bisect_right(
        range(len(text)), False, key=lambda n: not _fits_label(text[:n] + "…", line, own_fonts)
    )
    return text[: max(count - 1, 1)] + "…"


def _fits_label(text: str, line: int, own_fonts: tuple[str, ...]) -> bool:
    return label_width(text, label_size(line), own_fonts=own_fonts) <= _WIDEST_LABEL


def label_size(line: int) -> float:
    """The size of a label's text in inches: the letter large, what follows it small."""
    return _DETAIL_SIZE if line else _NAME_SIZE


def label_spot(template: Template, copies: Copies, *, own_fonts: tuple[str, ...]) -> LabelSpot:
    """Where the label goes: onto the letter where it fits whole, so that it stays with the cut template.

    Where the strokes are too narrow for it, below the letter.
    """
    lines = label_lines(template, copies, own_fonts=own_fonts)
    long = max(label_width(text, label_size(index), own_fonts=own_fonts) for index, text in enumerate(lines))
    tall = sum(label_size(index) for index in range(len(lines))) * _LEADING
    for turn_deg, width, height in ((0, long, tall), (90, tall, long)):
        whole_width, whole_height = width + _ARROW + 2 * _LABEL_PAD, height + 2 * _LABEL_PAD
        center = _room_inside(template.shape, whole_width, whole_height)
        if center is not None:
            x0, y0 = center[0] - whole_width / 2 + _LABEL_PAD, center[1] - height / 2
            return LabelSpot(
                lines=lines,
                box=(x0 + _ARROW, y0, x0 + _ARROW + width, y0 + height),
                turn_deg=turn_deg,
                arrow=(x0 + _ARROW / 2, y0, y0 + height),
                inside=True,
            )
    low = min(template.ink[1], 0.0) if template.letter else template.ink[1]
    x0, y1 = template.ink[0] + _ARROW, low - 2 * _LABEL_PAD
    return LabelSpot(
        lines=lines,
        box=(x0, y1 - tall, x0 + long, y1),
        turn_deg=0,
        arrow=(x0 - _ARROW / 2, y1 - tall, y1),
        inside=False,
    )


def _room_inside(shape: Shape, width: float, height: float) -> tuple[float, float] | None:
    """The center nearest the middle of `shape` at which a `width` by `height` box lies inside it."""
    x0, y0, x1, y1 = shape.bounds
    if width > x1 - x0 or height > y1 - y0:
        return None
    step = max(min(width, height) / 6, max(x1 - x0, y1 - y0) / 80)
    middle = ((x0 + x1) / 2, (y0 + y1) / 2)
    centers = sorted(
        (math.dist((x, y), middle), x, y)
        for x in _spaced(x0 + width / 2, x1 - width / 2, step)
        for y in _spaced(y0 + height / 2, y1 - height / 2, step)
    )
    if not centers:
        return None
    _, xs, ys = zip(*centers, strict=True)
    half_width, half_height = width / 2, height / 2
    shapely.prepare(shape)
    boxes = shapely.box(
        [x - half_width for x in xs], [y - half_height for y in ys],
        [x + half_width for x in xs], [y + half_height for y in ys],
    )  # fmt: skip
    inside = shapely.contains(shape, boxes)
    return next(((x, y) for x, y, good in zip(xs, ys, inside, strict=True) if good), None)


def _spaced(low: float, high: float, step: float) -> list[float]:
    count = max(1, math.ceil((high - low) / step))
    return [low + (high - low) * index / count for index in range(count + 1)]


# Tiles


def _tiled(template: Template, frame: SheetFrame, paper: Paper) -> TiledTemplate:
    """The tiling of a large template, upright or on its side, whichever takes fewer pages."""

    def tried(turn_deg: float) -> TiledTemplate:
        place = Place(x=0.0, y=0.0, turn_deg=turn_deg)
        return TiledTemplate(
            template=template.number,
            place=place,
            tiling=tile_area(
                place.shape(template.outermost), frame=frame, overlap=float(paper.overlap), border=0.15
            ),
        )

    return min((tried(0.0), tried(90.0)), key=lambda tiled: len(tiled.tiling.tiles))


def tile_area(shape: BaseGeometry, *, frame: SheetFrame, overlap: float, border: float) -> Tiling:
    """`shape` with `border` around it cut into tiles of the frame's drawing area that share `overlap`.

    The drawing is centered in the tiles. Tiles that `shape` does not touch are left out.

    Raises:
        Refusal: more tiles than anybody would print.
    """
    width, height = frame.room
    x0, y0, x1, y1 = shape.bounds
    need_x, need_y = x1 - x0 + 2 * border, y1 - y0 + 2 * border
    columns = max(1, math.ceil((need_x - overlap) / (width - overlap) - 1e-9))
    rows = max(1, math.ceil((need_y - overlap) / (height - overlap) - 1e-9))
    if columns * rows > _MOST_PAGES:
        raise Refusal(
            Problem(
                what=f"a drawing of {x1 - x0:.0f} by {y1 - y0:.0f} in takes {columns * rows} pages",
                where="[paper]",
                fix="smaller letters or larger paper",
            )
        )
    full_x, full_y = columns * (width - overlap) + overlap, rows * (height - overlap) + overlap
    left, top = (x0 + x1 - full_x) / 2, (y0 + y1 + full_y) / 2
    seams_x = tuple(left + column * (width - overlap) + overlap / 2 for column in range(1, columns))
    seams_y = tuple(top - row * (height - overlap) - overlap / 2 for row in range(1, rows))
    along_x = [
        left + column * (width - overlap) + width * part for column in range(columns) for part in _MARKS_AT
    ]
    along_y = [top - row * (height - overlap) - height * part for row in range(rows) for part in _MARKS_AT]
    return Tiling(
        area=(left, top - full_y, left + full_x, top),
        rows=rows,
        columns=columns,
        seams_x=seams_x,
        seams_y=seams_y,
        marks=(*((x, y) for x in seams_x for y in along_y), *((x, y) for y in seams_y for x in along_x)),
        tiles=tuple(_tiles(shape, (left, top), (width, height), overlap, (rows, columns))),
    )


def _tiles(
    shape: BaseGeometry,
    corner: tuple[float, float],
    room: tuple[float, float],
    overlap: float,
    grid: tuple[int, int],
) -> Iterator[Tile]:
    left, top = corner
    width, height = room
    shapely.prepare(shape)
    for row in range(grid[0]):
        for column in range(grid[1]):
            x, y = left + column * (width - overlap), top - row * (height - overlap)
            window = (x, y - height, x + width, y)
            if shapely.intersects(shape, box(*window)):
                yield Tile(name=f"{_row_letters(row)}{column + 1}", row=row, column=column, window=window)


def _row_letters(row: int) -> str:
    letters = ""
    row += 1
    while row:
        row, rest = divmod(row - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters
