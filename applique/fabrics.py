"""Which fabric is used for what, where the design leaves it open."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from applique.colours import contrast_ratio
from applique.design import BackingKind, Design, Fabric

__all__ = ["BACKGROUND", "LETTERS", "Fabrics", "resolve_fabrics"]

BACKGROUND: Final = Fabric(name="Background", colour="#efe6d6")
"""The panel's fabric where the design names none."""
LETTERS: Final = Fabric(name="Letters", colour="#23405f")
"""The letters' fabric where the design names none."""
_BACKING: Final = Fabric(name="Backing", colour="#d8d2c8", usable_width=Fraction(42))


_OUTLINES: Final = (Fabric(name="Outline", colour="#20242a"), Fabric(name="Outline", colour="#fbf8f0"))


@dataclass(frozen=True, slots=True, kw_only=True)
class Fabrics:
    """The fabric of each use, and every fabric of the design by its name."""

    panel: Fabric
    letters: Fabric
    binding: Fabric
    backing: Fabric
    sleeve: Fabric
    outline: Fabric
    by_name: Mapping[str, Fabric]


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
        backing = Fabric(name=backing.name, colour=backing.colour, usable_width=design.backing.wide_width)
    sleeve = named.get(design.hanging.fabric, backing)
    outline = named.get(design.outline.fabric) or _standing_out(design, panel, letters)
    every = {fabric.name: fabric for fabric in (panel, letters, binding, backing, sleeve, outline)}
    return Fabrics(
        panel=panel,
        letters=letters,
        binding=binding,
        backing=backing,
        sleeve=sleeve,
        outline=outline,
        by_name={**every, **named},
    )


def _standing_out(design: Design, panel: Fabric, letters: Fabric) -> Fabric:
    """The fabric whose lesser contrast, against the panel and against the letters, is the greatest."""
    beside = (panel.colour, letters.colour)
    choice = [fabric for fabric in design.fabric if fabric.name not in (panel.name, letters.name)]
    return max(
        choice or _OUTLINES,
        key=lambda fabric: min(contrast_ratio(fabric.colour, colour) for colour in beside),
    )
