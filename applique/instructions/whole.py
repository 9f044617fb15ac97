"""All chapters, one after the other."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from applique.design import Method
from applique.instructions.before import before
from applique.instructions.book import Book
from applique.instructions.borders import borders
from applique.instructions.care import care, coloring
from applique.instructions.cover import cover, scale
from applique.instructions.cutting import cutting
from applique.instructions.finishing import finishing
from applique.instructions.letters import letters
from applique.instructions.needed import needed
from applique.instructions.placing import placing
from applique.instructions.quilting import quilting
from applique.instructions.stitching import stitching
from applique.instructions.trimming import trimming
from applique.instructions.values import Chapter, Edition, Instructions
from applique.pattern import Pattern

__all__ = ["instructions_of"]

_CHAPTERS: Final[tuple[Callable[[Book], Chapter | None], ...]] = (
    cover,
    scale,
    needed,
    before,
    cutting,
    letters,
    placing,
    stitching,
    trimming,
    borders,
    quilting,
    finishing,
    coloring,
    care,
)


def instructions_of(
    pattern: Pattern, *, edition: Edition = Edition.MAKER, method: Method | None = None
) -> Instructions:
    """How the quilt of `pattern` is made, for `edition`, in `method` or else that of the design."""
    chosen = pattern.design.sewing.method if method is None else method
    book = Book(pattern, chosen, edition)
    chapters = tuple(chapter for write in _CHAPTERS if (chapter := write(book)) is not None)
    return Instructions(method=chosen, edition=edition, chapters=chapters)
