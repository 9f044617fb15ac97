"""Font files of the maker's own, as others are told of them: by name and digest, never by folder."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from applique.design import Design
from applique.design.fonts import as_path, with_fonts, with_mark, with_photos
from applique.typeset.fonts import font_digest, resolve_font

__all__ = ["OwnFont", "font_digests", "own_fonts", "shared_design"]


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnFont:
    """A font file: `font` as the design names it, `name` as others call it, and the SHA-256 of what it holds."""

    font: str
    name: str
    sha256: str


def own_fonts(fonts: Iterable[str]) -> tuple[OwnFont, ...]:
    """Those of `fonts` that are not bundled, in their order.

    Each has its file name; a second file of that name with something else in it gets a number, so that they can lie
    in one folder. Names are compared as file systems do that know no case.

    Raises:
        Refusal: no such font, or a file that cannot be read.
    """
    found: list[OwnFont] = []
    for font in fonts:
        path, bundled = resolve_font(font)
        if bundled is None:
            digest = font_digest(font)
            found.append(OwnFont(font=font, name=_free_name(path, digest, found), sha256=digest))
    return tuple(found)


def _free_name(path: Path, digest: str, found: Sequence[OwnFont]) -> str:
    taken = {_folded(font.name): font.sha256 for font in found}
    name, number = as_path(path.name), 1
    while taken.get(_folded(name), digest) != digest:
        number += 1
        name = as_path(f"{path.stem} {number}{path.suffix}")
    return name


def _folded(name: str) -> str:
    return unicodedata.normalize("NFC", name).casefold()


def font_digests(fonts: Iterable[OwnFont]) -> dict[str, str]:
    """The SHA-256 of each of `fonts` by the name that others call it; one file in two places stands once."""
    return {font.name: font.sha256 for font in fonts}


def shared_design(design: Design, fonts: Iterable[OwnFont], photos: Mapping[str, str]) -> Design:
    """`design` with each of `fonts` under the name that others call it, photos of fabrics under those that `photos` has
    for them, and the picture of a mark under its own: the files lie beside the design then."""
    names = {font.font: font.name for font in fonts}
    named = with_fonts(design, lambda font: names.get(font, font))
    named = with_photos(named, lambda photo: photos.get(photo, photo))
    return with_mark(named, lambda file: Path(file).name)
