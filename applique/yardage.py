"""Fusible web and cloth for the letters: nested, measured, and rounded up to what a shop sells.

Nests are in inches: x along the length of the roll, y across its width. Lengths to buy are exact.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from typing import Final, TypeAlias

from applique.buying import BeyondLayout, Extra, Rule, WashAndSquare
from applique.design import Fabric, Fusible, Method, Row, Turns
from applique.errors import Problem, Refusal, Where
from applique.geometry.place import Place
from applique.geometry.polygons import Shape
from applique.language import message
from applique.mats import Mat
from applique.nesting import (
    Nester,
    NestPiece,
    Placement,
    StripJob,
    StripNest,
    fits,
    nest_faults,
    nest_strips,
)
from applique.panel import PlacedRow
from applique.pieces import Layer, Template, cloth_cut, fused_cut, rough_cut, template_key
from applique.units import MM_PER_INCH, Units, buying_step, cloth_step, cutting_step, measured_up, round_up

__all__ = [
    "LETTER_ROOM",
    "Carried",
    "LetterNeeds",
    "Lettering",
    "SideBySide",
    "StripNeed",
    "WebKind",
    "inner_width",
    "letter_needs",
    "templates_in",
]

LETTER_ROOM: Final = {Units.INCHES: Fraction(1, 4), Units.CENTIMETERS: 5 / MM_PER_INCH}
"""Inches of fabric to spare on each side of the letters that lie on it: our own, docs/decisions/0250."""
_ANY_QUARTER: Final = (0.0, 90.0, 180.0, 270.0)
_UPRIGHT: Final = Place(x=0.0, y=0.0, turn_deg=90.0)
"""Heads up on cloth, whose selvage runs along x."""
_TURNS: Final[dict[Turns, tuple[float, ...]]] = {
    Turns.UPRIGHT: (90.0,),
    Turns.HALF: (90.0, 270.0),
    Turns.QUARTER: _ANY_QUARTER,
}
"""On cloth the height of a letter runs along the selvage, as x does in a nest."""


Carried: TypeAlias = Template | Mat
"""What a piece of web or fabric is cut for: a letter, or all letters of a mat."""


def templates_in(carried: Carried) -> tuple[Template, ...]:
    """The templates that are cut from a piece, each once."""
    return carried.templates if isinstance(carried, Mat) else (carried,)


class Lettering(StrEnum):
    """What of the words is cut from a strip."""

    LETTERS = "letters"
    OUTLINES = "outlines"
    BOTH = "letters and outlines"


class WebKind(StrEnum):
    """What letters are traced onto before they are cut."""

    FUSIBLE_WEB = "fusible web"
    FREEZER_PAPER = "freezer paper"


@dataclass(frozen=True, slots=True, kw_only=True)
class SideBySide:
    """What is too large for a width: each of `count` is cut from so many `widths` of `length`, side by side.

    Fabric is sewn together first: each is cut `each` wide, and a seam takes `seam` off two together. Web is laid edge
    to edge: each is as wide as it comes, and `seam` is 0.
    """

    carried: Carried
    count: int
    widths: int
    length: Fraction
    each: Fraction
    seam: Fraction

    @property
    def across(self) -> Fraction:
        """How wide they are together."""
        return self.widths * self.each - (self.widths - 1) * self.seam

    @property
    def used(self) -> Fraction:
        """Inches of the roll that all of them take."""
        return self.count * self.widths * self.length


@dataclass(frozen=True, slots=True, kw_only=True)
class StripNeed:
    """Letters nested on one strip, and what to buy for them.

    It is of `fabric`, or of `web`. `nested` is the length to cut for the nest: of web up to the next `cutting_step`, of
    fabric with `room` to spare on each side, up to the next `cloth_step`; `rule` starts from it with what `joined` ones
    add, and has what to buy. `pieces` are the shapes that the nest's placements turn and move, `carried` what each is
    for, by its key. `joined` are those too large for the width. Places of a nest with `fixed` ones count from the cut
    end and the selvage, where there is no room to spare.
    """

    fabric: str
    web: WebKind | None
    color: str
    usable_width: Fraction
    rule: Rule[Extra]
    nest: StripNest | None
    nested: Fraction
    room: Fraction
    pieces: tuple[NestPiece, ...]
    carried: Mapping[str, Carried]
    joined: tuple[SideBySide, ...]
    fixed: tuple[Placement, ...]

    @property
    def used(self) -> Fraction:
        """Inches of the roll that the letters take."""
        return self.rule.used

    @property
    def buy(self) -> Fraction:
        """Inches of the roll to buy."""
        return self.rule.buy

    @property
    def lettering(self) -> Lettering:
        """What of the words is cut from it."""
        nested = (self.carried[piece.key] for piece in self.pieces)
        carried = (*nested, *(one.carried for one in self.joined))
        behind = {template.layer is Layer.OUTLINE for one in carried for template in templates_in(one)}
        if behind == {True}:
            return Lettering.OUTLINES
        return Lettering.BOTH if True in behind else Lettering.LETTERS


@dataclass(frozen=True, slots=True, kw_only=True)
class LetterNeeds:
    """What the letters take: web, each fabric, and one fabric for all of them where they come from several.

    `searched` are the nests that a search found, as text by their keys.
    """

    fusible: StripNeed
    cloth: tuple[StripNeed, ...]
    one_fabric: StripNeed | None
    searched: Mapping[str, str]


_Cut: TypeAlias = tuple[Carried, Shape, int]
"""What is cut, the shape that it takes, and how often."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Material:
    """A material and the pieces that come from it: those it holds, and those wider than it."""

    fabric: str
    web: WebKind | None
    color: str
    width: Fraction
    room: Fraction
    whole: tuple[NestPiece, ...]
    large: tuple[NestPiece, ...]


