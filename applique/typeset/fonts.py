"""Fonts: the bundled ones, a maker's own file, and a typeface ready to draw at one axis setting.

Lengths are font units (`_fu`) with the baseline at 0 and y up.
"""

from __future__ import annotations

import difflib
import hashlib
import logging
import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from enum import Enum
from functools import cached_property, lru_cache
from io import BytesIO
from pathlib import Path
from typing import Final

import shapely
import uharfbuzz as hb
from shapely import affinity
from shapely.geometry.base import BaseGeometry

from applique.errors import Problem, Refusal
from applique.typeset.outline import Bounds, Outline, Shape, polygon_of, united
from applique.typeset.proving import prove_font

__all__ = [
    "BUNDLED",
    "Axis",
    "BundledFont",
    "CapKind",
    "FontFacts",
    "GlyphSpot",
    "Typeface",
    "bundled_folder",
    "bundled_fonts_with",
    "font_digest",
    "open_typeface",
    "resolve_font",
    "typeface_from",
]

# What fontTools finds odd in a font is logged, thousands of lines for a damaged one; a maker is told in our words.
logging.getLogger("fontTools").addHandler(logging.NullHandler())

GlyphSpot = tuple[int, float, float]
"""A glyph id and where its origin stands, in font units from the letter's own origin."""

