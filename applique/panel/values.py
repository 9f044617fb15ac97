"""The panel with its rows of words in place.

Frame of the panel: inches, origin at the lower left corner of the *finished* panel, y up. A cut stands
by its own origin: on the baseline, at the pen position of its first glyph.
A row that is turned as a whole is set upright first, in the same frame, and then turned with all that is in it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Final, Protocol, TypeVar

import shapely
from shapely.geometry import GeometryCollection, LineString

from applique.design import Fabric, PanelShape, Row, SewnAs
from applique.errors import Notice, Where
from applique.geometry.outline import Outline
from applique.geometry.place import Place
from applique.geometry.points import Bounds, Point, apart, around, middle_of
from applique.geometry.polygons import Shape
from applique.panel.edges import CutOff, PanelEdges
from applique.panel.lines import Baseline
from applique.panel.outline import PanelOutline
from applique.typeset.typeface import GlyphSpot

__all__ = [
    "Laid",
    "LetterFacts",
    "PanelPlan",
    "PlacedCut",
    "PlacedRow",
    "Worn",
    "near_cuts",
    "near_laid",
    "on_panel",
]


_MOST_NEAR: Final = 12
"""Those of which a turned row is measured against each: a heap of 500 would be measured 125,000 times."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedCut:
    """One piece of cloth to be laid down. `outline` and `shape` stand about the cut's own origin.

    `place` is in the frame of the panel and `ink` the extent there; `upright` and `upright_ink` are the same before
    the whole row is turned. Cuts of equal `key` are the same shape; cuts of equal `drawn` are the same shape at any
    size. `word` counts the words of the row; `letters` are empty for a piece that is no letter. `off` is there where it
    runs off the panel and is cut off; `key`, `outline`, `shape` and the extents are then those of what is left.
    """

    key: str
    drawn: tuple[str, tuple[GlyphSpot, ...]]
    text: str
    word: int
    letters: tuple[int, ...]
    upright: Place
    upright_ink: Bounds
    place: Place
    ink: Bounds
    outline: Outline
    shape: Shape
    off: CutOff | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class LetterFacts:
    """What only a letter has, or the shape behind one: the name of its font, and its cap height in inches."""

    font: str
    cap_height: Fraction


class Laid(Protocol):
    """What is laid on the panel together and sewn alike, from one fabric: a row of words, or a piece that is no letter.

    Frames and units are those of `PlacedRow`.
    """

    @property
    def where(self) -> Where:
        """The table of the design that asks for it."""

    @property
    def asked(self) -> SewnAs:
        """How that table asks for it to be sewn."""

    @property
    def text(self) -> str:
        """Its words, or its name."""

    @property
    def fabric(self) -> Fabric:
        """What it is cut from."""

    @property
    def letter(self) -> LetterFacts | None:
        """The font and the cap height of its letters; None for a piece that is no letter."""

    @property
    def size(self) -> Fraction:
        """The height in inches that its features are measured by."""

    @property
    def runs_off(self) -> bool:
        """Whether it may run off the panel and be cut off at its edge."""

    @property
    def level(self) -> bool:
        """Whether the line that it stands on is level, on the panel too."""

    @property
    def line(self) -> Baseline:
        """The line that it stands on, before it is turned."""

    @property
    def upright_ink(self) -> Bounds:
        """Its extent before it is turned."""

    @property
    def turned(self) -> Place:
        """How the whole of it was turned."""

    @property
    def ink(self) -> Bounds:
        """Its extent on the panel."""

    @property
    def outline(self) -> Outline:
        """All of it in the frame of the panel."""

    @property
    def cuts(self) -> tuple[PlacedCut, ...]:
        """Its pieces of cloth, from left to right."""

    @property
    def baseline(self) -> float:
        """The y of the line that it stands on, on the panel; where it is turned, of its middle."""

    @property
    def baseline_path(self) -> tuple[Point, ...]:
        """The line that it stands on below its ink, on the panel."""


