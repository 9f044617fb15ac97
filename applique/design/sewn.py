"""How the quilt is cut and sewn, as frozen values: the tables outline, sewing, stitching and quilting."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from typing import Annotated, Protocol

from applique.design.entries import (
    STRICT,
    Allowance,
    Color,
    Count,
    Fine,
    Flag,
    Number,
    Size,
    ThreadLength,
    Turned,
    says,
)
from applique.units import MM_PER_INCH

__all__ = [
    "Around",
    "FreezerPaper",
    "Method",
    "OutlineCorners",
    "OutlineCounters",
    "OutlineLayer",
    "OverLetters",
    "Quilting",
    "QuiltingKind",
    "Sewing",
    "SewnAs",
    "Stitch",
    "Stitching",
    "Weave",
    "WhenStitched",
]


class SewnAs(Protocol):
    """How a table of the design asks for what it lays on the panel to be sewn; None where it leaves that open."""

    @property
    def stitch(self) -> Stitch | None:
        """Which stitch."""

    @property
    def stitch_width(self) -> Fraction | None:
        """How wide, in inches."""

    @property
    def stitch_length(self) -> Fraction | None:
        """How long, in inches."""

    @property
    def thread(self) -> str | None:
        """The color of the thread."""

    @property
    def outline(self) -> Fraction | None:
        """How far an outline layer reaches out behind it, in inches."""


class Method(StrEnum):
    """How letters are cut and their edges finished."""

    RAW_EDGE = "raw edge"
    MACHINE_CUT = "machine cut"
    TURNED_EDGE = "turned edge"


class FreezerPaper(StrEnum):
    """On which side of the fabric the freezer paper of a turned edge lies, and which way its shiny side faces."""

    RIGHT_SIDE = "right side"
    WRONG_SIDE_DOWN = "wrong side, shiny side down"
    WRONG_SIDE_UP = "wrong side, shiny side up"


class Stitch(StrEnum):
    """The stitch along the edge of a letter."""

    STRAIGHT = "straight"
    ZIGZAG = "zigzag"
    BLANKET = "blanket"
    SATIN = "satin"


class Weave(StrEnum):
    """What the cloth is like under the needle."""

    FIRM = "firm"
    LOOSE = "loose"
    SLIPPERY = "slippery"
    STRETCHY = "stretchy"


class WhenStitched(StrEnum):
    """When the letters are stitched down."""

    PANEL = "before the borders"
    TOP = "after the borders"
    QUILTING = "with the quilting"


class Around(StrEnum):
    """What one shape of the outline layer lies behind."""

    LETTERS = "letters"
    WORDS = "words"


class OutlineCorners(StrEnum):
    """The outer corners of the outline layer."""

    ROUND = "round"
    MITERED = "mitered"


class OutlineCounters(StrEnum):
    """The counters of the outline layer."""

    OPEN = "open where they fit"
    CLOSED = "closed"


class QuiltingKind(StrEnum):
    """Lines of quilting."""

    ECHO = "echo"
    LINES = "lines"
    CROSSHATCH = "crosshatch"
    EDGE_TO_EDGE = "edge to edge"
    DITCH = "in the ditch"


class OverLetters(StrEnum):
    """Whether lines of quilting go over letters."""

    MISS = "miss"
    CROSS = "cross"


@dataclass(frozen=True, slots=True, kw_only=True)
class OutlineLayer:
    """A larger shape of another fabric behind letters, for rows that have an outline."""

    __pydantic_config__ = STRICT
    fabric: Annotated[str, says("its fabric; one that stands out from the panel if left out")] = ""
    thread: Annotated[Color | None, says("color of its thread; that of its fabric if left out")] = None
    around: Annotated[Around, says("one shape behind each letter, or behind each word")] = Around.LETTERS
    corners: Annotated[OutlineCorners, says("its outer corners")] = OutlineCorners.ROUND
    miter_limit: Annotated[
        Number, says("mitered corners longer than this many outlines are cut off", ge=1, le=10)
    ] = 2.0
    counters: Annotated[
        OutlineCounters, says("its holes; those too small to cut and sew are always closed")
    ] = OutlineCounters.OPEN


@dataclass(frozen=True, slots=True, kw_only=True)
class Sewing:
    """How letters are cut and held, and the least that the maker will cut. Limits left out follow the method."""

    __pydantic_config__ = STRICT
    method: Annotated[
        Method, says("fused and cut by hand, fused and cut by a machine, or edges turned under")
    ] = Method.RAW_EDGE
    also: Annotated[
        Method | None, says("a second method to choose, with a booklet and templates of its own")
    ] = None
    turn_under: Annotated[Turned, says("fabric turned under at a turned edge")] = Fraction(3, 16)
    freezer_paper: Annotated[
        FreezerPaper,
        says("where the freezer paper of a turned edge lies; on the right side, shiny side down"),
    ] = FreezerPaper.RIGHT_SIDE
    least_stroke: Annotated[Allowance | None, says("thinnest stroke to cut")] = None
    least_counter: Annotated[
        Allowance | None,
        says(
            "smallest hole of a letter (its counter) to cut, across; smaller holes of an outline are closed"
        ),
    ] = None
    least_slot: Annotated[Allowance | None, says("narrowest slot to cut")] = None
    least_clear: Annotated[Allowance | None, says("least room between letters and between rows")] = None
    least_seam: Annotated[Allowance | None, says("least distance from a letter to the panel's seam")] = None
    least_point: Annotated[Count | None, says("sharpest point to cut or turn, in degrees", ge=0, le=180)] = (
        None
    )
    viewing_distance: Annotated[Size | None, says("from how far the words are read")] = None
    weave: Annotated[Weave, says("what the panel's fabric is like")] = Weave.FIRM

    @property
    def traced_mirrored(self) -> bool:
        """Whether letters are drawn in mirror image onto what holds them while they are cut.

        Source:
            Geometry: what lies on the wrong side of the fabric with its drawing towards you reads in mirror image from
            the right side. So lies web with its paper up, and freezer paper with its shiny side down. Both conventions
            for freezer paper are published, docs/sources.md.
        """
        return self.method is not Method.TURNED_EDGE or self.freezer_paper is FreezerPaper.WRONG_SIDE_DOWN


@dataclass(frozen=True, slots=True, kw_only=True)
class Stitching:
    """The stitch along the letters. What is left out follows the stitch."""

    __pydantic_config__ = STRICT
    stitch: Annotated[
        Stitch | None, says("the stitch; chosen by method, fabric and contrast if left out")
    ] = None
    width: Annotated[Fine | None, says("width of the stitch")] = None
    length: Annotated[Fine | None, says("length of the stitch: from one to the next along the edge")] = None
    thread: Annotated[Color | None, says("color of the thread; that of the letters if left out")] = None
    thickness: Annotated[Fine, says("of all layers under the needle")] = 1 / MM_PER_INCH
    waste_percent: Annotated[Count, says("thread lost at starts, ends and bobbins", ge=0, le=100)] = 15
    spool: Annotated[ThreadLength, says("thread on a spool")] = Fraction(500 * 36)
    bobbin: Annotated[ThreadLength, says("thread on a bobbin")] = Fraction(60 * 36)
    stabilizer_width: Annotated[Size, says("width of the roll of stabilizer")] = Fraction(20)
    pace: Annotated[
        Count | None, says("stitches a minute while guiding; by the stitch if left out", ge=20, le=1500)
    ] = None
    throat: Annotated[Size, says("room in the machine's throat, needle to post")] = Fraction(8)
    when: Annotated[WhenStitched | None, says("when letters are stitched; worked out if left out")] = None
    offers: Annotated[
        tuple[Stitch, ...],
        says("stitches to choose from, shown side by side with the thread and hours of each", max_length=4),
    ] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Quilting:
    """One kind of quilting lines over the top."""

    __pydantic_config__ = STRICT
    kind: Annotated[
        QuiltingKind,
        says("around the words, straight lines, crossing lines, rows from edge to edge, or in the seams"),
    ]
    spacing: Annotated[Size, says("from line to line, and from the letters to the first echo")] = Fraction(
        1, 2
    )
    lines: Annotated[Count, says("echo lines around the words", ge=1, le=40)] = 3
    angle: Annotated[Number, says("of straight lines, in degrees from level", ge=-90, le=90)] = 45.0
    letters: Annotated[OverLetters, says("whether lines go over the letters")] = OverLetters.MISS
    row_height: Annotated[Size, says("height of a row of an edge-to-edge design")] = Fraction(10)
    overlap: Annotated[Allowance, says("how much such rows overlap")] = Fraction(1, 2)
    repeat_width: Annotated[
        Size | None,
        says("width of one repeat of an edge-to-edge design of your own; needs the thread of one too"),
    ] = None
    repeat_thread: Annotated[
        Size | None, says("needle thread that one such repeat takes; the bobbin takes as much again")
    ] = None
    stitch_length: Annotated[Fine, says("length of the quilting stitch")] = Fraction(5, 2) / MM_PER_INCH
    offered: Annotated[Flag, says("one of several to choose from; not sewn as well")] = False
