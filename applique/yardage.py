"""Fusible web and cloth for the letters: nested, measured, and rounded up to what a shop sells.

Nests are in inches: x along the length of the roll, y across its width. Lengths to buy are exact.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from applique.design import Fabric, Fusible
from applique.nesting import NestPiece, StripNest, fits, nest_strip
from applique.pieces import Template, rough_cut
from applique.units import Units, format_length, round_up

__all__ = ["StripNeed", "cloth_needs", "fusible_need", "length_to_buy", "one_fabric_need"]

EIGHTH_YARD: Final = Fraction(9, 2)
TEN_CENTIMETRES: Final = 100 / Fraction(254, 10)
_SIXTEENTH: Final = Fraction(1, 16)
_ON_GRAIN: Final = (90.0, 270.0)
"""On cloth the height of a letter runs along the selvage, as x does in a nest."""
_ANY_QUARTER: Final = (0.0, 90.0, 180.0, 270.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class StripNeed:
    """Letters nested on one strip, and what to buy for them.

    `used` is the length of the nest with what `joined` pieces add; `buy` is `used` and `extra_percent` more,
    rounded up as `rule` says. `pieces` are the rough-cut shapes that the nest's placements turn and move.
    `joined` names templates too large for the width, made from strips laid side by side.
    """

    material: str
    colour: str
    usable_width: Fraction
    used: Fraction
    extra_percent: int
    buy: Fraction
    rule: str
    nest: StripNest | None
    pieces: tuple[NestPiece, ...]
    joined: tuple[str, ...]


def fusible_need(templates: Sequence[Template], fusible: Fusible, units: Units) -> StripNeed:
    """Fusible web for every letter, rough cut; it has no grain, so letters may lie in any quarter turn."""
    pieces = [_piece(template, template.count, fusible, _ANY_QUARTER) for template in templates]
    return _need(pieces, templates, fusible, units, material="fusible web", colour="", width=fusible.width)


def cloth_needs(templates: Sequence[Template], fusible: Fusible, units: Units) -> tuple[StripNeed, ...]:
    """Each fabric of the letters, rough cut, heights along the grain, heads up or down."""
    fabrics: dict[str, Fabric] = {}
    for template in templates:
        for use in template.uses:
            fabrics.setdefault(use.fabric.name, use.fabric)
    needs: list[StripNeed] = []
    for name, fabric in fabrics.items():
        counts = [(template, _count_from(template, name)) for template in templates]
        pieces = [_piece(template, count, fusible, _ON_GRAIN) for template, count in counts if count]
        needs.append(
            _need(
                pieces,
                templates,
                fusible,
                units,
                material=name,
                colour=fabric.colour,
                width=fabric.usable_width,
            )
        )
    return tuple(needs)


def one_fabric_need(
    templates: Sequence[Template], fabric: Fabric, fusible: Fusible, units: Units
) -> StripNeed:
    """What all letters would take if they came from `fabric` alone."""
    pieces = [_piece(template, template.count, fusible, _ON_GRAIN) for template in templates]
    return _need(
        pieces,
        templates,
        fusible,
        units,
        material=fabric.name,
        colour=fabric.colour,
        width=fabric.usable_width,
    )


def _count_from(template: Template, fabric: str) -> int:
    return sum(use.count for use in template.uses if use.fabric.name == fabric)


def _piece(template: Template, count: int, fusible: Fusible, turns_deg: tuple[float, ...]) -> NestPiece:
    shape = rough_cut(template.shape, float(fusible.rough_cut))
    return NestPiece(key=template.key, shape=shape, count=count, turns_deg=turns_deg)


def _need(
    pieces: Sequence[NestPiece],
    templates: Sequence[Template],
    fusible: Fusible,
    units: Units,
    *,
    material: str,
    colour: str,
    width: Fraction,
) -> StripNeed:
    whole = [piece for piece in pieces if fits(piece, width=float(width))]
    large = [piece for piece in pieces if not fits(piece, width=float(width))]
    nest = nest_strip(whole, width=float(width), spacing=float(fusible.spacing)) if whole else None
    names = {template.key: template.text for template in templates}
    used = _sixteenths(nest.length if nest else 0.0)
    joined: list[str] = []
    for piece in large:
        widths, length = _side_by_side(piece, width)
        used += piece.count * widths * length
        joined.append(
            f"{names[piece.key]}: {widths} widths of {format_length(length, units)} side by side"
            + (f", {piece.count} times" if piece.count > 1 else "")
        )
    buy = length_to_buy(used, extra_percent=fusible.extra_percent, units=units)
    return StripNeed(
        material=material,
        colour=colour,
        usable_width=width,
        used=used,
        extra_percent=fusible.extra_percent,
        buy=buy,
        rule=_rule(used, fusible.extra_percent, units),
        nest=nest,
        pieces=tuple(pieces),
        joined=tuple(joined),
    )


def _sixteenths(length: float) -> Fraction:
    """A measured length as an exact one, up to the next 1/16 in; float noise below 1e-9 does not count."""
    return math.ceil((length - 1e-9) * 16) * _SIXTEENTH if length > 0 else Fraction(0)


def _side_by_side(piece: NestPiece, width: Fraction) -> tuple[int, Fraction]:
    """How many widths laid edge to edge carry a piece too large for one, and how long each is."""

    def laid(turn_deg: float) -> tuple[int, Fraction]:
        x0, y0, x1, y1 = piece.shape.bounds
        along, across = (x1 - x0, y1 - y0) if turn_deg % 180 == 0 else (y1 - y0, x1 - x0)
        return math.ceil(Fraction(across) / width), _sixteenths(along)

    return min((laid(turn) for turn in piece.turns_deg), key=lambda found: found[0] * found[1])


def length_to_buy(used: Fraction, *, extra_percent: int, units: Units) -> Fraction:
    """`used` and `extra_percent` more, up to the next 1/8 yd, or the next 10 cm in a metric design; inches.

    Source:
        About a quarter more than the layout uses: common practice, no source.
    """
    step = EIGHTH_YARD if units is Units.INCHES else TEN_CENTIMETRES
    return round_up(used * (100 + extra_percent) / 100, step)


def _rule(used: Fraction, extra_percent: int, units: Units) -> str:
    wanted = used * (100 + extra_percent) / 100
    step = "1/8 yd" if units is Units.INCHES else "10 cm"
    return (
        f"{format_length(used, units, denominator=16)} used, {extra_percent} % more is "
        f"{format_length(wanted, units, denominator=16)}, up to the next {step}"
    )
