"""Which fabric is used for what, where the design leaves it open."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Final

from applique.colors import contrast_ratio
from applique.design import BackingKind, Design, Fabric, Row

__all__ = ["BACKGROUND", "LETTERS", "Fabrics", "has_outline", "resolve_fabrics"]

BACKGROUND: Final = Fabric(name="Background", color="#efe6d6")
"""The panel's fabric where the design names none."""
LETTERS: Final = Fabric(name="Letters", color="#23405f")
"""The letters' fabric where the design names none."""
_BACKING: Final = Fabric(name="Backing", color="#d8d2c8", usable_width=Fraction(42))


_OUTLINES: Final = (Fabric(name="Outline", color="#20242a"), Fabric(name="Outline", color="#fbf8f0"))


@dataclass(frozen=True, slots=True, kw_only=True)
class Fabrics:
    """The fabric of each use, and every fabric of the design by its name.

    `outlines` are those that an outline layer may be of; which one it is gets settled when somebody asks.
    """

    panel: Fabric
    letters: Fabric
    binding: Fabric
    backing: Fabric
    sleeve: Fabric
    outlines: tuple[Fabric, ...]
    by_name: Mapping[str, Fabric]

    @property
    def outline(self) -> Fabric:
        """The outline layer's: of several the one whose lesser contrast, against panel and letters, is the greatest."""
        if len(self.outlines) == 1:
            return self.outlines[0]
        beside = (self.panel.color, self.letters.color)
        return max(
            self.outlines,
            key=lambda fabric: min(contrast_ratio(fabric.color, color) for color in beside),
        )


def resolve_fabrics(design: Design) -> Fabrics:
    """The fabrics of `design`, whose names are known to be good, with a stand-in for each use left open.

    Letters take the first fabric of the design, binding that of the letters, a sleeve that of the backing, an
    outline layer the fabric that stands out most from the panel and the letters.
    """
    named = {fabric.name: fabric for fabric in design.fabric}
    first = design.fabric[0] if design.fabric else LETTERS
    panel = named.get(design.panel.fabric, BACKGROUND)
    letters = named.get(design.lettering.fabric, first)
    binding = named.get(design.binding.fabric, letters)
    backing = named.get(design.backing.fabric, _BACKING)
    if design.backing.kind is BackingKind.WIDE:
        backing = Fabric(name=backing.name, color=backing.color, usable_width=design.backing.wide_width)
    sleeve = named.get(design.hanging.fabric, backing)
    fabrics = Fabrics(
        panel=panel,
        letters=letters,
        binding=binding,
        backing=backing,
        sleeve=sleeve,
        outlines=_outlines(design, named, panel, letters),
        by_name=named,
    )
    every = [panel, letters, binding, backing, sleeve]
    if any(has_outline(design, line) for line in design.row):
        every.append(fabrics.outline)
    return replace(fabrics, by_name={**{fabric.name: fabric for fabric in every}, **named})


def has_outline(design: Design, row: Row) -> bool:
    """Whether the letters of a row lie on an outline layer instead of the panel."""
    return bool(design.lettering.outline if row.outline is None else row.outline)


def _outlines(
    design: Design, named: Mapping[str, Fabric], panel: Fabric, letters: Fabric
) -> tuple[Fabric, ...]:
    if design.outline.fabric:
        return (named[design.outline.fabric],)
    others = tuple(fabric for fabric in design.fabric if fabric.name not in (panel.name, letters.name))
    return others or _OUTLINES
