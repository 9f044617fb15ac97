"""The cover in words."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

from applique.design import BorderKind, Corners, Method, Stitch
from applique.language import Message, listed, message
from applique.quilt.borders import BorderPlan
from applique.quilt.finishing import BindingPlan
from applique.quilt.strips import CutKind
from applique.quilt.whole import QuiltPlan
from applique.units import Units, as_size_both
from applique.words.blocks import made_said
from applique.words.methods import METHODS
from applique.words.quilt import class_said

__all__ = [
    "CONTENTS",
    "COVER",
    "GUIDE",
    "LABEL",
    "SCALE",
    "SUBJECT",
    "TEMPLATES",
    "TRUE_PAGES",
    "byline_said",
    "chapter_said",
    "contents_said",
    "finished_said",
    "on_pages_said",
    "techniques_said",
]

SUBJECT: Final = message("pattern")
COVER: Final = message("Cover")
CONTENTS: Final = message("Where to find it")
GUIDE: Final = message("Placement guide")
LABEL: Final = message("Label")
TEMPLATES: Final = message("Templates")
TRUE_PAGES: Final = message("print these at 100%")
SCALE: Final = message("How big it turns out")
_STITCHED: Final = {
    Stitch.STRAIGHT: message("straight stitch"),
    Stitch.ZIGZAG: message("zigzag"),
    Stitch.BLANKET: message("blanket stitch"),
    Stitch.SATIN: message("satin stitch"),
}
_BORDERS: Final = {
    BorderKind.STRIP: message("strip borders"),
    BorderKind.SQUARES: message("borders of squares"),
    BorderKind.RECTANGLES: message("borders of rectangles"),
}


def chapter_said(title: str, steps: tuple[int, int] | None) -> str | Message:
    """A chapter and the first and last of its steps, if it has any."""
    if steps is None:
        return title
    first, last = steps
    if first == last:
        return message("{title} · step {number}", title=title, number=first)
    return message("{title} · steps {first}–{last}", title=title, first=first, last=last)


def contents_said(title: str, steps: tuple[int, int] | None, note: str) -> str | Message:
    """A line of the contents: what, which steps, and what else there is to say of its pages."""
    chapter = chapter_said(title, steps)
    return message("{line}: {note}", line=chapter, note=note) if note else chapter


def on_pages_said(first: int, last: int) -> Message:
    """At the end of a line of the contents, on which pages that is."""
    if first == last:
        return message("page {page}", page=str(first))
    return message("pages {first}–{last}", first=str(first), last=str(last))


def byline_said(name: str, skill: str) -> str | Message:
    """Who the pattern is by and for whom; empty where neither is known."""
    if name and skill:
        return message("by {name} · {skill}", name=name, skill=skill)
    return message("by {name}", name=name) if name else skill


def finished_said(quilt: QuiltPlan, units: Units) -> Message:
    """How large the quilt is, or the blocks."""
    if quilt.apart:
        return made_said(quilt, units)
    across, down = (as_size_both(side, units) for side in quilt.finished)
    return message(
        "Finished size {width} wide and {height} high, {size}.",
        width=across,
        height=down,
        size=class_said(quilt.size_class, units),
    )


def techniques_said(
    method: Method, stitches: Iterable[Stitch], borders: Sequence[BorderPlan], binding: BindingPlan | None
) -> Message:
    """What somebody who sews it has to know or to learn."""
    return message(
        "Techniques: {techniques}.",
        techniques=listed(
            (
                METHODS[method],
                *(_STITCHED[stitch] for stitch in stitches),
                *dict.fromkeys(_BORDERS[border.kind] for border in borders),
                *([message("mitered corners")] if any(b.corners is Corners.MITERED for b in borders) else []),
                *([_binding(binding)] if binding is not None else []),
            )
        ),
    )


def _binding(binding: BindingPlan) -> Message:
    return (
        message("bias binding") if binding.cut.kind is CutKind.BIAS_SQUARE else message("double-fold binding")
    )
