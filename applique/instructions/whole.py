"""All chapters, one after the other."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Final

from applique.design import Method, PaperSize, WhenStitched
from applique.instructions.before import before
from applique.instructions.book import Book, OtherWay
from applique.instructions.borders import borders
from applique.instructions.care import care, coloring
from applique.instructions.cover import cover, scale
from applique.instructions.cutting import cutting
from applique.instructions.finishing import finishing
from applique.instructions.layering import layering
from applique.instructions.letters import letters
from applique.instructions.needed import needed
from applique.instructions.placing import placing
from applique.instructions.quilting import quilting
from applique.instructions.setting import setting
from applique.instructions.stitching import stitching
from applique.instructions.trimming import trimming
from applique.instructions.values import Block, Cautions, Chapter, Edition, Instructions, Said
from applique.paging import TemplateSheets
from applique.pattern import Pattern

__all__ = ["instructions_of"]

_Write = Callable[[Book], Chapter | None]
_FIRST: Final[tuple[_Write, ...]] = (cover, scale, needed, before, cutting, letters, placing)
_SEWN: Final[dict[WhenStitched, tuple[_Write, ...]]] = {
    WhenStitched.PANEL: (stitching, trimming, setting, borders, layering, quilting),
    WhenStitched.TOP: (trimming, setting, borders, stitching, layering, quilting),
    WhenStitched.QUILTING: (trimming, setting, borders, layering, stitching, quilting),
}
"""From the letters in their places to the quilted quilt, by when they are stitched."""
_LAST: Final[tuple[_Write, ...]] = (finishing, coloring, care)


def instructions_of(
    pattern: Pattern,
    *,
    edition: Edition = Edition.MAKER,
    method: Method | None = None,
    papers: Mapping[PaperSize, TemplateSheets] | None = None,
    other_way: OtherWay | None = None,
) -> Instructions:
    """How the quilt of `pattern` is made, for `edition`, in `method` or else that of the design.

    `papers` are the template sheets for whoever may print on any of them; those of `pattern` if left out. `other_way`
    is the same quilt in the other method that whoever sews may choose.
    """
    chosen = pattern.design.sewing.method if method is None else method
    sheets = papers or {pattern.design.paper.size: pattern.sheets}
    book = Book(pattern, chosen, edition, sheets, other_way)
    sewn = _SEWN[pattern.stitching.when]
    if not pattern.quilt.layered:
        sewn = tuple(write for write in sewn if write not in (layering, quilting))
    writers = (*_FIRST, *sewn, *_LAST)
    chapters = tuple(_cautioned_once(chapter) for write in writers if (chapter := write(book)) is not None)
    return Instructions(method=chosen, edition=edition, chapters=chapters)


def _cautioned_once(chapter: Chapter) -> Chapter:
    """The chapter with each caution before the first step that it is about: what is said too often is read no more."""
    blocks: list[Block] = []
    said: set[Said] = set()
    for block in chapter.blocks:
        if isinstance(block, Cautions):
            items = tuple(item for item in block.items if item not in said)
            said.update(items)
            if items:
                blocks.append(replace(block, items=items))
        else:
            blocks.append(block)
    return replace(chapter, blocks=tuple(blocks))
