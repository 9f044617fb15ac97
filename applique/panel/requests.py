"""Rows as they are asked for: defaults filled in, fonts opened, words shaped."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from applique.design import Align, Design, Fabric, LettersDown, Row, Spacing
from applique.design.entries import short
from applique.errors import Problem, Refusal, Where
from applique.fabrics import Fabrics
from applique.geometry.outline import Outline
from applique.geometry.place import Place
from applique.geometry.points import Bounds, around, middle_of
from applique.geometry.polygons import CHORD_ERROR
from applique.language import message
from applique.panel.lines import Baseline, Level, Plumb
from applique.typeset.column import set_column
from applique.typeset.downward import Stop, shape_down
from applique.typeset.fonts import open_typeface
from applique.typeset.remembered import Remembered
from applique.typeset.shaping import Letter, shape_text
from applique.typeset.spacing import Cut, RowSetting, SetRow, set_row
from applique.typeset.typeface import Typeface

__all__ = ["RowRequest", "RowSet", "box_at", "laid", "outline_at", "row_requests", "rows_set", "scaled_inks"]


@dataclass(frozen=True, slots=True, kw_only=True)
class RowSet:
    """A row spaced at one size: `scale` is inches per font unit, `line` and `ink` in inches from the row's origin."""

    scale: float
    row: SetRow
    line: Baseline
    ink: Bounds


_ROWS: Final[Remembered[tuple[object, ...], RowSet]] = Remembered()
_SHAPED: Final[Remembered[tuple[str, bool], tuple[Letter, ...]]] = Remembered()
_SHAPED_DOWN: Final[Remembered[tuple[str, bool, LettersDown | None], tuple[Stop, ...]]] = Remembered()


@dataclass(frozen=True, slots=True, kw_only=True)
class RowRequest:
    """A line with every default filled in, its font opened and its words shaped.

    It states a cap height or a width, or neither where it is as large as fits. Of one that runs down `letters` are
    there as they follow one another, and `stops` say where they stand.
    """

    number: int
    row: Row
    typeface: Typeface
    letters: tuple[Letter, ...]
    stops: tuple[Stop, ...]
    fabric: Fabric
    cap_height: Fraction | None
    width: Fraction | None
    tracking: Fraction
    least_gap: Fraction
    even: bool
    align: Align

    @property
    def is_free(self) -> bool:
        """Whether neither margin nor edge holds it: it may run off the panel, and states its size. One that is as large
        as fits is held like any other until it is moved by hand."""
        return self.row.runs_off and (self.cap_height is not None or self.width is not None)

    def set_at(self, cap_height: float) -> RowSet:
        """The row spaced at `cap_height`, and the line that it stands on."""
        asked = (self.stops or self.letters, self.tracking, self.least_gap, self.even, cap_height)
        return _ROWS.of(self.typeface, asked, lambda: self._set_at(cap_height))

    def _set_at(self, cap_height: float) -> RowSet:
        scale = cap_height / self.typeface.cap_height_fu
        setting = RowSetting(
            tracking_fu=float(self.tracking) / scale,
            least_gap_fu=float(self.least_gap) / scale,
            even=self.even,
            chord_error_fu=CHORD_ERROR / scale,
        )
        row: SetRow
        line: Baseline
        if self.stops:
            row, line = set_column(self.stops, self.typeface, setting), Plumb(x=0.0)
        else:
            row, line = set_row(self.letters, self.typeface, setting), Level(y=0.0)
        return RowSet(scale=scale, row=row, line=line, ink=_ink(self.typeface, row, scale, line))


def row_requests(design: Design, fabrics: Fabrics, first: int = 1) -> tuple[RowRequest, ...]:
    """Every row of the design ready to be set, numbered from `first`.

    Raises:
        Refusal: the problems of every row at once, each with its row.
    """
    problems: list[Problem] = []
    requests: list[RowRequest] = []
    for number, row in enumerate(design.row, first):
        try:
            requests.append(_request(design, fabrics, number, row))
        except Refusal as refusal:
            problems += [problem.within(Where.in_row(number)) for problem in refusal.problems]
    if problems:
        raise Refusal(problems)
    return tuple(requests)


