"""What a maker has of a fabric, read from her own words: lengths, fat quarters, pieces, strips and squares.

Lengths are exact `Fraction` inches as they lie in the stash, before washing and squaring up.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from typing import Annotated, Final

from pydantic import PlainSerializer, PlainValidator, WithJsonSchema

from applique.design.entries import WIDEST_ROLL, as_written, refused, short
from applique.errors import Problem, Refusal
from applique.language import message
from applique.units import LONGEST, SHORTEST, parse_length

__all__ = ["Held", "HeldKind", "Stash", "read_stash", "stash_text"]


class HeldKind(StrEnum):
    """What cloth of a stash is like: off the bolt, a piece of stated sides, or cut ready for use."""

    LENGTH = "length"
    PIECE = "piece"
    STRIPS = "strips"
    SQUARES = "squares"


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """Pieces of one kind in the stash, in the maker's own `words`.

    Each of the `count` pieces has `length` along the selvage and `width` across; None is the width of the fabric.
    A strip lies across, so its `length` is what makers call its width. `washed` says that it was washed before.
    """

    words: str
    kind: HeldKind
    count: int
    length: Fraction
    width: Fraction | None
    washed: bool

    @property
    def has_selvages(self) -> bool:
        """Whether it reaches from selvage to selvage; pieces, fat quarters and squares may have none."""
        return self.width is None

    @property
    def is_cut_ready(self) -> bool:
        """Whether it was sold cut to size: such is neither washed nor squared up (common practice, no source)."""
        return self.kind in (HeldKind.STRIPS, HeldKind.SQUARES)


_FAT: Final = {"quarter": (Fraction(18), Fraction(21)), "eighth": (Fraction(9), Fraction(21))}
"""Length and usable width; sold as 18 and 9 by 22 in: common practice, docs/sources.md, precuts."""
_STRIP: Final = Fraction(5, 2)
_IN_ROLL: Final = {_STRIP: 40}
"""Strips in a roll, by their width; they are as long as the fabric is wide. About 40: common practice,
docs/sources.md, precuts."""
_IN_PACK: Final = {Fraction(5): 42, Fraction(10): 42}
"""Squares in a pack, by their side: common practice, docs/sources.md, precuts."""
_MOST: Final = 999
"""Pieces in the stash of one fabric."""
_LONGEST: Final = 400

_COUNTS: Final = {
    "a dozen": 12, "a couple of": 2, "a pair of": 2, "an": 1, "a": 1, "one": 1, "two": 2, "three": 3, "four": 4,
    "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9, "ten": 10, "eleven": 11, "twelve": 12,
}  # fmt: skip
_PARTS: Final = {"half": "1/2", "third": "1/3", "quarter": "1/4", "eighth": "1/8"}
_SINGLE: Final = str.maketrans(
    {"½": " 1/2", "⅓": " 1/3", "⅔": " 2/3", "¼": " 1/4", "¾": " 3/4", "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8",
     "⅞": " 7/8", "⁄": "/", "\u00a0": " "}
)  # fmt: skip
_BIG: Final = r"(?:yards?|yds?|met(?:er|re)s?|m)"
_N: Final = rf"(?:{'|'.join(_COUNTS)}|\d+)"
_PART: Final = rf"(?:{'|'.join(_PARTS)})"
_BETWEEN: Final = re.compile(
    r"(\s+and\s+|\s+plus\s+|\s*[;+&]\s*(?:and\s+)?|\s*,\s+(?:and\s+)?)", re.IGNORECASE
)
_NUMBER_ALONE: Final = re.compile(_N, re.IGNORECASE)
_WASHED: Final = re.compile(r"\(?(?:pre-?)?washed\)?", re.IGNORECASE)
_PART_ALONE: Final = re.compile(rf"an?\s+{_PART}(?:\s+{_WASHED.pattern})?", re.IGNORECASE)
_SPOKEN: Final[tuple[tuple[re.Pattern[str], str], ...]] = (
    (re.compile(r"\s+(?:of\s+(?:it|this|(?:the\s+)?(?:fabric|cloth))|left(?:\s+over)?)$"), ""),
    (re.compile(rf"^({_N})\sand\san?\s({_PART})\s"), r"\1 <\2> "),
    (re.compile(rf"^({_N})\s({_BIG})\sand\san?\s({_PART})$"), r"\1 <\3> \2"),
    (re.compile(rf"^(?:an?\s)?({_PART})\s(?:of\s)?(?:an?\s)?({_BIG})$"), r"<\1> \2"),
    (re.compile(rf"^(?:three|3)[\s-]quarters\sof\san?\s({_BIG})$"), r"3/4 \1"),
    (re.compile(rf"^(?:two|2)[\s-]thirds\sof\san?\s({_BIG})$"), r"2/3 \1"),
    (re.compile(rf"^(\d+/\d+)\s(?:of\s)?an?\s({_BIG})$"), r"\1 \2"),
)
"""Ways of speech and what they come to; a part in <> is written as a number afterwards."""


class _CountMissing(Exception):  # noqa: N818 (it never leaves this module)
    """It says of what, but not how many."""


def read_stash(text: str) -> tuple[Held, ...]:
    """What `text` says there is, in its order; empty for no words.

    Reads a length of the fabric (`1 1/2yd`, `60cm`, `half a yard`), pieces (`2 half yards`, `3 pieces 18in x 21in`,
    along the selvage first), `2 fat quarters`, strips and squares (`20 strips 2 1/2in wide`, `30 squares 5in`), rolls
    and packs of these (`a roll of 2 1/2in strips`), and any of them joined by "and", `+`, `;` or a comma. `washed`
    beside one says so.

    Raises:
        Refusal: words that say none of this, no count where one is needed, more than anybody keeps.
    Source:
        Sizes and counts of precuts: common practice, docs/sources.md, precuts.
    """
    if len(text) > _LONGEST:
        raise Refusal(_unreadable(text))
    held = tuple(_read(words) for words in _items(" ".join(text.split())))
    if sum(one.count for one in held) > _MOST:
        raise Refusal(_too_much(text))
    return held


def stash_text(held: Iterable[Held]) -> str:
    """All of `held` as one text that `read_stash` reads back."""
    return " and ".join(one.words for one in held)


def _items(text: str) -> list[str]:
    """`text` taken apart where one thing ends and the next begins, not inside "one and a half yards"."""
    items: list[str] = []
    parts = ["", *_BETWEEN.split(text)]
    for between, part in zip(parts[::2], parts[1::2], strict=True):
        inside = between.strip().lower() == "and" and bool(items)
        if items and _WASHED.fullmatch(part):
            items[-1] = f"{items[-1]} {part}"
        elif inside and (_NUMBER_ALONE.fullmatch(items[-1]) or _PART_ALONE.fullmatch(part)):
            items[-1] = f"{items[-1]} and {part}"
        else:
            items.append(part)
    return items if any(items) else []


def _read(words: str) -> Held:
    """One thing of a stash."""
    plain = " ".join(words.lower().translate(_SINGLE).split())
    unwashed, washings = re.subn(rf"(?:^|\s+){_WASHED.pattern}(?:\s+|$)", " ", plain)
    try:
        found = _found(_spelled(unwashed.strip()))
    except _CountMissing:
        raise Refusal(_uncounted(words)) from None
    if found is None or washings > 1:
        raise Refusal(_unreadable(words))
    kind, count, length, width = found
    if not (
        0 < count <= _MOST
        and SHORTEST <= length <= LONGEST
        and (width is None or SHORTEST <= width <= WIDEST_ROLL)
    ):
        raise Refusal(_too_much(words) if count else _unreadable(words))
    return Held(words=words, kind=kind, count=count, length=length, width=width, washed=bool(washings))


def _spelled(plain: str) -> str:
    """`plain` with its numbers in figures."""
    for spoken, written in _SPOKEN:
        plain = spoken.sub(written, plain)
    plain = re.sub(r"<(\w+)>", lambda match: _PARTS[match[1]], plain)
    return re.sub(rf"(^|\bof )({'|'.join(_COUNTS)}) ", lambda match: f"{match[1]}{_COUNTS[match[2]]} ", plain)


_Found = tuple[HeldKind, int, Fraction, Fraction | None]


def _found(text: str, *, packed: bool = False) -> _Found | None:
    """What `text` says in figures: the kind, how many, length along the selvage and width; None if that is unclear.

    In a roll or pack (`packed`) the usual count goes without saying.

    Raises:
        _CountMissing: it does not say how many.
    """
    if (length := _length(text)) is not None:
        return HeldKind.LENGTH, 1, length, None
    if (sides := _sides(text)) is not None:
        return HeldKind.PIECE, 1, *sides
    for pattern, reading in _FORMS:
        if (match := pattern.fullmatch(text)) is not None:
            return reading(match, packed)
    return None


def _length(text: str) -> Fraction | None:
    try:
        length = parse_length(text)
    except Refusal:
        return None
    return length if length > 0 else None


def _sides(text: str, *, bare: bool = False) -> tuple[Fraction, Fraction] | None:
    """Two sides, each with its unit; where `bare`, the first may go by the unit of the second."""
    first, by, second = re.sub(r"\s*(?:×|x|by)\s*", "|", text).partition("|")
    unit = re.search(r"[^\d\s./,|-]+$", second)
    length, width = _length(first), _length(second)
    if length is None and bare and unit is not None:
        length = _length(f"{first} {unit[0]}")
    return (length, width) if by and length is not None and width is not None else None


def _fat(match: re.Match[str], _: bool) -> _Found:
    return HeldKind.PIECE, _count(match), *_FAT[match["part"] or "quarter"]


def _parts(match: re.Match[str], _: bool) -> _Found:
    return (
        HeldKind.LENGTH,
        int(match["count"]),
        parse_length(f"{_PARTS[match['part']]} {match['unit']}"),
        None,
    )


def _pieces(match: re.Match[str], _: bool) -> _Found | None:
    if (length := _length(match["size"])) is not None:
        return HeldKind.LENGTH, _count(match), length, None
    sides = _sides(match["size"], bare=True)
    return (HeldKind.PIECE, _count(match), *sides) if sides is not None else None


def _strips(match: re.Match[str], packed: bool) -> _Found | None:
    count, size = _counted(match)
    length, width = _sides(size, bare=True) or (_length(size), None)
    if length is None:
        return None
    return HeldKind.STRIPS, _either(count, _IN_ROLL.get(length) if packed else None), length, width


def _squares(match: re.Match[str], packed: bool) -> _Found | None:
    count, size = _counted(match)
    side = _length(size)
    sides = (side, side) if side is not None else _sides(size, bare=True)
    if sides is None or sides[0] != sides[1]:
        return None
    return HeldKind.SQUARES, _either(count, _IN_PACK.get(sides[0]) if packed else None), *sides


def _rolls(match: re.Match[str], _: bool) -> _Found:
    return HeldKind.STRIPS, _count(match) * _IN_ROLL[_STRIP], _STRIP, None


def _packs(match: re.Match[str], _: bool) -> _Found | None:
    inside = _found(match["size"], packed=True)
    if inside is None or inside[0] is HeldKind.LENGTH:
        return None
    kind, count, length, width = inside
    return kind, _count(match) * count, length, width


def _counted(match: re.Match[str]) -> tuple[int | None, str]:
    """How many, and of what size; the size comes before the name or behind it."""
    size, count = match["size"], match.groupdict().get("count")
    if count is None and _length(size) is None and (inner := re.fullmatch(r"(\d{1,9}) (.+)", size)):
        return int(inner[1]), inner[2]
    return (int(count) if count else None), size


def _count(match: re.Match[str]) -> int:
    """How many; one that is named in the singular needs no count."""
    return _either(int(match["count"]) if match["count"] else None, None if match["many"] else 1)


def _either(count: int | None, default: int | None) -> int:
    found = default if count is None else count
    if found is None:
        raise _CountMissing
    return found


_HOW_MANY: Final = r"(?:(?P<count>\d{1,9})\s)?"
_FORMS: Final[
    tuple[tuple[re.Pattern[str], Callable[[re.Match[str], bool], _Found | None]], ...]
] = (
    (re.compile(rf"{_HOW_MANY}(?:fat[\s-](?P<part>quarter|eighth)|fq)(?P<many>s?)"), _fat),
    (re.compile(rf"(?P<count>\d{{1,9}})\s(?P<part>{_PART})[\s-](?P<unit>{_BIG})(?:\s(?:pieces?|cuts?))?"), _parts),
    (re.compile(rf"{_HOW_MANY}(?:piece|scrap|remnant|length|cut)(?P<many>s?)(?:\sof)?\s(?P<size>.+)"), _pieces),
    (re.compile(rf"{_HOW_MANY}strip[\s-]roll(?P<many>s?)"), _rolls),
    (re.compile(rf"{_HOW_MANY}roll(?P<many>s?)\sof\sstrips"), _rolls),
    (re.compile(rf"{_HOW_MANY}(?:roll|pack|packet|bundle|stack|pile)(?P<many>s?)\sof\s(?P<size>.+)"), _packs),
    (re.compile(rf"{_HOW_MANY}strips?(?:\sof)?\s(?P<size>.+?)(?:\swide)?"), _strips),
    (re.compile(r"(?P<size>.+?)(?:\swide)?\sstrips?"), _strips),
    (re.compile(rf"{_HOW_MANY}squares?(?:\sof)?\s(?P<size>.+)"), _squares),
    (re.compile(r"(?P<size>.+?)\ssquares?"), _squares),
)  # fmt: skip
"""How each thing is said, and what makes of it what it is; the first that fits counts."""


def _unreadable(words: str) -> Problem:
    return Problem(
        kind="unknown-stash",
        what=message("“{value}” isn't fabric I can read", value=short(words)),
        fix=message(
            'such as "1 1/2yd", "2 fat quarters", "3 pieces 18in x 21in", "20 strips 2 1/2in wide", '
            '"a roll of 2 1/2in strips" or "2 packs of 10in squares", with "and" between'
        ),
    )


def _uncounted(words: str) -> Problem:
    return Problem(
        kind="stash-without-count",
        what=message("“{value}” doesn't say how many there are", value=short(words)),
        fix=message('a number with it, such as "20 strips 2 1/2in wide" or "30 squares 5in"'),
    )


def _too_much(words: str) -> Problem:
    return Problem(
        kind="stash-out-of-bounds",
        what=message("“{value}” is more fabric than I can plan with", value=short(words)),
        fix=message(
            "at most {most} pieces of a fabric, each from 1 mm to 100 m long and up to 10 m wide", most=_MOST
        ),
    )


def _stash(value: object) -> tuple[Held, ...]:
    """What the design file says, as one text or a list of texts; what is read already stays."""
    if isinstance(value, tuple) and all(isinstance(one, Held) for one in value):
        return value
    texts = [
        text for text in (value if isinstance(value, list | tuple) else [value]) if isinstance(text, str)
    ]
    if len(texts) != (len(value) if isinstance(value, list | tuple) else 1):
        raise refused(_unreadable(as_written(value)))
    try:
        held = tuple(one for text in texts for one in read_stash(text))
    except Refusal as refusal:
        raise refused(refusal.problems[0]) from None
    if sum(one.count for one in held) > _MOST:
        raise refused(_too_much(as_written(value)))
    return held


Stash = Annotated[
    tuple[Held, ...],
    PlainValidator(_stash),
    PlainSerializer(stash_text, return_type=str),
    WithJsonSchema({"anyOf": [{"type": "string"}, {"type": "array", "items": {"type": "string"}}]}),
]
"""What a maker already has of a fabric."""
