"""Fonts: a bundled one or a maker's own file, found, read, proved and opened as a typeface."""

from __future__ import annotations

import difflib
import hashlib
import logging
from collections.abc import Iterable, Mapping
from functools import lru_cache
from io import BytesIO
from pathlib import Path
from typing import Final

import uharfbuzz as hb

from applique.errors import Problem, Refusal, Where
from applique.language import Message, any_of, listed, message
from applique.typeset.bundled import BUNDLED, BundledFont, bundled_folder
from applique.typeset.proving import prove_font
from applique.typeset.typeface import PICTURES, Axis, CapKind, FontFacts, Typeface, pictures_only

__all__ = ["bundled_fonts_with", "font_digest", "open_typeface", "resolve_font", "typeface_from"]

# What fontTools finds odd in a font is logged, thousands of lines for a damaged one; a maker is told in our words.
logging.getLogger("fontTools").addHandler(logging.NullHandler())

_LARGEST_FONT: Final = 40_000_000
_AXIS_WORDS: Final[dict[str, str]] = {
    "weight": "wght",
    "width": "wdth",
    "slant": "slnt",
    "optical size": "opsz",
    "optical_size": "opsz",
}


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
                kind="font-name-no-text",
                what=message(
                    "the name of the font file {name} has signs that are no letters of any script",
                    name=f"{font!a}",
                ),
                fix=message("rename the file, and give its new name"),
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
            kind="no-such-font",
            what=message("there is no font “{name}”", name=font if len(font) < 400 else f"{font[:400]}…"),
            fix=message("did you mean “{name}”?", name=meant)
            if meant
            else message("the path of a font file, or one of {names}", names=any_of(names)),
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
        offered = [_range(axis.tag, axis) for axis in facts.axes]
        raise Refusal(
            Problem(
                kind="no-such-axis",
                what=message("{font} has no axis “{axis}”", font=facts.name, axis=word),
                where=Where(path=("axes",)),
                fix=message("its axes: {axes}", axes=listed(offered))
                if offered
                else message("take the axes out; this font has one weight only"),
            )
        )
    if not axis.least <= value <= axis.most:
        raise Refusal(
            Problem(
                kind="axis-out-of-range",
                what=message("{font} has no {axis} {value}", font=facts.name, axis=word, value=f"{value:g}"),
                where=Where(path=("axes",)),
                fix=message(
                    "{axis} from {least} to {most}", axis=word, least=f"{axis.least:g}", most=f"{axis.most:g}"
                ),
            )
        )
    return axis.tag, float(value)


def _range(name: str, axis: Axis) -> Message:
    return message("{axis} {least} to {most}", axis=name, least=f"{axis.least:g}", most=f"{axis.most:g}")


def _read_font(path: Path) -> bytes:
    try:
        if path.stat().st_size > _LARGEST_FONT:
            raise Refusal(
                Problem(
                    kind="font-too-large",
                    what=message("is too large for a font file"),
                    where=Where(file=str(path)),
                    fix=message("a font file under {most} MB", most=_LARGEST_FONT // 10**6),
                )
            )
        return path.read_bytes()
    except OSError as error:
        raise Refusal(
            Problem(
                kind="font-file-unreadable",
                what=message("cannot be read ({reason})", reason=str(error.strerror)),
                where=Where(file=str(path)),
                fix=message("check the name of the font file"),
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
                kind="font-in-archive",
                what=message("is a zip archive, no font"),
                where=Where(file=file_name),
                fix=message("unpack it and give the .ttf or .otf inside"),
            )
        )
    try:
        font = TTFont(BytesIO(data), fontNumber=0, lazy=True)
        if not any(tag in font for tag in ("glyf", "CFF ", "CFF2")) and any(tag in font for tag in PICTURES):
            raise Refusal(pictures_only(file_name))
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
                kind="no-font",
                what=message("is no font that can be read ({reason})", reason=type(error).__name__),
                where=Where(file=file_name),
                fix=message("the file again from where it came, as .ttf or .otf"),
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
            license=said(13),
            axes=axes,
            embedding=int(font["OS/2"].fsType) if "OS/2" in font else 0,
            units_per_em=int(font["head"].unitsPerEm),
        )
    except Exception as error:
        raise Refusal(
            Problem(
                kind="font-damaged",
                what=message("is a damaged font ({reason})", reason=type(error).__name__),
                where=Where(file=file_name),
                fix=message("the file again from where it came"),
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
