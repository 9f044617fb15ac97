"""The placement guide: what it shows of the quilt, the lines to draw on the panel, and where each letter stands.

Lines and places are in the frame of the panel; distances are measured as a maker measures.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import Enum, auto
from fractions import Fraction
from itertools import pairwise
from typing import Final

import shapely

from applique.design import Around, QuiltingKind
from applique.errors import Where
from applique.geometry.outline import Outline
from applique.geometry.place import Place
from applique.geometry.points import Bounds, Point, around, middle_of
from applique.geometry.polygons import CHORD_ERROR, Shape, parts_in_order, parts_of
from applique.outline_layer import PlacedOutline
from applique.panel import Baseline, Laid, PanelPlan, PlacedCut, foot_on
from applique.picture import Item, Part, Picture
from applique.pieces import Template, own_baseline, part_names, template_key
from applique.sewing.quilting import QuiltingPlan
from applique.units import MM_PER_INCH, Units, cutting_step, round_down

__all__ = [
    "Lean",
    "LetterMark",
    "OutlineMark",
    "Outlined",
    "OwnMark",
    "PanelLines",
    "PartMark",
    "RowMark",
    "WordsReach",
    "drawing_scale",
    "guide_items",
    "high_marks",
    "how_outlined",
    "lists_lowest",
    "off_fabric",
    "panel_lines",
    "reaches_off",
    "row_marks",
    "stands_off",
    "words_reach",
]

_STEP: Final = Fraction(1, 4)
"""The scale of the small drawing is a whole multiple of this: inches of quilt for an inch of paper."""
_ACROSS_DEG: Final = 90.0
_BESIDE: Final = 1 / 32
_NO_TURN_DEG: Final = 1e-9
_OFF_LINE: Final = {Units.INCHES: 3 / 32, Units.CENTIMETERS: 2 / float(MM_PER_INCH)}
"""Inches that a letter may reach below its baseline, or stay above it, and still be said to stand on it: 1/16 in as it
is printed, or 2 mm."""
_HIGH_MARK: Final = 0.25
"""Inches above its tick from which on a mark is brought down to it with a ruler: our own."""
_SLACK: Final = 1e-6
_SMALL: Final = 1
"""Inches; of letters lower than this the ends of their words are enough to lay them by."""


class Outlined(Enum):
    """How many of the letters lie on an outline."""

    NONE = auto()
    SOME = auto()
    ALL = auto()


@dataclass(frozen=True, slots=True, kw_only=True)
class PartMark:
    """Where one part of a letter in several parts lies, in inches from the center line; negative is left of it.

    `name` is that of its template: `3b`. `above_baseline` is how far its lowest point is above the baseline at the
    letter's foot.
    """

    name: str
    left: float
    middle: float
    right: float
    above_baseline: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Lean:
    """How a letter leans that is turned by hand, in the frame of the panel: the point on its own baseline below its
    middle, from there its own upright to its top, and as long as that a line square to the baseline of the row.
    """

    foot: Point
    top: Point
    square: Point


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnMark:
    """The own baseline of a letter that is turned by hand, as long as the letter is wide: its left end, its right one.

    `where` is its row and which letter of it. `ends` are in the frame of the panel, `measured` from the center line and
    down from the cut top edge, `above` from the baseline of the row, square to that, negative below it.
    """

    where: Where
    ends: tuple[Point, Point]
    measured: tuple[Point, Point]
    above: tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class LetterMark:
    """Where one cut stands on the panel, in inches from the center line; negative is left of it.

    `turn_deg` is how far it is turned against the baseline, to the left; `above_baseline` how far its lowest point is
    above the baseline then. `tick` is the mark on the baseline plumb with that of the middle on its template, in the
    frame of the panel, turned as the baseline runs there, and `middle` where that is; `tick_down` is how far it is
    below the cut top edge. `parts` are its separate pieces, nothing where it is in one. `lean` and `own` are there
    where it is turned.
    """

    text: str
    template: int
    left: float
    middle: float
    right: float
    turn_deg: float
    above_baseline: float
    tick: Place
    tick_down: float
    parts: tuple[PartMark, ...]
    lean: Lean | None
    own: OwnMark | None


@dataclass(frozen=True, slots=True, kw_only=True)
class OutlineMark:
    """Where one shape of the outline layer lies on the panel, in inches from the center line; negative is left of it.

    `above_baseline` is how far its lowest point is above the baseline of its row, or in a row that runs down above the
    tick of its letter, negative below it. `parts` are its separate pieces, nothing where it is in one.
    """

    text: str
    template: int
    left: float
    middle: float
    right: float
    above_baseline: float
    parts: tuple[PartMark, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class RowMark:
    """Where a row, or another piece, stands: its baseline in inches down from the cut top edge and from the finished
    one, and its letters.

    `left` and `right` are the row's ink from the center line. `turn_deg` is how far the whole row is turned, to the
    left, and `line` what it stands on before that; where it is not `level`, `ends` are the ends of its baseline, each
    from the center line and down from the cut top edge. Where it `runs_down`, that is the line down its middle,
    from the top, and each letter stands across it. `baseline` is its line in the frame of the panel, of a level
    one from one cut edge to the other, and `height` how high it is there, of another in its middle. `outlines` are
    what lies behind its letters, and `outline_fabric` is what that is cut from, empty where there is nothing. `small`
    is whether its letters are lower than an inch.
    """

    where: Where
    text: str
    fabric: str
    baseline: tuple[Point, ...]
    height: float
    baseline_from_top: float
    baseline_from_finished: float
    left: float
    right: float
    turn_deg: float
    line: Baseline
    level: bool
    runs_down: bool
    ends: tuple[Point, Point]
    letters: tuple[LetterMark, ...]
    outlines: tuple[OutlineMark, ...]
    outline_fabric: str
    small: bool

    @property
    def by_word(self) -> bool:
        """Whether its letters are laid word by word, without ticks of their own: small ones, unless one is turned or
        they stand below one another."""
        return self.small and not self.is_turned and not self.runs_down

    @property
    def ticked(self) -> tuple[LetterMark, ...]:
        """The letters with a tick of their own; in a row that runs down, those that are not turned."""
        if self.by_word:
            return ()
        return tuple(letter for letter in self.letters if not (self.runs_down and letter.own))

    def off_line(self, letter: LetterMark) -> bool:
        """Whether the tick of `letter` in this row, which runs down, is beside the line, by 1/32 in or more."""
        line = shapely.LineString(self.baseline[:: len(self.baseline) - 1])
        return bool(line.distance(shapely.Point(letter.tick.x, letter.tick.y)) >= _BESIDE)

    @property
    def slants(self) -> bool:
        """Whether its line is neither level nor straight down the panel."""
        return not self.level and not (self.runs_down and not self.turn_deg)

    @property
    def downs(self) -> tuple[float, ...]:
        """How far its baseline is below the cut top edge, or what else it is measured from: one number, or one for
        either end where it is not level."""
        return (self.baseline_from_top,) if self.level else tuple(down for _, down in self.ends)

    @property
    def is_turned(self) -> bool:
        """Whether the row slants, or a letter of it is turned in it."""
        return self.slants or any(letter.turn_deg for letter in self.letters)

    @property
    def reaches_over(self) -> bool:
        """Whether a letter that is turned by hand makes one of its letters reach over the next."""
        if self.runs_down:
            return False
        over = any(before.right > after.left for before, after in pairwise(self.letters))
        return over and any(letter.turn_deg for letter in self.letters)


@dataclass(frozen=True, slots=True, kw_only=True)
class PanelLines:
    """The edges of the panel, and the center line from one cut edge to the other.

    `trimmed_edge` is where it is cut again after stitching, None where nothing is trimmed off. `first_line` is the one
    that letters alone are measured from; of those no edge is drawn. Of a panel that is no rectangle `outlines` are the
    edge to cut along after stitching and the finished edge; `trimmed_edge` and `finished_edge` are around those.
    """

    cut_edge: Bounds
    trimmed_edge: Bounds | None
    finished_edge: Bounds
    center_line: tuple[Point, Point]
    first_line: tuple[Point, Point] | None = None
    outlines: tuple[Outline, Outline] | None = None

    @property
    def edge_paths(self) -> tuple[tuple[Point, ...], ...]:
        """Every edge as a closed path of points, the cut edge first, then inward."""
        found = [_corners(self.cut_edge)]
        if self.outlines is not None:
            rings = (contour for outline in self.outlines for contour in outline.contours)
            return (*found, *((*ring.points(CHORD_ERROR), ring.start) for ring in rings))
        if self.trimmed_edge is not None:
            found.append(_corners(self.trimmed_edge))
        return (*found, _corners(self.finished_edge))

    def top_at(self, x: float, edge: Bounds) -> float:
        """How high `edge`, one of this panel, is on the level `x`, or the outline that it is around."""
        if self.outlines is None or edge == self.cut_edge:
            return edge[3]
        outline = self.outlines[edge == self.finished_edge]
        ring = shapely.Polygon(outline.contours[0].points(CHORD_ERROR))
        above = shapely.LineString(((x, edge[1] - 1), (x, edge[3] + 1))).intersection(ring)
        return edge[3] if above.is_empty else float(above.bounds[3])


def _corners(edge: Bounds) -> tuple[Point, ...]:
    x0, y0, x1, y1 = edge
    return (x0, y0), (x1, y0), (x1, y1), (x0, y1), (x0, y0)


@dataclass(frozen=True, slots=True, kw_only=True)
class WordsReach:
    """How far all that is laid reaches, in exact inches as they are printed: left and right of the center line, above
    and below the height that baselines are measured down from, from end to end, and from top to bottom."""

    left: Fraction
    right: Fraction
    above: Fraction
    below: Fraction
    width: Fraction
    height: Fraction


def words_reach(panel: PanelPlan, outlines: Sequence[PlacedOutline], units: Units) -> WordsReach:
    """How far letters and other pieces reach, with what lies behind them; to the nearest 1/16 in or millimeter."""
    step = cutting_step(units)
    behind = (piece.place.outline(piece.outline).bounds() for piece in outlines)
    left, low, right, top = around([*(cut.ink for cut in panel.cuts), *behind])
    center, line = panel.center, float(panel.measured_from)
    sides = (center - left, right - center, top - line, line - low, right - left, top - low)
    over, beyond, above, below, width, height = (
        round_down(Fraction(side) + step / 2, step) for side in sides
    )
    return WordsReach(left=over, right=beyond, above=above, below=below, width=width, height=height)


def guide_items(picture: Picture, quilting: Sequence[QuiltingPlan]) -> tuple[Item, ...]:
    """What the guide shows of the picture of a quilt: outline layer, letters, all that is cut of them, and lines of
    quilting that echo them."""
    echoes = {plan.number for plan in quilting if plan.kind is QuiltingKind.ECHO}
    return tuple(
        item if item.caught is None else replace(item, outline=item.caught)
        for item in picture.on_panel(Part.OUTLINE, Part.LETTER, Part.QUILTING)
        if item.quilting is None or item.quilting in echoes
    )


def panel_lines(panel: PanelPlan) -> PanelLines:
    """The lines of the panel on the guide."""
    width, height, (_, low, _, top) = float(panel.width), float(panel.height), panel.cut_edge
    line, outline = float(panel.measured_from), panel.outline
    return PanelLines(
        cut_edge=panel.cut_edge,
        trimmed_edge=panel.trimmed_edge if panel.trim or outline else None,
        finished_edge=(0.0, 0.0, width, height),
        center_line=((panel.center, low), (panel.center, top)),
        first_line=((0.0, line), (width, line)) if panel.loose else None,
        outlines=None if outline is None else (outline.at(float(panel.seam_allowance)), outline.at()),
    )


def drawing_scale(panel: PanelPlan, room: Point) -> Fraction:
    """Inches of quilt for an inch of paper at which the cut panel fits into `room`, inches of paper each way."""
    fits = max(float(panel.cut_width) / room[0], float(panel.cut_height) / room[1])
    return math.ceil(fits / float(_STEP)) * _STEP


def stands_off(marks: Sequence[RowMark], units: Units) -> bool:
    """Whether any letter `reaches_off` its baseline."""
    return any(reaches_off(letter, units) for mark in marks for letter in mark.letters)


def high_marks(marks: Sequence[RowMark], templates: Sequence[Template]) -> tuple[LetterMark, ...]:
    """The letters laid by a tick whose mark, at their edge nearest to it, is more than `_HIGH_MARK` above it."""
    by_number = {template.number: template for template in templates}
    high = {number for number, template in by_number.items() if _mark_height(template) > _HIGH_MARK}
    return tuple(
        letter
        for mark in marks
        if not mark.by_word
        for letter in mark.letters
        if letter.template in high and letter.own is None and not letter.parts
    )


def _mark_height(template: Template) -> float:
    """How far above the baseline the lowest point of a letter in its middle is; 0 where it has none there."""
    (x, _), (_, low, _, high) = middle_of(template.outline.bounds()), template.outline.bounds()
    across = shapely.intersection(template.shape, shapely.LineString([(x, low - 1), (x, high + 1)]))
    return 0.0 if across.is_empty else float(across.bounds[1])


def lists_lowest(marks: Sequence[RowMark], units: Units) -> bool:
    """Whether tables list how far the lowest point of each letter is from its baseline: any `reaches_off` it, or is in
    parts that lie one above the other."""
    return stands_off(marks, units) or any(letter.parts for mark in marks for letter in mark.letters)


def reaches_off(letter: LetterMark | PartMark, units: Units) -> bool:
    """Whether it reaches below its baseline, or stays above it, by more than 1/16 in as it is printed, or 2 mm
    in centimeters."""
    return abs(letter.above_baseline) > _OFF_LINE[units] + _SLACK


def row_marks(
    panel: PanelPlan, templates: Sequence[Template], outlines: Sequence[PlacedOutline]
) -> tuple[RowMark, ...]:
    """The marks of every row and every other piece, each letter and each of its `outlines` with the number of its
    template."""
    center = panel.center
    edges = panel_lines(panel).cut_edge
    cut_top = float(panel.measured_from)
    numbers = {template.key: template.number for template in templates}
    turned = any(template.turned for template in templates)

    def key_of(row: Laid, index: int) -> str:
        return template_key(row, index) if turned else row.cuts[index].key

    def measured(point: Point) -> Point:
        return point[0] - center, cut_top - point[1]

    def mark(row: Laid) -> RowMark:
        path = _on_fabric(row, edges)
        ends = [measured(point) for point in (path[0], path[-1])]
        feet = [foot_on(row.line, cut.upright, cut.outline.bounds()) for cut in row.cuts]
        ticks = [_tick(row, cut) for cut in row.cuts]
        owned = [own_baseline(row, cut) for cut in row.cuts]
        behind = [piece for piece in outlines if piece.where == row.where]
        across = ((edges[0], row.baseline), (edges[2], row.baseline))
        return RowMark(
            where=row.where,
            text=row.text,
            fabric=row.fabric.name,
            baseline=across if row.level else path,
            height=row.baseline,
            baseline_from_top=cut_top - row.baseline,
            baseline_from_finished=float(panel.height) - row.baseline,
            left=row.ink[0] - center,
            right=row.ink[2] - center,
            turn_deg=row.turned.turn_deg,
            line=row.line,
            level=row.level,
            runs_down=row.line.runs_down,
            ends=(ends[0], ends[1]),
            letters=tuple(
                LetterMark(
                    text=cut.text,
                    template=numbers[key_of(row, index)],
                    left=cut.ink[0] - center,
                    middle=tick.x - center,
                    right=cut.ink[2] - center,
                    turn_deg=_turn(cut, foot),
                    above_baseline=_above(row, cut, foot),
                    tick=tick,
                    tick_down=cut_top - tick.y,
                    parts=_parts(
                        part_names(numbers[key_of(row, index)], len(parts_of(cut.shape))),
                        cut.shape,
                        (cut.place, _standing(row, cut.upright, foot, cut.outline)),
                        center,
                    ),
                    lean=None if row.line.runs_down else _lean(cut, _turn(cut, foot)),
                    own=None
                    if own is None
                    else OwnMark(
                        where=own.where,
                        ends=own.ends,
                        measured=(measured(own.ends[0]), measured(own.ends[1])),
                        above=own.above,
                    ),
                )
                for index, (cut, foot, tick, own) in enumerate(zip(row.cuts, feet, ticks, owned, strict=True))
            ),
            outlines=tuple(_behind(row, piece, numbers[piece.key], center) for piece in behind),
            outline_fabric=behind[0].fabric.name if behind else "",
            small=row.letter is not None and row.letter.cap_height < _SMALL,
        )

    return tuple(mark(row) for row in panel.laid)


def _on_fabric(row: Laid, edges: Bounds) -> tuple[Point, ...]:
    """The line that `row` stands on; of one that runs off the panel the longest stretch that can be marked on it."""
    path = row.baseline_path
    if not row.runs_off:
        return path
    lines = shapely.LineString(path).intersection(shapely.box(*edges))
    parts = [part for part in shapely.get_parts(lines) if isinstance(part, shapely.LineString)]
    if not parts:
        return path
    return tuple((float(x), float(y)) for x, y in max(parts, key=lambda part: float(part.length)).coords)


def off_fabric(letter: LetterMark, panel: PanelPlan) -> bool:
    """Whether the tick of `letter` lies beyond the cut panel, where nothing can be marked."""
    return not panel.edges.cut.covers(shapely.Point(letter.tick.x, letter.tick.y))


def _behind(row: Laid, piece: PlacedOutline, number: int, center: float) -> OutlineMark:
    """Where a shape behind `row` lies."""
    left, _, right, _ = piece.place.outline(piece.outline).bounds()
    upright = piece.place.seen_from(row.turned)
    foot = foot_on(row.line, upright, piece.outline.bounds())
    standing = _standing(row, upright, foot, _letter_on(row, piece).outline)
    return OutlineMark(
        text=piece.text,
        template=number,
        left=left - center,
        middle=(left + right) / 2 - center,
        right=right - center,
        above_baseline=standing.outline(piece.outline).bounds()[1],
        parts=_parts(
            part_names(number, len(parts_of(piece.shape))), piece.shape, (piece.place, standing), center
        ),
    )


def _letter_on(row: Laid, piece: PlacedOutline) -> PlacedCut:
    """The letter that lies on a shape behind one letter; of one behind a word any of those."""
    return min(
        row.cuts, key=lambda cut: math.dist((cut.place.x, cut.place.y), (piece.place.x, piece.place.y))
    )


def _parts(
    names: Sequence[str], shape: Shape, places: tuple[Place, Place], center: float
) -> tuple[PartMark, ...]:
    """Where the parts of `shape` lie, by their names: `places` are its own on the panel and seen from its foot."""
    if not names:
        return ()
    on_panel, standing = places
    found = []
    for name, part in zip(names, parts_in_order(shape), strict=True):
        left, _, right, _ = on_panel.shape(part).bounds
        found.append(
            PartMark(
                name=name,
                left=left - center,
                middle=(left + right) / 2 - center,
                right=right - center,
                above_baseline=standing.shape(part).bounds[1],
            )
        )
    return tuple(found)


def _turn(cut: PlacedCut, foot: Place) -> float:
    """How far `cut` is turned against the line at its foot; what is left over from figuring counts as nothing."""
    turn_deg = cut.upright.turn_deg - foot.turn_deg
    return turn_deg if abs(turn_deg) > _NO_TURN_DEG else 0.0


def _lean(cut: PlacedCut, turn_deg: float) -> Lean | None:
    """How `cut` leans that is turned against its baseline by so much; None where it is not."""
    if not turn_deg:
        return None
    x0, _, x1, top = cut.outline.bounds()
    x, y = cut.place.point(((x0 + x1) / 2, 0.0))
    square = Place(x=x, y=y, turn_deg=cut.place.turn_deg - turn_deg)
    return Lean(foot=(x, y), top=cut.place.point(((x0 + x1) / 2, top)), square=square.point((0.0, top)))


def _above(row: Laid, cut: PlacedCut, foot: Place) -> float:
    """How far the lowest point of `cut` is above the line at its foot; in a row that runs down it stands on it, or is
    turned in the row and has a baseline of its own."""
    return _standing(row, cut.upright, foot, cut.outline).outline(cut.outline).bounds()[1]


def _standing(row: Laid, upright: Place, foot: Place, outline: Outline) -> Place:
    """How a piece that lies at `upright` in its row stands on the line or tick that it is laid by, from its `foot`
    there. What is turned in a row that runs down is laid by its own baseline."""
    if not row.line.runs_down:
        return upright.seen_from(foot)
    return Place(x=0.0, y=0.0 if upright.turn_deg else -outline.bounds()[1])


def _tick(row: Laid, cut: PlacedCut) -> Place:
    """Where a plumb line from the mark on the template of `cut`, the middle of its own baseline, meets the baseline of
    its row, turned as that runs there.

    Of a row that is turned by 60 degrees or more, the point of its baseline nearest to the mark; of one that runs down,
    the lowest point of the letter below its middle, turned so that the tick lies across the row.
    """
    low = cut.outline.bounds()[1] if row.line.runs_down else 0.0
    x, y = cut.place.point((middle_of(cut.outline.bounds())[0], low))
    mark = Place(x=x, y=y).seen_from(row.turned)
    x, y = row.line.below((mark.x, mark.y), row.turned.turn_deg)
    across = _ACROSS_DEG if row.line.runs_down else 0.0
    return Place(x=x, y=y, turn_deg=row.line.under((x, y)).turn_deg + across).within(row.turned)


def how_outlined(marks: Sequence[RowMark], around: Around) -> Outlined:
    """Whether all letters, some or none lie on outlines, which are `around` letters or words."""
    if not any(mark.outlines for mark in marks):
        return Outlined.NONE
    lettered = [mark for mark in marks if mark.letters]
    if around is Around.LETTERS:
        every = all(len(mark.outlines) >= len(mark.letters) for mark in lettered)
    else:
        every = all(mark.outlines for mark in lettered)
    return Outlined.ALL if every else Outlined.SOME
