"""A typeface: one font at one axis setting, ready to shape, draw and measure.

Lengths are font units (`_fu`) with the baseline at 0 and y up.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum
from functools import cached_property
from io import BytesIO
from typing import Final

import shapely
import uharfbuzz as hb
from shapely import affinity
from shapely.geometry.base import BaseGeometry

from applique.errors import Problem, Refusal, Where
from applique.geometry.outline import Outline, united
from applique.geometry.points import Bounds
from applique.geometry.polygons import Shape, polygon_of
from applique.language import message

__all__ = ["PICTURES", "Axis", "CapKind", "FontFacts", "GlyphSpot", "Typeface", "pictures_only"]

GlyphSpot = tuple[int, float, float]
"""A glyph id and where its origin stands, in font units from the letter's own origin."""
PICTURES: Final = frozenset({"EBDT", "CBDT", "bdat", "sbix", "SVG ", "COLR"})
"""Tables in which a font keeps pictures of its letters (OpenType specification; bdat is Apple's)."""
_SIDE: Final = 0.25
"""Share of the cap height by which two neighbors are looked at from the sides that face each other."""
_SPECK_OF_EM: Final = 60 / 1000**2
"""Parts under 60 units² in a 1000-unit em are specks of self-crossing contours, not letters."""
_MOST_GAPS: Final = 50_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Axis:
    """One axis of a variable font, in the font's own scale."""

    tag: str
    name: str
    least: float
    default: float
    most: float


class CapKind(Enum):
    """What the letter height of a font is measured on."""

    H = "H"
    LETTER = "letter"
    FIGURE = "figure"
    SIGN = "sign"


@dataclass(frozen=True, slots=True, kw_only=True)
class FontFacts:
    """What a font file says of itself."""

    name: str
    version: str
    license: str
    axes: tuple[Axis, ...]
    embedding: int
    """OS/2 fsType: 0 installable, 2 restricted, 4 preview and print, 8 editable (OpenType specification)."""
    units_per_em: int


def _fineness(chord_error_fu: float) -> float:
    """`chord_error_fu` rounded down to a power of two, so that nearly equal sizes share their shapes."""
    return 2.0 ** math.floor(math.log2(chord_error_fu))