def inner_width(pieces: Sequence[NestPiece], width: Fraction, room: Fraction) -> float:
    """The width less the room on both sides, where every piece fits that; all of it else."""
    inner = float(width - 2 * room)
    return inner if all(fits(piece, width=inner) for piece in pieces) else float(width)


def letter_needs(
    templates: Sequence[Template],
    rows: Sequence[PlacedRow],
    lines: Sequence[Row],
    letters: Fabric,
    *,
    fusible: Fusible,
    method: Method,
    extra: WashAndSquare,
    seam: Fraction,
    units: Units,
    nester: Nester,
    mats: Sequence[Mat],
) -> LetterNeeds:
    """Web and cloth for every letter, rough cut, all strips nested at once.

    Turned edges take freezer paper, cut on the finished edge, instead of web, and cloth to their cut line. A machine
    takes a rectangle of web for each of the `mats`, and for each letter on none of them, and cloth as large as those.

    Web has no grain, so letters may lie in any quarter turn; on cloth heights run along the grain, heads up or
    down, or up only for a fabric with a direction. Fussy-cut letters stay on their spot. `letters` is the fabric of
    the design's lettering, `extra` what cloth loses before it is cut, `seam` what a seam takes off two pieces together.

    Raises:
        Refusal: fussy cuts beyond their cloth or on top of each other.
    """
    turned = method is Method.TURNED_EDGE
    margin = 0.0 if turned else float(fusible.rough_cut)
    by_machine = method is Method.MACHINE_CUT
    grid = cutting_step(units)
    onto = mats if by_machine else ()

    def taken(template: Template) -> Shape:
        if by_machine:
            return fused_cut(template.shape, fusible.rough_cut, grid)
        return cloth_cut(template, float(fusible.rough_cut))

    def from_fabric(fabric: Fabric) -> _Material:
        here = [mat for mat in onto if mat.fabric == fabric.name]
        counts = [(template, _count_from(template, fabric.name)) for template in templates]
        return _from_fabric(_on_mats(here) + _off_mats(counts, here, taken), fabric, units)

    web = _material(
        _on_mats(onto)
        + _off_mats(
            [(template, template.count) for template in templates],
            onto,
            taken if by_machine else lambda template: rough_cut(template.shape, margin),
        ),
        web=WebKind.FREEZER_PAPER if turned else WebKind.FUSIBLE_WEB,
        color="",
        width=fusible.width,
        turns_deg=_ANY_QUARTER,
    )
    fabrics: dict[str, Fabric] = {}
    for template in templates:
        for use in template.uses:
            fabrics.setdefault(use.fabric.name, use.fabric)
    materials = [web, *map(from_fabric, fabrics.values())]
    if len(fabrics) > 1:
        every = [(template, template.count) for template in templates if template.layer is Layer.LETTER]
        materials.append(_from_fabric(_off_mats(every, (), taken), letters, units))
    fixed = [
        ()
        if index == 0 or index > len(fabrics) or not material.whole
        else _fussy(material, rows, lines, fusible, turned=turned)
        for index, material in enumerate(materials)
    ]
    jobs = [
        StripJob(
            pieces=material.whole,
            width=float(material.width)
            if spots
            else inner_width(material.whole, material.width, material.room),
            spacing=float(fusible.spacing),
            fixed=spots,
        )
        for material, spots in zip(materials, fixed, strict=True)
        if material.whole
    ]
    nested = nest_strips(jobs, nester)
    nests = iter(nested.nests)
    by_key: dict[str, Carried] = {template.key: template for template in templates}
    by_key |= {mat.key: mat for mat in onto}
    needs = [
        _need(
            material,
            next(nests) if material.whole else None,
            by_key,
            extra if material.web is None else BeyondLayout(percent=fusible.extra_percent),
            seam if material.web is None else Fraction(0),
            units,
            fixed=spots,
        )
        for material, spots in zip(materials, fixed, strict=True)
    ]
    count = 1 + len(fabrics)
    return LetterNeeds(
        fusible=needs[0],
        cloth=tuple(needs[1:count]),
        one_fabric=needs[count] if len(needs) > count else None,
        searched=nested.searched,
    )


