"""Letters that are fused and cut by a machine, in words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from typing import Final

from applique.language import Field, Message, listed, message, messages
from applique.pieces import Template
from applique.units import Units, as_length
from applique.words.cloth import side_by_side_said
from applique.words.instructions.sizes import by_said, largest_said
from applique.words.sheets import set_apart
from applique.yardage import SideBySide

__all__ = [
    "CHECKED",
    "ON_MAT",
    "WEB_UP",
    "WEEDED",
    "check_cut_said",
    "cut_files_said",
    "join_rectangles_said",
    "larger_said",
    "machine_cut_said",
    "measured_said",
    "on_mats_said",
    "too_large_said",
    "web_for_letters_said",
    "web_for_mats_said",
    "web_on_fabric_said",
    "web_size_said",
    "weed_said",
]

WEB_UP: Final = message("fusible side up")
CHECKED: Final = message("A letter on the mat as it is cut, in mirror image, with its width and height.")
ON_MAT: Final = message("Fabric on the mat with its web up, and a letter cut in mirror image.")
WEEDED: Final = message("The letter left on the mat while the fabric around it is peeled away.")


def web_size_said(size: tuple[Fraction, Fraction], units: Units) -> Message:
    """The width and height of a piece of web."""
    return by_said(size, units)


def web_for_letters_said(rough_cut: Fraction, units: Units, *, off_mats: bool) -> Message:
    """Which web is cut letter by letter; for those `off_mats` where others lie on one."""
    fields: dict[str, Field] = {"room": as_length(rough_cut, units, denominator=16)}
    match off_mats, bool(rough_cut):
        case True, True:
            return message(
                "Cut a rectangle of fusible web for each letter that lies on no mat, as large as the table of "
                "templates says: at least {room} larger than the letter on every side.",
                **fields,
            )
        case True, False:
            return message(
                "Cut a rectangle of fusible web for each letter that lies on no mat, as large as the table of "
                "templates says."
            )
        case False, True:
            return message(
                "Cut a rectangle of fusible web for each letter, as large as the table of templates says: at least "
                "{room} larger than the letter on every side.",
                **fields,
            )
    return message("Cut a rectangle of fusible web for each letter, as large as the table of templates says.")


def web_for_mats_said(mats: int) -> Message:
    """Which web is cut for so many mats."""
    return messages(
        "Cut a rectangle of fusible web for the mat, as large as the table says.",
        "Cut a rectangle of fusible web for each mat, as large as the table says.",
        mats,
    )


def join_rectangles_said(joined: Sequence[SideBySide], units: Units) -> Message:
    """How a rectangle wider than the web is made up."""
    return message(
        "The web is too narrow for some rectangles: {pieces}. On the fabric lay their straight edges so that they "
        "touch and neither lies on the other.",
        pieces=set_apart(side_by_side_said(one, units) for one in joined),
    )


def web_on_fabric_said() -> Message:
    """How fabric is made ready for a machine, once its web is laid out."""
    return message(
        "Fuse each rectangle where it lies, web down and paper up. Let it cool flat, cut the fabric apart "
        "along the edges of the web, then "
        "peel the paper off."
    )


def cut_files_said(mats: int) -> Iterator[Message]:
    """Which cut files are opened, and how."""
    yield message(
        "Open the mirrored ones of the cut files in the program of your cutting machine: the fabric lies on the mat "
        "fusible side up, so the letters are cut in mirror image. Import them at 100% and do not resize."
    )
    if mats:
        yield messages(
            "The letters are laid out on {count} mat, with its number in the name of the file.",
            "The letters are laid out on {count} mats, each with its number in the name of its file.",
            mats,
        )


def too_large_said(names: Iterable[str | Message]) -> Message:
    """What no mat holds."""
    return message(
        "Too large for the mat: {letters}. Trace these from the mirrored template pages onto the paper of their web. "
        "Fuse the whole rectangle, leave this paper on, cut web and fabric together on the line with scissors, and "
        "only then peel the paper off.",
        letters=listed(names),
    )


def larger_said(templates: Sequence[Template], units: Units) -> Message:
    """What is done with letters that somebody's mat does not hold."""
    return message(
        "A letter larger than your mat is cut by hand: trace it from the mirrored template pages onto the paper of its "
        "web. Fuse the whole rectangle, leave this paper on, cut web and fabric together on the line with scissors, "
        "and only then peel the paper off. For your mat: {largest}.",
        largest=largest_said(templates, units),
    )


def check_cut_said(template: Template, units: Units) -> Message:
    """What to measure before all letters are cut."""
    x0, y0, x1, y1 = template.ink
    return message(
        "Check the size by one letter: template {number}, {letter}, must measure {width} wide and {height} high.",
        number=template.number,
        letter=template.name,
        width=as_length(x1 - x0, units, denominator=16),
        height=as_length(y1 - y0, units, denominator=16),
    )


def measured_said(template: Template, units: Units) -> tuple[Message, Message]:
    """How wide and how high a letter is, as it stands beside it."""
    x0, y0, x1, y1 = template.ink
    across, up = (as_length(side, units, denominator=16) for side in (x1 - x0, y1 - y0))
    return message("{length}", length=across), message("{length}", length=up)


def machine_cut_said(*, in_mats: bool) -> Iterator[Message]:
    """How the machine cuts: in mats laid out by the pattern, or letter by letter."""
    if not in_mats:
        yield message(
            "Cut letter by letter: lay as many of the fused rectangles on the mat as it holds, and place each letter "
            "in the middle of its own."
        )
    yield message(
        "Lay the fabric on the mat fusible side up, straight with the grain, and smooth it down. Make a test cut "
        "on a scrap, set blade and pressure as the maker of the machine says, then cut as many of each as the "
        "table says."
    )


def on_mats_said() -> Message:
    """Where the fabric of a mat lies, whose cut files are mirrored."""
    return message(
        "Each rectangle goes into the lower right corner of its mat, where the mirrored file has its letters."
    )


def weed_said() -> Message:
    """How cut letters come off the mat."""
    return message(
        "Weed: peel away the fabric around the letters and in their holes, then lift each letter off the mat with "
        "a flat tool. Turned over, they read the right way round."
    )