_SIDE: Final = 0.25
"""Share of the cap height by which two neighbours are looked at from the sides that face each other."""
_LARGEST_FONT: Final = 40_000_000
_SPECK_OF_EM: Final = 60 / 1000**2
"""Parts under 60 units² in a 1000-unit em are specks of self-crossing contours, not letters."""
_MOST_GAPS: Final = 50_000
_PICTURES: Final = frozenset({"EBDT", "CBDT", "bdat", "sbix", "SVG ", "COLR"})
"""Tables in which a font keeps pictures of its letters (OpenType specification; bdat is Apple's)."""
_AXIS_WORDS: Final[dict[str, str]] = {
    "weight": "wght",
    "width": "wdth",
    "slant": "slnt",
    "optical size": "opsz",
    "optical_size": "opsz",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class BundledFont:
    """A font that comes with the tool, at the axis setting that cuts and sews best."""

    name: str
    style: str
    file: str
    axes: Mapping[str, float] = field(default_factory=dict)


BUNDLED: Final[tuple[BundledFont, ...]] = (
    BundledFont(
        name="Montserrat", style="geometric", file="montserrat/Montserrat[wght].ttf", axes={"wght": 800}
    ),
    BundledFont(
        name="Fredoka",
        style="rounded",
        file="fredoka/Fredoka[wdth,wght].ttf",
        axes={"wght": 650, "wdth": 100},
    ),
    BundledFont(name="Baloo 2", style="soft and chunky", file="baloo_2/Baloo2[wght].ttf", axes={"wght": 800}),
    BundledFont(name="Rubik", style="soft corners", file="rubik/Rubik[wght].ttf", axes={"wght": 800}),
    BundledFont(
        name="Geologica",
        style="sans",
        file="geologica/Geologica[CRSV,SHRP,slnt,wght].ttf",
        axes={"wght": 800},
    ),
    BundledFont(name="Bitter", style="slab serif", file="bitter/Bitter[wght].ttf", axes={"wght": 850}),
    BundledFont(name="Alfa Slab One", style="heavy slab", file="alfa_slab_one/AlfaSlabOne-Regular.ttf"),
    BundledFont(
        name="Barlow Condensed ExtraBold",
        style="condensed sans",
        file="barlow_condensed/BarlowCondensed-ExtraBold.ttf",
    ),
    BundledFont(name="Lilita One", style="chunky display", file="lilita_one/LilitaOne-Regular.ttf"),
    BundledFont(name="Titan One", style="fattest display", file="titan_one/TitanOne-Regular.ttf"),
    BundledFont(
        name="Shantell Sans ExtraBold",
        style="handwritten",
        file="shantell_sans/ShantellSans_800ExtraBold.ttf",
    ),
    BundledFont(name="Pacifico", style="connected script", file="pacifico/Pacifico-Regular.ttf"),
    BundledFont(
        name="Fraunces",
        style="classic serif",
        file="fraunces/Fraunces[SOFT,WONK,opsz,wght].ttf",
        axes={"wght": 900, "SOFT": 100, "opsz": 9, "WONK": 0},
    ),
    BundledFont(name="Cairo", style="humanist sans", file="cairo/Cairo[slnt,wght].ttf", axes={"wght": 900}),
)


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
    licence: str
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
                    what=f"its {self.cap_letter} does not stand on the baseline",
                    where=name,
                    fix="another font",
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
                what="its letters cannot be joined into one piece without losing part of one",
                where=self.name,
                fix="another font, or other words",
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
                        what="a letter of it has an outline that crosses itself too often to be measured",
                        where=self.name,
                        fix="another font, or other words",
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
        if _PICTURES.intersection(face.table_tags):
            raise Refusal(_pictures_only(self.name))
        raise Refusal(
            Problem(
                what="nothing in it has an outline to cut",
                where=self.name,
                fix="a font with outlines (TrueType or OpenType)",
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


def _pictures_only(where: str) -> Problem:
    return Problem(
        what="holds pictures of letters (a bitmap or color font), no outlines to cut along",
        where=where,
        fix="a font with outlines (TrueType or OpenType)",
    )


def bundled_folder() -> Path:
    """The folder of the bundled fonts: inside the installed package, or beside it in a checkout."""
    package = Path(__file__).resolve().parent.parent
    installed = package / "fonts"
    return installed if installed.is_dir() else package.parent / "fonts"


def _plain(name: str) -> str:
    return "".join(name.casefold().split()).replace("-", "").replace("_", "")


def resolve_font(font: str) -> tuple[Path, BundledFont | None]:
    """The file of `font`, a bundled font's name (case and spaces do not matter) or a path.

    Raises:
        Refusal: no bundled font of that name and no such file, or a name that is no text.
    """
    try:
        font.encode("utf-8")
    except UnicodeEncodeError:
        raise Refusal(
            Problem(
                what=f"the name of the font file {font!a} has signs that are no letters of any script",
                fix="rename the file, and give its new name",
            )
        ) from None
    wanted = _plain(font)
    for bundled in BUNDLED:
        if _plain(bundled.name) == wanted or (
            wanted and _plain(bundled.name).startswith(wanted + "extrabold")
        ):
            return bundled_folder() / bundled.file, bundled
    if any(sign in font for sign in "/\\.") and _is_file(font):
        return Path(font), None
    names = [bundled.name for bundled in BUNDLED]
    close = difflib.get_close_matches(font.casefold(), [name.casefold() for name in names], n=1)
    meant = next((name for name in names if close and name.casefold() == close[0]), None)
    raise Refusal(
        Problem(
            what=f"there is no font “{font if len(font) < 400 else font[:400] + '…'}”",
            fix=f"did you mean “{meant}”?"
            if meant
            else f"the path of a font file, or one of {', '.join(names)}",
        )
    )


def _is_file(name: str) -> bool:
    try:
        return Path(name).is_file()
    except (OSError, ValueError):
        return False


def open_typeface(
    font: str, axes: Mapping[str, float] | None = None, *, words: Iterable[str] = (), signs: str = ""
) -> Typeface:
    """`font` (a bundled name or a path) at `axes`; axes not given stand at the bundled choice or the default.

    `signs` are those that the height of a font without letters and figures is measured on.

    A font that is not bundled is tried out on `words` in a process of its own first, once in the life of this one.

    Raises:
        Refusal: no such font, an unreadable or damaged file, an axis it lacks or a value out of range.
    """
    path, bundled = resolve_font(font)
    data = _read_font(path)
    if bundled is None:
        prove_font(data, path.name, axes={}, words=words)
    facts = _facts(data, path.name)
    chosen = dict(bundled.axes) if bundled else {}
    problems: list[Problem] = []
    for word, value in (axes or {}).items():
        try:
            tag, number = _axis_setting(facts, word, value)
        except Refusal as refusal:
            problems += refusal.problems
        else:
            chosen[tag] = number
    if problems:
        raise Refusal(problems)
    if bundled is None and chosen:
        prove_font(data, path.name, axes=chosen, words=words)
    opened = (data, bundled.name if bundled else facts.name, path.name, tuple(sorted(chosen.items())))
    typeface = _typeface(*opened, "")
    if typeface.cap_kind is CapKind.SIGN and signs:
        return _typeface(*opened, "".join(sorted(set(signs))))
    return typeface


def font_digest(font: str) -> str:
    """The SHA-256 of the file of `font`, a bundled name or a path.

    Raises:
        Refusal: no such font, or a file that cannot be read.
    """
    return hashlib.sha256(_read_font(resolve_font(font)[0])).hexdigest()


def typeface_from(data: bytes, file_name: str, axes: Mapping[str, float]) -> Typeface:
    """The font that `data` holds, at `axes` by tag: opened in this process, whatever it may be.

    Raises:
        Refusal: not a font, or a damaged one.
    """
    return _typeface(data, _facts(data, file_name).name, file_name, tuple(sorted(axes.items())), "")


def _axis_setting(facts: FontFacts, word: str, value: float) -> tuple[str, float]:
    tag = _AXIS_WORDS.get(word.casefold(), word)
    axis = next((axis for axis in facts.axes if axis.tag.casefold() == tag.casefold()), None)
    if axis is None:
        offered = ", ".join(f"{axis.tag} {axis.least:g} to {axis.most:g}" for axis in facts.axes)
        raise Refusal(
            Problem(
                what=f"{facts.name} has no axis “{word}”",
                where="axes",
                fix=f"its axes: {offered}" if offered else "take the axes out; this font has one weight only",
            )
        )
    if not axis.least <= value <= axis.most:
        raise Refusal(
            Problem(
                what=f"{facts.name} has no {word} {value:g}",
                where="axes",
                fix=f"{word} from {axis.least:g} to {axis.most:g}",
            )
        )
    return axis.tag, float(value)


def _read_font(path: Path) -> bytes:
    try:
        if path.stat().st_size > _LARGEST_FONT:
            raise Refusal(
                Problem(what="is too large for a font file", where=str(path), fix="a font file under 40 MB")
            )
        return path.read_bytes()
    except OSError as error:
        raise Refusal(
            Problem(
                what=f"cannot be read ({error.strerror})",
                where=str(path),
                fix="check the name of the font file",
            )
        ) from None


@lru_cache(maxsize=64)
def _sfnt(data: bytes, file_name: str) -> bytes:
    """`data` as plain OpenType, web fonts unpacked, every needed table proved readable.

    Raises:
        Refusal: not a font, or a damaged one.
    """
    from fontTools.ttLib import TTFont

    if data[:2] == b"PK":
        raise Refusal(
            Problem(
                what="is a zip archive, no font",
                where=file_name,
                fix="unpack it and give the .ttf or .otf inside",
            )
        )
    try:
        font = TTFont(BytesIO(data), fontNumber=0, lazy=True)
        if not any(tag in font for tag in ("glyf", "CFF ", "CFF2")) and any(tag in font for tag in _PICTURES):
            raise Refusal(_pictures_only(file_name))
        needed = ["head", "hhea", "maxp", "hmtx", "cmap"]
        needed += ["loca", "glyf"] if "glyf" in font else ["CFF2" if "CFF2" in font else "CFF "]
        for tag in needed:
            font[tag]
        if not 16 <= font["head"].unitsPerEm <= 16384 or not font.getBestCmap():
            raise ValueError("no usable em or character map")
        if font.flavor is None and data[:4] != b"ttcf":
            return data
        plain = BytesIO()
        font.flavor = None
        font.save(plain, reorderTables=False)
        return plain.getvalue()
    except Refusal:
        raise
    except Exception as error:  # fontTools raises whatever its parsers trip over; all of it means the same
        raise Refusal(
            Problem(
                what=f"is no font that can be read ({type(error).__name__})",
                where=file_name,
                fix="the file again from where it came, as .ttf or .otf",
            )
        ) from None


@lru_cache(maxsize=64)
def _facts(data: bytes, file_name: str) -> FontFacts:
    from fontTools.ttLib import TTFont

    font = TTFont(BytesIO(_sfnt(data, file_name)), lazy=True)
    try:
        names = font.get("name")

        def said(name_id: int) -> str:
            return str(names.getDebugName(name_id) or "").strip() if names is not None else ""

        axes = tuple(
            Axis(
                tag=axis.axisTag,
                name=said(axis.axisNameID),
                least=axis.minValue,
                default=axis.defaultValue,
                most=axis.maxValue,
            )
            for axis in (font["fvar"].axes if "fvar" in font else ())
        )
        return FontFacts(
            name=said(16) or said(1) or Path(file_name).stem,
            version=said(5),
            licence=said(13),
            axes=axes,
            embedding=int(font["OS/2"].fsType) if "OS/2" in font else 0,
            units_per_em=int(font["head"].unitsPerEm),
        )
    except Exception as error:
        raise Refusal(
            Problem(
                what=f"is a damaged font ({type(error).__name__})",
                where=file_name,
                fix="the file again from where it came",
            )
        ) from None


@lru_cache(maxsize=64)
def _typeface(
    data: bytes, name: str, file_name: str, axes: tuple[tuple[str, float], ...], signs: str
) -> Typeface:
    sfnt = _sfnt(data, file_name)
    digest = hashlib.sha256(data).hexdigest()[:16]
    key = f"{digest}:{','.join(f'{tag}={value:g}' for tag, value in axes)}"
    return Typeface(
        name=name,
        face=hb.Face(hb.Blob(sfnt)),
        facts=_facts(data, file_name),
        axes=dict(axes),
        key=key,
        signs=signs,
    )


def bundled_fonts_with(characters: str) -> tuple[str, ...]:
    """The names of the bundled fonts that have a glyph for every one of `characters`."""
    return tuple(
        bundled.name
        for bundled in BUNDLED
        if all(open_typeface(bundled.name).has(character) for character in characters)
    )