def _request(design: Design, fabrics: Fabrics, number: int, row: Row) -> RowRequest:
    defaults = design.lettering
    own_font = row.font is not None and row.font != defaults.font
    axes = row.axes if row.axes is not None else ({} if own_font else defaults.axes)
    signs = "".join(row.text for row in design.row)
    typeface = open_typeface(row.font or defaults.font, axes, words=_all_words(design), signs=signs)
    alternates = defaults.alternates if row.alternates is None else row.alternates
    letters, stops = _shaped(row, typeface, alternates=alternates)
    last = max((number for letter in letters for number in letter.numbers), default=0)
    if not last:
        raise Refusal(
            Problem(
                kind="row-without-letters",
                what=message("“{words}” leaves nothing to cut", words=row.text),
                fix=message("words with letters"),
            )
        )
    named = [("nudge", item.letter) for item in row.nudge] + [("fussy", item.letter) for item in row.fussy]
    missing = [(key, number) for key, number in named if number > last]
    if missing:
        raise Refusal(
            Problem(
                kind="no-such-letter",
                what=message("there is no letter {number} here", number=short(str(number))),
                where=Where(path=(key,)),
                fix=message("a letter from 1 to {last}", last=last),
            )
            for key, number in missing
        )
    cap_height = None if row.width else defaults.cap_height if row.cap_height is None else row.cap_height
    spacing = defaults.spacing if row.spacing is None else row.spacing
    return RowRequest(
        number=number,
        row=row,
        typeface=typeface,
        letters=letters,
        stops=stops,
        fabric=fabrics.by_name[row.fabric] if row.fabric else fabrics.letters,
        cap_height=cap_height if isinstance(cap_height, Fraction) else None,
        width=row.width,
        tracking=defaults.letter_spacing if row.letter_spacing is None else row.letter_spacing,
        least_gap=defaults.least_gap if row.least_gap is None else row.least_gap,
        even=spacing is Spacing.EVEN,
        align=defaults.align if row.align is None else row.align,
    )


def _shaped(row: Row, typeface: Typeface, *, alternates: bool) -> tuple[tuple[Letter, ...], tuple[Stop, ...]]:
    """The letters of a row, and of one that runs down where they stand."""
    if not row.runs_down:
        letters = _SHAPED.of(
            typeface, (row.text, alternates), lambda: shape_text(row.text, typeface, alternates=alternates)
        )
        return letters, ()
    upright = None if row.letters_down is None else row.letters_down is LettersDown.UPRIGHT
    stops = _SHAPED_DOWN.of(
        typeface,
        (row.text, alternates, row.letters_down),
        lambda: shape_down(row.text, typeface, upright=upright, alternates=alternates),
    )
    return tuple(letter for stop in stops for letter in stop.letters), stops


def _all_words(design: Design) -> tuple[str, ...]:
    """Every text of the design that a font of the maker's own may have to spell, on the quilt or on a sheet."""
    texts = [row.text for row in design.row]
    return (*texts, design.title, design.designer, *(fabric.name for fabric in design.fabric))


def rows_set(requests: Sequence[RowRequest], heights: Sequence[Fraction | float]) -> tuple[RowSet, ...]:
    """Each row set at its cap height."""
    return tuple(request.set_at(float(height)) for request, height in zip(requests, heights, strict=True))


def scaled_inks(requests: Sequence[RowRequest], heights: Sequence[Fraction | float]) -> list[Bounds]:
    """The ink of each row in inches at a cap height that is tried, about the origin of the row."""
    return [request.set_at(float(height)).ink for request, height in zip(requests, heights, strict=True)]


def _ink(typeface: Typeface, row: SetRow, scale: float, line: Baseline) -> Bounds:
    """The extent of a row that is carried onto `line`."""
    boxes: list[Bounds] = []
    for cut in row.cuts:
        box, flat = box_at(typeface, cut, scale), cut.place(scale)
        place = line.carried(flat, flat.x + middle_of(box)[0])
        level = place.turn_deg % 90 == 0
        boxes.append(laid(box, place) if level else place.outline(outline_at(typeface, cut, scale)).bounds())
    return around(boxes)


def box_at(typeface: Typeface, cut: Cut, scale: float) -> Bounds:
    """The extent of a cut in inches about its own origin, at `scale` inches per font unit."""
    x0, y0, x1, y1 = (side * scale for side in typeface.bounds(cut.glyphs))
    return (x0, y0, x1, y1)


def outline_at(typeface: Typeface, cut: Cut, scale: float) -> Outline:
    """A cut in inches about its own origin, at `scale` inches per font unit."""
    return typeface.outline(cut.glyphs).transformed((scale, 0.0, 0.0, scale, 0.0, 0.0))


def laid(box: Bounds, place: Place) -> Bounds:
    """A box laid down in a quarter turn."""
    (x0, y0), (x1, y1) = place.point((box[0], box[1])), place.point((box[2], box[3]))
    return (min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1))
