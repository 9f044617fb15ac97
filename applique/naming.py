"""Names of files that people can read and every system takes, and those that none can have."""

from __future__ import annotations

import re
import unicodedata
from pathlib import Path
from typing import Final

from applique.errors import Problem, Refusal, Where
from applique.language import message

__all__ = ["file_place", "readable_name", "refuse_no_name", "sign_name"]

_NO_NAME: Final = re.compile("[\x00\ud800-\udc7f\udd00-\udfff]")
"""What no name can hold; U+DC80 to U+DCFF stand for bytes that one can (PEP 383)."""

_SPOKEN: Final = {"&": "and", "+": "plus", "@": "at", "%": "percent", "=": "equals", "#": "number"}
"""Signs that are read aloud in the middle of words."""
_ALONE: Final = {**_SPOKEN, ".": "period", "'": "apostrophe", "’": "apostrophe", "-": "hyphen"}
_VARIATION_SELECTORS: Final = range(0xFE00, 0xFE10)
"""They choose the drawing of the sign before them (Unicode Standard, chapter 23, from memory)."""
_UNDIVIDED: Final = {"ß": "ss", "ẞ": "SS", "Æ": "AE", "æ": "ae", "Œ": "OE", "œ": "oe", "Ø": "O", "ø": "o", "Ł": "L",
                     "ł": "l", "Đ": "D", "đ": "d", "Þ": "Th", "þ": "th", "ı": "i"}  # fmt: skip
"""Latin letters that Unicode does not take apart, in plain ones: common practice, no source."""


def readable_name(text: str, *, longest: int) -> str:
    """`text` as part of a file name of at most `longest` characters; empty where nothing in it is a letter or figure.

    Words are joined by hyphens; those that no longer fit are left out whole. Latin letters lose their accents: older
    archives and disks spell an accented letter in two ways, and a name must come back as it went out. Letters of other
    scripts stay themselves. `&` and its like are said as words, other signs are left out.

    Source:
        Unicode Standard Annex 15 (normalization forms): two spellings of one letter.
    """
    words = "".join(_readable(sign) for sign in _plain(text)).split()
    name = _whole_words("-".join(words), longest)
    return name if any(unicodedata.category(sign)[0] in "LN" for sign in name) else ""


def sign_name(text: str, *, longest: int) -> str:
    """The names of the signs of `text` in words, such as `question-mark`; empty where none is to be seen.

    A sign without a name is called by its code point.
    """
    return _whole_words("-".join(_name_of(sign) for sign in text if _is_seen(sign)), longest)


def _whole_words(name: str, longest: int) -> str:
    """The words of `name` that fit in `longest` characters; the start of the first where not even that fits."""
    if len(name) <= longest:
        return name
    return name[: longest + 1].rpartition("-")[0].rstrip("-") or name[:longest]


def _name_of(sign: str) -> str:
    known = _ALONE.get(sign) or unicodedata.name(sign, f"sign {ord(sign):04x}").lower()
    return "-".join("".join(ch if ch.isalnum() else " " for ch in known).split())


def _is_seen(sign: str) -> bool:
    return not (
        sign.isspace() or unicodedata.category(sign) in {"Cf", "Cc"} or ord(sign) in _VARIATION_SELECTORS
    )


def _plain(text: str) -> str:
    """`text` composed, its Latin letters without accents."""
    apart = unicodedata.normalize("NFKD", "".join(_UNDIVIDED.get(sign, sign) for sign in text))
    kept: list[str] = []
    latin = False
    for sign in apart:
        if unicodedata.category(sign) != "Mn":
            latin = unicodedata.name(sign, "").startswith("LATIN")
        elif latin:
            continue
        kept.append(sign)
    return unicodedata.normalize("NFC", "".join(kept))


def _readable(sign: str) -> str:
    """What a sign gives to a name: itself, a word, a space between words, or nothing."""
    if sign in _SPOKEN:
        return f" {_SPOKEN[sign]} "
    if sign in "'’ʼ" or unicodedata.category(sign) in {"Cf", "Cc", "Cn", "Co", "Cs"}:
        return " " if sign.isspace() else ""
    if ord(sign) in _VARIATION_SELECTORS:
        return ""
    return sign if unicodedata.category(sign)[0] in "LMN" else " "


def file_place(path: Path) -> Where:
    """A file as a place; what its name cannot hold, and nobody can print, is written as `\\x00` or `\\ud800`."""
    name = str(path)
    return Where(file=ascii(name)[1:-1] if _NO_NAME.search(name) else name)


def refuse_no_name(path: Path) -> None:
    """Refuse a name that no file can have.

    Raises:
        Refusal: it holds NUL, or half of a sign; whoever opened it would say so in words of its own, or not at all.
    """
    found = _NO_NAME.search(str(path))
    if found is None:
        return
    raise Refusal(
        Problem(
            kind="no-file-name",
            what=message("is no name of a file: it holds {sign}", sign=f"U+{ord(found[0]):04X}"),
            where=file_place(path),
            fix=message("another name"),
        )
    )
