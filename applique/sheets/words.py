"""The words of the sheets: which method a sheet is for, how to use it, and the cautions."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from applique.errors import Notice
from applique.pattern import Pattern
from applique.units import as_length, format_number

__all__ = [
    "FREEZER_PAPER",
    "PEN_CAUTION",
    "Method",
    "from_center",
    "fusible_web",
    "notice_words",
    "ring_words",
    "rough_cut_words",
    "turn_words",
    "turned_words",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Method:
    """A way of working that a template file serves: its name, its one line on every page, and its steps."""

    subject: str
    line: str
    steps: tuple[str, ...]


FREEZER_PAPER: Final = Method(
    subject="templates, right way round",
    line="Right way round: for freezer paper on the right side of the fabric, shiny side down",
    steps=(
        "Print at 100 %. Measure both rules on this page; if one is off, see “print” in the design file.",
        "Trace the letters onto the dull side of freezer paper and cut them out on the line.",
        "Iron them, shiny side down, to the right side of the fabric, the arrow along the grain.",
        "Cut the fabric around them as your method asks: on the line, or with the turn-under you allow.",
        "The same sheets serve freezer paper on the wrong side, shiny side up. For the wrong side, "
        "shiny side down, print the mirror-image file instead.",
    ),
)


def fusible_web(pattern: Pattern) -> Method:
    """Tracing onto fusible web, cut out as roughly as the web was nested for."""
    return Method(
        subject="templates, mirror image",
        line="Mirror image: to trace onto the paper side of fusible web",
        steps=(
            "Print at 100 %. Measure both rules on this page; if one is off, see “print” in the design file.",
            "Lay the fusible web over a sheet, paper side up, and trace each letter as often as it says.",
            f"Cut the traced letters out {rough_cut_words(pattern)}.",
            "Fuse them to the wrong side of the fabric, the arrow along the grain, as the maker of the web says.",
            "Cut on the line. Seen from the right side of the fabric, the letters now read the right way round.",
        ),
    )


def rough_cut_words(pattern: Pattern) -> str:
    """How far outside its line a letter is cut out before it is fused."""
    room = pattern.design.fusible.rough_cut
    if not room:
        return "on the line"
    return f"roughly, about {as_length(room, pattern.design.units, denominator=16)} outside the line"


def notice_words(notice: Notice) -> str:
    """A notice in one line, with what to try where there is something."""
    return f"{notice.where}: {notice.what}." + (f" Try: {notice.fix}." if notice.fix else "")


PEN_CAUTION: Final = (
    "Heat-erasable ink can come back in the cold: test it on a scrap of this fabric, and follow the pen "
    "maker's instructions."
)


def turned_words(pattern: Pattern) -> tuple[str, ...]:
    """How the lines of a turned edge are used; nothing for raw edges."""
    if not any(template.turned for template in pattern.templates):
        return ()
    turn = as_length(pattern.design.sewing.turn_under, pattern.design.units, denominator=16)
    words = (
        f"Turned edges: the bold line is the finished edge, cut the freezer paper on it. The thin line {turn} "
        "outside it "
        "is the cut line of the cloth. Short lines across the turn-under are clips, little wedges are notches: cut "
        "them nearly to the edge, two threads short of it, then turn the cloth over the paper."
    )
    tucked = [template.text for template in pattern.templates if template.turned and template.turned.tucked]
    if not tucked:
        return (words,)
    return (
        words,
        f"Where {', '.join(tucked)} tucks under the next letter, the edge lies flat and is not turned.",
    )


def from_center(pattern: Pattern, place: float) -> str:
    """How far `place`, inches from the center line, is from it, and on which side of it."""
    words = as_length(abs(place), pattern.design.units, denominator=16)
    if words.number == 0:
        return "on the line"
    return f"{words} {'left' if place < 0 else 'right'}"


def turn_words(turn_deg: float) -> str:
    """How far something is turned, and which way."""
    return f"{format_number(abs(turn_deg), places=1)}° to the {'left' if turn_deg > 0 else 'right'}"


def ring_words(pattern: Pattern) -> tuple[str, ...]:
    """What a ring of fusible is and what it saves; nothing without one."""
    ring = pattern.design.fusible.ring
    saved = sum(template.ring_saves * template.count for template in pattern.templates)
    if ring is None or not saved:
        return ()
    whole = sum(template.area * template.count for template in pattern.templates)
    wide = as_length(ring, pattern.design.units, denominator=16)
    return (
        "Large letters stay soft with the middle of the web cut away: before you fuse, cut along the dashed "
        f"line {wide} "
        f"inside the edge and take the middle out. Of the web under the letters {saved / whole:.0%} comes away "
        f"({saved:.0f} square inches); it can serve small letters, and is not taken off what to buy.",
    )