class Typeface:
    """A font at one axis setting: shaping and outlines from the same variation, cached by glyph.

    `name` is what messages call it; `axes` the settings in force; `cap_height_fu` the top of the H above
    the baseline, measured on the outline. A font without an H is measured on another letter; one without letters on
    its figures; one without either on the tallest of the `signs` asked for, or of all it has where none are given.
    `cap_letter` is what it was measured on, `cap_kind` which of these.
    """

    def __init__(
        self, *, name: str, face: hb.Face, facts: FontFacts, axes: Mapping[str, float], key: str, signs: str
    ) -> None:
        self.name = name
        self.facts = facts
        self.axes = dict(axes)
        self.key = key
        self.units_per_em = int(face.upem)
        self.hb_font = hb.Font(face)
        if axes:
            self.hb_font.set_variations(dict(axes))
        self._outlines: dict[tuple[GlyphSpot, ...], Outline] = {}
        self._bounds: dict[tuple[GlyphSpot, ...], Bounds] = {}
        self._gaps: dict[tuple[tuple[GlyphSpot, ...], tuple[GlyphSpot, ...], float, float], float] = {}
        self._shapes: dict[tuple[tuple[GlyphSpot, ...], float], Shape] = {}
        self._sides: dict[tuple[tuple[GlyphSpot, ...], float, bool], BaseGeometry] = {}
        self._variants: dict[int, int] = {}
        self.cap_kind, self.cap_letter, self.cap_height_fu = self._measure_cap_height(face, signs)
        if self.cap_kind is CapKind.SIGN:
            self.key += f":{self.cap_letter}"  # the same letters at another size
        if not self.cap_height_fu > 0:
            raise Refusal(
                Problem(
                    kind="below-the-baseline",
                    what=message("its {letter} does not stand on the baseline", letter=self.cap_letter),
                    where=Where(file=name),
                    fix=message("another font"),
                )
            )

    @property
    def no_glyph(self) -> int:
        """A glyph number that the font does not use: it draws nothing."""
        return int(self.hb_font.face.glyph_count)

    @cached_property
    def selectors(self) -> frozenset[str]:
        """The variation selectors with which the font draws some letter otherwise."""
        return frozenset(map(chr, self.hb_font.face.variation_selectors))

    @property
    def has_variants(self) -> bool:
        """Whether the font has variants of letters to choose from at random (OpenType feature `rand`)."""
        return bool(self._variant_lookups)

    def variants(self, glyph: int) -> int:
        """How many variants `rand` has for `glyph`."""
        if glyph not in self._variants:
            face = self.hb_font.face
            counts = [
                len(face.get_lookup_glyph_alternates(lookup, glyph)) for lookup in self._variant_lookups
            ]
            self._variants[glyph] = max(counts, default=0)
        return self._variants[glyph]

    @cached_property
    def _variant_lookups(self) -> tuple[int, ...]:
        """The lookups of the feature `rand`, from the font's table of substitutions."""
        from fontTools.ttLib import TTFont

        if "GSUB" not in self.hb_font.face.table_tags:
            return ()
        try:
            table = TTFont(BytesIO(self.hb_font.face.blob.data), lazy=True)["GSUB"].table
            records = table.FeatureList.FeatureRecord if table.FeatureList else ()
            found = {
                int(lookup)
                for record in records
                if record.FeatureTag == "rand"
                for lookup in record.Feature.LookupListIndex
            }
        except Exception:  # a table that HarfBuzz passes over as damaged has no variants
            return ()
        return tuple(sorted(found))

    @cached_property
    def has_down_advances(self) -> bool:
        """Whether the font says how far each letter takes down a row that runs down (OpenType table vmtx)."""
        return "vmtx" in self.hb_font.face.table_tags

    def has(self, character: str) -> bool:
        """Whether the font maps `character` to a glyph of its own."""
        return bool(self.hb_font.get_nominal_glyph(ord(character)))

    def characters(self) -> str:
        """Every character the font maps to a glyph, in code point order."""
        return "".join(map(chr, sorted(self.hb_font.face.unicodes)))

    def outline(self, glyphs: tuple[GlyphSpot, ...]) -> Outline:
        """The union of `glyphs` with its curves kept; empty for a space. Font units."""
        if glyphs not in self._outlines:
            self._outlines[glyphs] = self._drawn(glyphs[0]) if len(glyphs) == 1 else self._welded(glyphs)
        return self._outlines[glyphs]

    def bounds(self, glyphs: tuple[GlyphSpot, ...]) -> Bounds:
        """The exact extent of `outline`, worked out once. Font units.

        Raises:
            ValueError: a space has no extent.
        """
        if glyphs not in self._bounds:
            self._bounds[glyphs] = self.outline(glyphs).bounds()
        return self._bounds[glyphs]

    @property
    def _least_area(self) -> float:
        return _SPECK_OF_EM * self.units_per_em**2

    def _drawn(self, spot: GlyphSpot) -> Outline:
        glyph, x, y = spot
        if x or y:
            return self.outline(((glyph, 0.0, 0.0),)).transformed((1.0, 0.0, 0.0, 1.0, x, y))
        return united([lambda pen: self.hb_font.draw_glyph_with_pen(glyph, pen)], least_area=self._least_area)

    def _welded(self, glyphs: tuple[GlyphSpot, ...]) -> Outline:
        """Several glyphs as one outline, its area proved against a union of polygons.

        Edges that run along each other can mislead the union of curves, so that a joint comes out wrong;
        rounding to whole font units makes them meet. What still differs is refused.
        """
        parts = [part for spot in glyphs if (part := self.outline((spot,)))]
        chord_error = self.units_per_em / 20_000
        proof = shapely.union_all([polygon_of(part, chord_error=chord_error) for part in parts])
        for rounded in (False, True):
            drawn = [part.rounded() if rounded else part for part in parts]
            welded = united([part.draw for part in drawn], least_area=self._least_area)
            if (
                abs(welded.area() - proof.area)
                <= chord_error * 2 * proof.length + len(parts) * self._least_area
            ):
                return welded
        raise Refusal(
            Problem(
                kind="letters-cannot-be-joined",
                what=message("its letters cannot be joined into one piece without losing part of one"),
                where=Where(file=self.name),
                fix=message("another font, or other words"),
            )
        )

    def shape(self, glyphs: tuple[GlyphSpot, ...], *, chord_error_fu: float) -> Shape:
        """`outline` as a polygon, no coarser than `chord_error_fu` (rounded down to a power of two)."""
        fineness = _fineness(chord_error_fu)
        if (glyphs, fineness) not in self._shapes:
            try:
                shape = polygon_of(self.outline(glyphs), chord_error=fineness)
            except ValueError:
                raise Refusal(
                    Problem(
                        kind="outline-crosses-itself",
                        what=message(
                            "a letter of it has an outline that crosses itself too often to be measured"
                        ),
                        where=Where(file=self.name),
                        fix=message("another font, or other words"),
                    )
                ) from None
            shapely.prepare(shape)
            self._shapes[glyphs, fineness] = shape
        return self._shapes[glyphs, fineness]

    def gap(
        self,
        left: tuple[GlyphSpot, ...],
        right: tuple[GlyphSpot, ...],
        offset_fu: float,
        *,
        chord_error_fu: float,
    ) -> float:
        """The least distance from `left` to `right` moved by `offset_fu`, 0 where they touch; font units.

        Kept, because a row is measured again at every size that is tried and with every letter that is typed.
        """
        fineness = _fineness(chord_error_fu)
        key = (left, right, offset_fu, fineness)
        if key not in self._gaps:
            if len(self._gaps) >= _MOST_GAPS:
                self._gaps.clear()
            self._gaps[key] = self._measured_gap(left, right, offset_fu, fineness)
        return self._gaps[key]

    def _measured_gap(
        self, left: tuple[GlyphSpot, ...], right: tuple[GlyphSpot, ...], offset_fu: float, fineness: float
    ) -> float:
        """The gap, measured between the sides that face each other where that settles it.

        Whatever lies outside a side is at least the side's depth and the room between the extents away, so a gap no
        greater than that is the least; the whole letters are only looked at where it is greater.
        """
        near, far = self._side(left, fineness, right=True), self._side(right, fineness, right=False)
        gap = float(shapely.distance(near, affinity.translate(far, offset_fu)))
        depth = self.cap_height_fu * _SIDE
        apart = self.bounds(right)[0] + offset_fu - self.bounds(left)[2]
        if gap <= apart + depth:
            return gap
        first, second = (self.shape(glyphs, chord_error_fu=fineness) for glyphs in (left, right))
        return float(shapely.distance(first, affinity.translate(second, offset_fu)))

    def _side(self, glyphs: tuple[GlyphSpot, ...], fineness: float, *, right: bool) -> BaseGeometry:
        """The part of a shape within a `_SIDE` of the cap height of its right or left extent."""
        key = (glyphs, fineness, right)
        if key not in self._sides:
            x0, y0, x1, y1 = self.bounds(glyphs)
            depth = self.cap_height_fu * _SIDE
            low, high = (x1 - depth, x1 + 1) if right else (x0 - 1, x0 + depth)
            shape = self.shape(glyphs, chord_error_fu=fineness)
            self._sides[key] = shapely.clip_by_rect(shape, low, y0 - 1, high, y1 + 1)
        return self._sides[key]

    def _measure_cap_height(self, face: hb.Face, signs: str) -> tuple[CapKind, str, float]:
        """What the height is measured on, and its top above the baseline."""
        for character in "HXIא아あ":
            if outline := self._outline_of(character):
                kind = CapKind.H if character == "H" else CapKind.LETTER
                return kind, character, outline.bounds()[3]
        characters = self.characters()
        for character in filter(str.isalpha, characters):
            if outline := self._outline_of(character):
                return CapKind.LETTER, character, outline.bounds()[3]
        figures = "".join(filter(str.isdecimal, characters))
        for kind, among in ((CapKind.FIGURE, figures), (CapKind.SIGN, signs), (CapKind.SIGN, characters)):
            for character in sorted(set(among), key=lambda sign: (-self._reach(sign), sign)):
                if outline := self._outline_of(character):
                    return kind, character, outline.bounds()[3]
        if PICTURES.intersection(face.table_tags):
            raise Refusal(pictures_only(self.name))
        raise Refusal(
            Problem(
                kind="font-without-outlines",
                what=message("nothing in it has an outline to cut"),
                where=Where(file=self.name),
                fix=message("a font with outlines (TrueType or OpenType)"),
            )
        )

    def _reach(self, character: str) -> int:
        """How far the glyph of `character` reaches above the baseline, by the font's own word."""
        extents = self.hb_font.get_glyph_extents(self.hb_font.get_nominal_glyph(ord(character)) or 0)
        return int(extents.y_bearing) if extents else 0

    def _outline_of(self, character: str) -> Outline | None:
        """The outline of the font's own glyph for `character`; None where it has no glyph."""
        glyph = self.hb_font.get_nominal_glyph(ord(character))
        return self.outline(((glyph, 0.0, 0.0),)) if glyph else None


def pictures_only(where: str) -> Problem:
    """What to say of a font at `where` that holds no outlines but pictures of letters."""
    return Problem(
        kind="font-of-pictures",
        what=message("holds pictures of letters (a bitmap or color font), no outlines to cut along"),
        where=Where(file=where),
        fix=message("a font with outlines (TrueType or OpenType)"),
    )
