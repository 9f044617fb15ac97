"""What stands on every sheet, and what more than one of them says."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction
from functools import reduce
from typing import Final

from applique.design import PaperSize, Stitch
from applique.errors import Notice, Where
from applique.language import Field, Measure, Message, Unit, listed, message, messages
from applique.units import Units, as_length

__all__ = [
    "CHECK_FIRST",
    "PAPERS",
    "SMALL_PICTURE",
    "STITCHES",
    "TAKE_CARE",
    "TRUE_SCALE",
    "alike_said",
    "angle_said",
    "continued_said",
    "file_title",
    "from_center",
    "grouped_said",
    "inch_mark",
    "letters_said",
    "millimeter_mark",
    "more_notices_said",
    "notice_said",
    "noticed_at",
    "page_of",
    "pieces_said",
    "rule_caption",
    "set_apart",
    "table_said",
    "turn_said",
]

SMALL_PICTURE: Final = message("Small picture, not a template")
TRUE_SCALE: Final = message("print at 100%, not “fit to page”")
TAKE_CARE: Final = message("Take care")
CHECK_FIRST: Final = message("Check before you cut")
PANEL: Final = message("Panel")
PAPERS: Final = {
    PaperSize.LETTER: message("letter paper"),
    PaperSize.A4: message("A4 paper"),
    PaperSize.LEGAL: message("legal paper"),
    PaperSize.TABLOID: message("tabloid paper"),
    PaperSize.A3: message("A3 paper"),
}
_MOST_PLACES: Final = 6
STITCHES: Final = {
    Stitch.STRAIGHT: message("straight"),
    Stitch.ZIGZAG: message("zigzag"),
    Stitch.BLANKET: message("blanket"),
    Stitch.SATIN: message("satin"),
}


def set_apart(items: Iterable[Message]) -> Message:
    """`items`, at least one, one after the other with semicolons between them; they may have commas of their own."""
    return reduce(lambda said, item: message("{items}; {item}", items=said, item=item), items)


def file_title(title: str, subject: str) -> Message:
    """What a reader of PDFs calls the file: the quilt, and what the file is of it."""
    return message("{title}: {subject}", title=title, subject=subject)


def continued_said(section: Field) -> Message:
    """What stands above a section that goes on from the page before."""
    return message("{section}, continued", section=section)


def page_of(page: int, pages: int) -> Message:
    """The page number in the header."""
    return message("page {page} of {pages}", page=str(page), pages=str(pages))


def inch_mark(inches: int) -> Measure:
    """The last number of a rule's inches, with its unit."""
    return Measure(number=Fraction(inches), unit=Unit.INCH, as_fraction=True)


def millimeter_mark(millimeters: int) -> Measure:
    """The last number of a rule's millimeters, with its unit."""
    return Measure(number=Fraction(millimeters), unit=Unit.MILLIMETER, as_fraction=False)


def rule_caption(inches: int, millimeters: int) -> Message:
    """What a rule is for and how long each of its two scales is."""
    return message(
        "Measure this rule before you cut: inch scale {inches}, millimeter scale {millimeters}",
        inches=inch_mark(inches),
        millimeters=millimeter_mark(millimeters),
    )


def noticed_at(where: Where) -> Field:
    """The place of a notice, in words that stand on a sheet."""
    return PANEL if where == Where.key("panel") else where.as_field()


def notice_said(notice: Notice) -> Message:
    """A notice in one line, with its place if it has one and what to try where there is something."""
    what, fix = notice.what, notice.fix
    if notice.where and fix:
        return message("{where}: {what}. Try: {fix}.", where=noticed_at(notice.where), what=what, fix=fix)
    if notice.where:
        return message("{where}: {what}.", where=noticed_at(notice.where), what=what)
    if fix:
        return message("{what}. Try: {fix}.", what=what, fix=fix)
    return message("{what}.", what=what)


def alike_said(notices: Iterable[Notice]) -> Iterator[Message]:
    """The notices in full, those that say the same of several places once, behind all of these."""
    places: dict[tuple[str, Message, Message], list[Field]] = {}
    for notice in notices:
        found = places.setdefault((notice.kind, notice.what, notice.fix), [])
        if notice.where:
            found.append(noticed_at(notice.where))
    for (_, what, fix), wheres in places.items():
        where = listed(list(dict.fromkeys(wheres)))
        if wheres and fix:
            yield message("{where}: {what}. Try: {fix}.", where=where, what=what, fix=fix)
        elif wheres:
            yield message("{where}: {what}.", where=where, what=what)
        elif fix:
            yield message("{what}. Try: {fix}.", what=what, fix=fix)
        else:
            yield message("{what}.", what=what)


def grouped_said(notices: Iterable[Notice]) -> Iterator[Message]:
    """The notices, those of one kind together: the first in full, the others by their places, or counted."""
    groups: dict[str, list[Notice]] = {}
    for notice in notices:
        groups.setdefault(notice.kind, []).append(notice)
    for first, *others in groups.values():
        places = list(dict.fromkeys(noticed_at(notice.where) for notice in others if notice.where))
        if not others:
            yield notice_said(first)
        elif 0 < len(places) <= _MOST_PLACES:
            yield messages(
                "{notice} {count} more like it: {places}.",
                "{notice} {count} more like it: {places}.",
                len(others),
                notice=notice_said(first),
                places=listed(places),
            )
        else:
            yield messages(
                "{notice} {count} more like it, listed in {file}.",
                "{notice} {count} more like it, listed in {file}.",
                len(others),
                notice=notice_said(first),
                file="summary.md",
            )


def more_notices_said(count: int) -> Message:
    """That a list of notices is cut short, and where all of it is."""
    return messages(
        "{count} more to check, listed in {file}.",
        "{count} more to check, listed in {file}.",
        count,
        file="summary.md",
    )


def pieces_said(count: int) -> Message:
    """How many pieces of cloth."""
    return messages("{count} piece", "{count} pieces", count)


def letters_said(count: int, *, pieces: int, joined: bool) -> Message:
    """How many letters there are to cut, and in how many `pieces` where some are in several parts; with `joined` some
    of them are cut as one, so that it is pieces."""
    if joined:
        return pieces_said(pieces)
    if pieces > count:
        return messages(
            "{count} letter in {pieces}", "{count} letters in {pieces}", count, pieces=pieces_said(pieces)
        )
    return messages("{count} letter", "{count} letters", count)


def from_center(place: float, units: Units) -> Message:
    """How far `place`, inches from the center line, is from it, and on which side of it."""
    length = as_length(abs(place), units, denominator=16)
    if length.number == 0:
        return message("on center")
    if place < 0:
        return message("{length} left", length=length)
    return message("{length} right", length=length)


def table_said(where: Where) -> str | Message:
    """What a column of rows shows of a table of the design: the number of a row, the name and number of another."""
    return where.as_field() if where.row is None else str(where.row)


def angle_said(turn_deg: float) -> Message:
    """How far something is turned, whichever way."""
    return message("{angle}", angle=_angle(turn_deg))


def _angle(turn_deg: float) -> Measure:
    return Measure(number=round(Fraction(abs(turn_deg)), 1), unit=Unit.DEGREE, as_fraction=False)


def turn_said(turn_deg: float) -> Message:
    """How far something is turned, and which way."""
    angle = _angle(turn_deg)
    if turn_deg > 0:
        return message("{angle} to the left", angle=angle)
    return message("{angle} to the right", angle=angle)