def _fussy(
    material: _Material, rows: Sequence[PlacedRow], lines: Sequence[Row], fusible: Fusible, *, turned: bool
) -> tuple[Placement, ...]:
    """Where the fussy-cut letters of a fabric lie on it: upright, their rough cut starting at the spot.

    Raises:
        Refusal: two spots for one piece, spots on each other or beyond the fabric.
    """
    shapes = {piece.key: piece.shape for piece in material.whole}
    spots: list[Placement] = []
    for row, line in zip(rows, lines, strict=True):
        if row.fabric.name != material.fabric:
            continue
        taken: dict[int, int] = {}
        for fussy in line.fussy:
            index = next(i for i, cut in enumerate(row.cuts) if fussy.letter in cut.letters)
            if index in taken:
                raise _two_spots(row.number, row.cuts[index].text, taken[index], fussy.letter)
            taken[index] = fussy.letter
            key = template_key(row, index) if turned else row.cuts[index].key
            x0, y0, _, _ = _UPRIGHT.shape(shapes[key]).bounds
            spots.append(
                Placement(
                    key=key,
                    place=_UPRIGHT.within(Place(x=float(fussy.along) - x0, y=float(fussy.across) - y0)),
                )
            )
    counts = Counter(spot.key for spot in spots)
    pieces = [
        NestPiece(key=k, shape=shapes[k], count=n, turns_deg=(_UPRIGHT.turn_deg,)) for k, n in counts.items()
    ]
    reach = max((spot.place.x + 10_000 for spot in spots), default=0.0)
    nest = StripNest(
        width=float(material.width), length=reach, spacing=float(fusible.spacing), placements=tuple(spots)
    )
    faults = nest_faults(nest, pieces) if spots else ()
    if faults:
        raise Refusal(
            Problem(
                kind="fussy-cuts-collide",
                what=message(
                    "the fussy cuts from {fabric} lie on each other or beyond its width",
                    fabric=material.fabric,
                ),
                where=Where.key("row", "fussy"),
                fix=message("spots further apart, counted from the selvage and from the cut end"),
            )
        )
    return tuple(spots)


def _two_spots(row: int, text: str, first: int, second: int) -> Refusal:
    """A piece can be cut from one spot only: it would be laid, cut and bought twice."""
    if first == second:
        return Refusal(
            Problem(
                kind="fussy-cut-twice",
                what=message("the spot of “{letters}” is given twice", letters=text),
                where=Where.in_row(row, "fussy", letter=second),
                fix=message("one spot for each piece"),
            )
        )
    return Refusal(
        Problem(
            kind="fussy-cut-shared",
            what=message(
                "the spot of “{letters}” is given by letter {first} and letter {second}, which are one piece",
                letters=text,
                first=first,
                second=second,
            ),
            where=Where.in_row(row, "fussy", letter=second),
            fix=message("one spot for each piece"),
        )
    )