OneLaid = TypeVar("OneLaid", bound=Laid)


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedRow:
    """One row of words on the panel; along their baseline `cuts` run from left to right.

    `turned` is how the whole row was turned by hand; `line` and `upright_ink` are its baseline and its extent before
    that. `outline` is the whole row in the frame of the panel, letters that were nudged
    together made one. `asked` is the row of the design.
    """

    number: int
    asked: Row
    text: str
    font: str
    fabric: Fabric
    cap_height: Fraction
    line: Baseline
    upright_ink: Bounds
    turned: Place
    ink: Bounds
    outline: Outline
    cuts: tuple[PlacedCut, ...]

    @property
    def where(self) -> Where:
        """The row of the design."""
        return Where.in_row(self.number)

    def moved(self, right: float, up: float) -> PlacedRow:
        """The same row so far to the right and up, in inches."""
        back, on = Place(x=-right, y=-up), Place(x=right, y=up)
        cuts = tuple(
            replace(
                cut,
                upright=cut.upright.within(on),
                upright_ink=_moved(cut.upright_ink, right, up),
                place=cut.place.within(on),
                ink=_moved(cut.ink, right, up),
            )
            for cut in self.cuts
        )
        return replace(
            self,
            line=self.line.moved(right, up),
            upright_ink=_moved(self.upright_ink, right, up),
            turned=back.within(self.turned).within(on),
            ink=_moved(self.ink, right, up),
            outline=on.outline(self.outline),
            cuts=cuts,
        )

    @property
    def letter(self) -> LetterFacts:
        """The font and the cap height of its letters."""
        return LetterFacts(font=self.font, cap_height=self.cap_height)

    @property
    def size(self) -> Fraction:
        """The cap height."""
        return self.cap_height

    @property
    def runs_off(self) -> bool:
        """Whether its letters may run off the panel."""
        return self.asked.runs_off

    @property
    def level(self) -> bool:
        """Whether its baseline is level, on the panel too."""
        return self.line.is_level and not self.turned.turn_deg

    @property
    def baseline(self) -> float:
        """The y of its baseline on the panel; of a turned row in the middle of it."""
        foot = self.line.under(middle_of(self.upright_ink))
        return self.turned.point((foot.x, foot.y))[1]

    @property
    def baseline_path(self) -> tuple[Point, ...]:
        """Its baseline below its ink, on the panel, from where it starts to where it ends."""
        return tuple(self.turned.point(point) for point in self.line.points(self.upright_ink))


@dataclass(frozen=True, slots=True, kw_only=True)
class Worn:
    """Where a panel lies that is a part of a ready garment: its top is `drop` (exact inches) below a point on the
    center line, called `point` by whoever made the design, or empty."""

    drop: Fraction
    point: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PanelPlan:
    """The panel with all that is laid on it, rows first. Sizes are exact; `width` and `height` are finished sizes.

    It is cut wider and higher by `trim`, in all, than it is sewn in, and trimmed once the letters are stitched. One
    that is `worn` is not cut at all, and neither is one that is `loose`: only the space in which letters are set that
    go onto something not known here. Where it is several blocks side by side, `groups` has for each how many of what is
    laid are its own, and how often it is made.

    One of another `shape` than a rectangle just fits into one of that size. It is cut as a rectangle that reaches
    further by `over`, at either side and at the bottom, and cut along its outline once the letters are stitched.
    """

    width: Fraction
    height: Fraction
    seam_allowance: Fraction
    trim: Fraction
    margin: Fraction
    fabric: Fabric
    laid: tuple[Laid, ...]
    notices: tuple[Notice, ...]
    worn: Worn | None = None
    loose: bool = False
    groups: tuple[tuple[int, int], ...] = ()
    shape: PanelShape = PanelShape.RECTANGLE
    over: tuple[Fraction, Fraction] = (Fraction(0), Fraction(0))

    @property
    def outline(self) -> PanelOutline | None:
        """Its outline, where it is no rectangle."""
        if self.shape is PanelShape.RECTANGLE:
            return None
        return PanelOutline(shape=self.shape, width=float(self.width), height=float(self.height))

    @property
    def is_cut(self) -> bool:
        """Whether it is cut from fabric."""
        return self.worn is None and not self.loose

    @property
    def made(self) -> tuple[int, ...]:
        """How often each that is laid is made."""
        return tuple(count for own, count in self.grouped for _ in range(own))

    @property
    def grouped(self) -> tuple[tuple[int, int], ...]:
        """For each block, or the one panel, how many of what is laid are its own, and how often it is made."""
        return self.groups or ((len(self.laid), 1),)

    @property
    def rows(self) -> tuple[PlacedRow, ...]:
        """The rows of words."""
        return tuple(one for one in self.laid if isinstance(one, PlacedRow))

    @property
    def cuts(self) -> tuple[PlacedCut, ...]:
        """Every piece of cloth, row by row."""
        return tuple(cut for one in self.laid for cut in one.cuts)

    @property
    def beyond(self) -> Fraction:
        """How far the cut edge lies outside the finished edge, until the panel is trimmed; 0 where it is not cut."""
        if not self.is_cut:
            return Fraction(0)
        return self.seam_allowance + self.trim / 2

    @property
    def edges(self) -> PanelEdges:
        """Its finished edge and its cut edge."""
        return PanelEdges(
            width=float(self.width),
            height=float(self.height),
            beyond=float(self.beyond),
            outline=self.outline,
        )

    @property
    def cut_edge(self) -> Bounds:
        """The rectangle that it is cut as, in its frame."""
        return self._around(self.beyond)

    @property
    def trimmed_edge(self) -> Bounds:
        """The rectangle that it is sewn in as, or that its outline just fits then, in its frame."""
        return self._around(self.seam_allowance)

    def _around(self, beyond: Fraction) -> Bounds:
        side, bottom = (float(beyond + over) for over in self.over)
        return -side, -bottom, float(self.width) + side, float(self.height) + float(beyond)

    @property
    def center(self) -> float:
        """The x of the center line: the middle of the panel, or that of all words where letters alone are made."""
        if not self.loose:
            return float(self.width) / 2
        left, _, right, _ = around([cut.ink for cut in self.cuts])
        return (left + right) / 2

    @property
    def measured_from(self) -> Fraction:
        """The y from which baselines are measured down: the cut top edge, the point of a garment, or of letters alone
        their first line, level through the highest point of a baseline."""
        if self.loose:
            return Fraction(max(high for one in self.laid for high in _highest(one)))
        return self.height + (self.beyond if self.worn is None else self.worn.drop)

    @property
    def trimmed(self) -> tuple[Fraction, Fraction]:
        """Width and height that it is sewn in with: finished, two seam allowances, and what an outline has beyond."""
        side, bottom = self.over
        return (
            self.width + 2 * (self.seam_allowance + side),
            self.height + 2 * self.seam_allowance + bottom,
        )

    @property
    def cut_width(self) -> Fraction:
        """The width to cut: finished, two seam allowances, and what is trimmed off after stitching."""
        return self.width + 2 * (self.beyond + self.over[0])

    @property
    def center_from_edge(self) -> Fraction:
        """How far the vertical center line is from either side's cut edge."""
        return self.cut_width / 2

    @property
    def cut_height(self) -> Fraction:
        """The height to cut: finished, two seam allowances, and what is trimmed off after stitching."""
        return self.height + 2 * self.beyond + self.over[1]


