"""Which fabric is used for what, where the design leaves it open."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from applique.design import BackingKind, Design, Fabric

__all__ = ["BACKGROUND", "LETTERS", "Fabrics", "resolve_fabrics"]

BACKGROUND: Final = Fabric(name="Background", colour="#efe6d6")
"""The panel's fabric where the design names none."""
LETTERS: Final = Fabric(name="Letters", colour="#23405f")
"""The letters' fabric where the design names none."""
_BACKING: Final = Fabric(name="Backing", colour="#d8d2c8", usable_width=Fraction(42))


@dataclass(frozen=True, slots=True, kw_only=True)
class Fabrics:
    """The fabric of each use, and every fabric of the design by its name."""

    panel: Fabric
    letters: Fabric
    binding: Fabric
    backing: Fabric
    sleeve: Fabric
    by_name: Mapping[str, Fabric]


def resolve_fabrics(design: Design) -> Fabrics:
    """The fabrics of `design`, whose names are known to be good, with a stand-in for each use left open.

    Letters take the first fabric of the design, binding that of the letters, a sleeve that of the backing.
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
    every = {fabric.name: fabric for fabric in (panel, letters, binding, backing, sleeve)}
    return Fabrics(
        panel=panel,
        letters=letters,
        binding=binding,
        backing=backing,
        sleeve=sleeve,
        by_name={**every, **named},
    )
