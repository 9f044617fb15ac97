"""Which fabric is used for what, where the design leaves it open."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Final

from applique.colors import contrast_ratio
from applique.design import BackingKind, Design, Fabric, SewnAs
from applique.language import Speech, nearest_speech

__all__ = ["Fabrics", "has_outline", "outline_reach", "resolve_fabrics"]

_BACKGROUND_COLOR: Final = "#efe6d6"
_LETTERS_COLOR: Final = "#23405f"
_BACKING_COLOR: Final = "#d8d2c8"
_BACKING_WIDTH: Final = Fraction(42)
_OUTLINE_COLORS: Final = ("#20242a", "#fbf8f0")
"""Of the fabrics that stand in where the design names none."""


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

    A stand-in is named in the language of the sheets.

    Letters take the first fabric of the design, binding that of the letters, a sleeve that of the backing, an
    outline layer the fabric that stands out most from the panel and the letters.
    """
    speech = nearest_speech(design.language)
    named = {fabric.name: fabric for fabric in design.fabric}
    first = design.fabric[0] if design.fabric else Fabric(name=speech.say("Letters"), color=_LETTERS_COLOR)
    background = Fabric(name=speech.say("Background"), color=_BACKGROUND_COLOR)
    panel = named.get(design.panel.fabric, background)
    letters = named.get(design.lettering.fabric, first)
    binding = named.get(design.binding.fabric, letters)
    plain_back = Fabric(name=speech.say("Backing"), color=_BACKING_COLOR, usable_width=_BACKING_WIDTH)
    backing = named.get(design.backing.fabric, plain_back)
    if design.backing.kind is BackingKind.WIDE:
        backing = Fabric(name=backing.name, color=backing.color, usable_width=design.backing.wide_width)
    sleeve = named.get(design.hanging.fabric, backing)
    fabrics = Fabrics(
        panel=panel,
        letters=letters,
        binding=binding,
        backing=backing,
        sleeve=sleeve,
        outlines=_outlines(design, named, panel, letters, speech),
        by_name=named,
    )
    every = [panel, letters, binding, backing, sleeve]
    if any(has_outline(design, line) for line in design.row):
        every.append(fabrics.outline)
    return replace(fabrics, by_name={**{fabric.name: fabric for fabric in every}, **named})


def has_outline(design: Design, asked: SewnAs) -> bool:
    """Whether a row, or another piece, lies on an outline layer instead of the panel."""
    return bool(outline_reach(design, asked))


def outline_reach(design: Design, asked: SewnAs) -> Fraction:
    """How far an outline layer reaches out behind a row, or another piece; inches, 0 for none."""
    return design.lettering.outline if asked.outline is None else asked.outline


def _outlines(
    design: Design, named: Mapping[str, Fabric], panel: Fabric, letters: Fabric, speech: Speech
) -> tuple[Fabric, ...]:
    if design.outline.fabric:
        return (named[design.outline.fabric],)
    others = tuple(fabric for fabric in design.fabric if fabric.name not in (panel.name, letters.name))
    return others or tuple(Fabric(name=speech.say("Outline"), color=color) for color in _OUTLINE_COLORS)