def _moved(box: Bounds, right: float, up: float) -> Bounds:
    x0, y0, x1, y1 = box
    return (x0 + right, y0 + up, x1 + right, y1 + up)


def _highest(one: Laid) -> Iterator[float]:
    """Heights of the baseline of a piece, and in a row that is not level of the own ones of its letters."""
    if one.level:
        yield one.baseline
        return
    yield from (y for _, y in one.baseline_path)
    for cut in one.cuts:
        left, _, right, _ = cut.outline.bounds()
        yield from (cut.place.point((x, 0.0))[1] for x in (left, right))


def on_panel(cut: PlacedCut) -> Shape:
    """The shape of `cut` where it lies on the panel."""
    return cut.place.shape(cut.shape)


def near_cuts(row: Laid, within: float) -> Iterator[tuple[PlacedCut, PlacedCut]]:
    """The neighbors in a row whose extents are nearer than `within` inches.

    A letter that is turned by hand may reach past its neighbor, to the next letter but one.
    """
    for index, left in enumerate(row.cuts):
        for step, right in enumerate(row.cuts[index + 1 : index + 3]):
            met = step == 0 or left.upright.turn_deg or right.upright.turn_deg
            if met and apart(left.ink, right.ink) < within:
                yield left, right


def near_laid(laid: Sequence[OneLaid], within: float) -> Iterator[tuple[OneLaid, OneLaid, LineString]]:
    """Those whose extents are nearer than `within` inches, each with the shortest line from one to the other.

    Level rows lie one below the other; anything else may come near any other. Of a heap each with the first
    `_MOST_NEAR`.
    """
    shapes: dict[Where, GeometryCollection] = {}
    for index, above in enumerate(laid):
        near = [
            below
            for step, below in enumerate(laid[index + 1 :])
            if (step == 0 or not _in_order(above) or not _in_order(below))
            and apart(above.ink, below.ink) < within
        ]
        for below in near[:_MOST_NEAR]:
            for one in (above, below):
                if one.where not in shapes:
                    shapes[one.where] = GeometryCollection([on_panel(cut) for cut in one.cuts])
            yield above, below, shapely.shortest_line(shapes[above.where], shapes[below.where])


def _in_order(one: Laid) -> bool:
    """Whether it is a level row, between the rows before and after it."""
    return one.level and one.where.row is not None