def _on_mats(mats: Sequence[Mat]) -> list[_Cut]:
    """The piece that each mat takes."""
    return [(mat, mat.cloth, 1) for mat in mats]


def _off_mats(
    counts: Sequence[tuple[Template, int]], mats: Sequence[Mat], taken: Callable[[Template], Shape]
) -> list[_Cut]:
    """What each template takes, as often as it lies on none of `mats`."""
    laid = Counter(spot.key for mat in mats for spot in mat.placements)
    left = [(template, count - laid[template.key]) for template, count in counts]
    return [(template, taken(template), count) for template, count in left if count > 0]


def _from_fabric(cuts: Sequence[_Cut], fabric: Fabric, units: Units) -> _Material:
    """What is cut from `fabric`."""
    return _material(
        cuts,
        fabric=fabric.name,
        color=fabric.color,
        width=fabric.usable_width,
        room=LETTER_ROOM[units],
        turns_deg=_TURNS[fabric.turns],
    )


def _count_from(template: Template, fabric: str) -> int:
    return sum(use.count for use in template.uses if use.fabric.name == fabric)


def _material(
    cuts: Sequence[_Cut],
    *,
    fabric: str = "",
    web: WebKind | None = None,
    color: str,
    width: Fraction,
    room: Fraction = Fraction(0),
    turns_deg: tuple[float, ...],
) -> _Material:
    pieces = [
        NestPiece(
            key=carried.key,
            shape=shape,
            count=count,
            turns_deg=turns_deg,
        )
        for carried, shape, count in cuts
    ]
    whole = tuple(piece for piece in pieces if fits(piece, width=float(width)))
    held = {piece.key for piece in whole}
    large = tuple(piece for piece in pieces if piece.key not in held)
    return _Material(fabric=fabric, web=web, color=color, width=width, room=room, whole=whole, large=large)


def _need(
    material: _Material,
    nest: StripNest | None,
    carried: Mapping[str, Carried],
    extra: Extra,
    seam: Fraction,
    units: Units,
    *,
    fixed: tuple[Placement, ...],
) -> StripNeed:
    grid = cutting_step(units)
    joined = tuple(
        _side_by_side(piece, carried[piece.key], material.width, seam, grid) for piece in material.large
    )
    nested = Fraction(0)
    if nest is not None:
        around = material.room if fixed else 2 * material.room
        step = cloth_step(units) if material.web is None else grid
        nested = measured_up(nest.length + float(around), step)
    used = nested + sum((each.used for each in joined), Fraction(0))
    return StripNeed(
        fabric=material.fabric,
        web=material.web,
        color=material.color,
        usable_width=material.width,
        rule=Rule(used=used, extra=extra, step=buying_step(units)),
        nest=nest,
        nested=nested,
        room=material.room,
        pieces=(*material.whole, *material.large),
        carried=carried,
        joined=joined,
        fixed=fixed,
    )


def _side_by_side(
    piece: NestPiece, carried: Carried, width: Fraction, seam: Fraction, grid: Fraction
) -> SideBySide:
    """How a piece too large for one `width` is carried by several side by side, the way that takes least.

    What is sewn together is cut in equal widths, so that every seam is as far from an edge as it can be.
    """

    def laid(turn_deg: float) -> SideBySide:
        x0, y0, x1, y1 = piece.shape.bounds
        along, across = (x1 - x0, y1 - y0) if turn_deg % 180 == 0 else (y1 - y0, x1 - x0)
        wide = measured_up(across, grid)
        widths = math.ceil((wide - seam) / (width - seam))
        each = round_up((wide + (widths - 1) * seam) / widths, grid) if seam else width
        return SideBySide(
            carried=carried,
            count=piece.count,
            widths=widths,
            length=measured_up(along, grid),
            each=min(each, width),
            seam=seam,
        )

    return min((laid(turn) for turn in piece.turns_deg), key=lambda way: way.used)
