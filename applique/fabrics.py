"""Which fabric is used for what, where the design leaves it open."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction
from typing import Final

from applique.colors import contrast_ratio
from applique.design import BackingKind, Design, Fabric, Finish, SewnAs
from applique.errors import Where
from applique.language import Speech, nearest_speech
from applique.photos import Photo, photo_names, read_photo
from applique.supplies import usable_width

__all__ = ["FabricPhoto", "Fabrics", "has_outline", "outline_reach", "resolve_fabrics", "shared_photos"]

_BACKGROUND_COLOR: Final = "#efe6d6"
_WHITE: Final = "#ffffff"
_LETTERS_COLOR: Final = "#23405f"
_BACKING_COLOR: Final = "#d8d2c8"
_BACKING_WIDTH: Final = Fraction(42)
_PICTURES: Final = ("preview.png",)
"""The pictures that the folder of a pattern has itself."""
_OUTLINE_COLORS: Final = ("#20242a", "#fbf8f0")
"""Of the fabrics that stand in where the design names none."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FabricPhoto:
    """A photo of a fabric, and the width of fabric that it shows, in inches."""

    photo: Photo
    width: Fraction

    @property
    def size(self) -> tuple[float, float]:
        """Width and height of the fabric that it shows."""
        return float(self.width), float(self.width * self.photo.height_px / self.photo.width_px)


@dataclass(frozen=True, slots=True, kw_only=True)
class Fabrics:
    """The fabric of each use, and every fabric of the design by its name.

    `outlines` are those that an outline layer may be of; which one it is gets settled when somebody asks. `photos` has
    those of the fabrics that have one, by their names.
    """

    panel: Fabric
    letters: Fabric
    binding: Fabric
    backing: Fabric
    sleeve: Fabric
    ties: Fabric
    sashing: Fabric
    plain: Fabric
    outlines: tuple[Fabric, ...]
    by_name: Mapping[str, Fabric]
    photos: Mapping[str, FabricPhoto] = field(default_factory=dict)

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

    A stand-in is named in the language of the sheets. A usable width is that after washing. A fabric whose color is not
    said has that of its photo.

    Letters take the first fabric of the design, binding, ties and sashing that of the letters, plain blocks that of the
    panel, a sleeve that of the backing, an outline layer the fabric that stands out most from the panel and the
    letters.

    Raises:
        Refusal: a photo that cannot be read.
    """
    speech = nearest_speech(design.language)
    photos = _photos(design)
    named = {
        fabric.name: replace(
            fabric,
            usable_width=usable_width(fabric, design.yardage),
            color=fabric.color or photos[fabric.name].photo.color,
        )
        for fabric in design.fabric
    }
    first = next(iter(named.values())) if named else Fabric(name=speech.say("Letters"), color=_LETTERS_COLOR)
    background = Fabric(name=speech.say("Background"), color=_BACKGROUND_COLOR)
    if design.finish is Finish.GARMENT:
        background = Fabric(name=speech.say("Garment"), color=_BACKGROUND_COLOR)
    elif design.finish is Finish.LETTERS:
        background = Fabric(name=speech.say("White"), color=_WHITE)
    panel = named.get(design.panel.fabric, background)
    letters = named.get(design.lettering.fabric, first)
    binding = named.get(design.binding.fabric, letters)
    backed = design.finish in (Finish.PILLOW, Finish.BANNER)
    back = speech.say("Back") if backed else speech.say("Backing")
    plain_back = Fabric(name=back, color=_BACKING_COLOR, usable_width=_BACKING_WIDTH)
    backing = named.get(design.backing.fabric, plain_back)
    if design.backing.kind is BackingKind.WIDE and not backed:
        name = (
            speech.say("{fabric}, wide backing", fabric=backing.name)
            if backing.name in named
            else speech.say("Wide backing")
        )
        backing = Fabric(
            name=name, color=backing.color, usable_width=design.backing.wide_width, turns=backing.turns
        )
    sleeve = named.get(design.hanging.fabric, backing)
    ties = named.get(design.banner.fabric, letters)
    fabrics = Fabrics(
        panel=panel,
        letters=letters,
        binding=binding,
        backing=backing,
        sleeve=sleeve,
        ties=ties,
        sashing=named.get(design.setting.sashing_fabric, letters),
        plain=named.get(design.setting.plain_fabric, panel),
        outlines=_outlines(design, named, panel, letters, speech),
        by_name=named,
        photos=photos,
    )
    every = [panel, letters, binding, backing, sleeve, ties]
    if any(has_outline(design, line) for line in design.rows):
        every.append(fabrics.outline)
    return replace(fabrics, by_name={**{fabric.name: fabric for fabric in every}, **named})


def shared_photos(design: Design, photos: Mapping[str, FabricPhoto]) -> dict[str, str]:
    """What each of `photos`, those of `design`, is called beside it in the folder of a pattern, by its path."""
    names = photo_names((shown.photo for shown in photos.values()), taken=_PICTURES)
    return {fabric.photo: names[photos[fabric.name].photo.sha256] for fabric in design.fabric if fabric.photo}


def _photos(design: Design) -> dict[str, FabricPhoto]:
    return {
        fabric.name: FabricPhoto(
            photo=read_photo(fabric.photo, Where.key("fabric", number, "photo")), width=fabric.photo_width
        )
        for number, fabric in enumerate(design.fabric, 1)
        if fabric.photo
    }


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
    others = tuple(fabric for fabric in named.values() if fabric.name not in (panel.name, letters.name))
    return others or tuple(Fabric(name=speech.say("Outline"), color=color) for color in _OUTLINE_COLORS)
