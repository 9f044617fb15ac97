"""What all chapters share: the pattern, for whom and in which method it is written, and the running number of steps."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from copy import copy
from dataclasses import dataclass
from itertools import count
from typing import Final

from applique.cautions import LOOSE_MAKERS, MAKERS, WORN_MAKERS
from applique.cloth import UseKind, Widths
from applique.cutting.diagram import letters_of
from applique.design import Method, PaperSize
from applique.drawings import Drawing
from applique.drawings.key import USUAL, Tints, keyed
from applique.instructions.values import Chip, Edition, OnScreen, Said, Step, Tick
from applique.language import Field, Message, Speech
from applique.outline_layer import EdgeStretches, edge_stretches
from applique.paging import TemplateSheets
from applique.panel import on_panel
from applique.pattern import Pattern
from applique.shopping import FabricBuy
from applique.units import Units
from applique.words.blocks import block_named
from applique.words.cutting import piece_said

__all__ = ["MANY_LETTERS", "Book", "OtherWay"]

MANY_LETTERS: Final = 120
"""Of more letters than these each shape is shown once, and rows are laid, held and ticked off one at a time."""
_SORTED: Final = 60
"""More letters than these are sorted into rows by a list, once they are cut."""
_POINTS: Final = 72.0
_AS_PRINTED: Final = OnScreen()


@dataclass(frozen=True, slots=True, kw_only=True)
class OtherWay:
    """The same quilt in another method: its pattern, and the `file` with its instructions."""

    pattern: Pattern
    file: Field


class Book:
    """One set of instructions while it is written. Chapters are written in their order, since steps are counted."""

    def __init__(
        self,
        pattern: Pattern,
        method: Method,
        edition: Edition,
        papers: Mapping[PaperSize, TemplateSheets],
        other_way: OtherWay | None,
    ) -> None:
        self.pattern = pattern
        self.other_way = other_way
        self.papers = papers
        self.method = method
        self.edition = edition
        self.picture = pattern.picture
        frame = pattern.sheets.frame
        self.width = (frame.width - 2 * frame.margin) * _POINTS
        self.chips: Mapping[str, Chip] = {
            buy.fabric.name: Chip(
                letter=pattern.shopping.fabric_letters[buy.fabric.name],
                color=buy.fabric.color,
                name=buy.fabric.name,
            )
            for buy in pattern.shopping.cloth
        }
        self.letters: Mapping[str, Mapping[str, str]] = {
            buy.fabric.name: letters_of(buy.cutting.diagrams) for buy in pattern.shopping.cloth
        }
        """By fabric and by what is cut, the letter of its pieces."""
        self.outline_edges: Sequence[EdgeStretches] = edge_stretches(
            pattern.outlines, [on_panel(cut) for cut in pattern.panel.cuts]
        )
        """Of each outline, which stretches of its edges are stitched."""
        self._steps = count(1)

    def panels(self) -> Iterator[tuple[Message | None, Book]]:
        """The book seen from each panel, steps counted on, with the heading of a block; the one panel has none."""
        for pattern, block in zip(self.pattern.blocks, self.pattern.sketch.placed.blocks, strict=True):
            seen = copy(self)
            seen.pattern, seen.picture = pattern, pattern.picture
            yield (block_named(block.name, block.count) if block.name else None), seen

    def piece(self, fabric: str, key: str) -> Message:
        """The name of a piece: the letter of its fabric, and its own."""
        return piece_said(self.chips[fabric].letter, self.letters[fabric][key])

    def letter_blocks(self) -> Iterator[tuple[str, tuple[Message, ...]]]:
        """Each fabric that letters are laid out on, with the names of those pieces."""
        for need in self.pattern.cloth:
            plan = self.pattern.shopping.letters_of(need)
            if plan is not None and plan.letters is not None:
                keys = {one.key for one in plan.letters.blocks}
                yield (
                    need.fabric,
                    tuple(self.piece(need.fabric, key) for key in plan.letters.keys if key in keys),
                )

    def pieces_of(self, kind: UseKind) -> tuple[Message, ...]:
        """The names of the pieces that are cut for a use that a quilt has once, in the order of the plan."""
        return tuple(
            self.piece(buy.fabric.name, key)
            for buy in self.pattern.shopping.cloth
            for use in buy.uses
            if use.kind is kind
            for key in use.keys
        )

    def widths(self, buy: FabricBuy, supply: str) -> Widths:
        """Down to which usable width the plan of a fabric holds for what is cut of one `supply` of it; all of the width
        where what is left over is sewn into the back."""
        shopping, plan = self.pattern.shopping, buy.cutting
        mixed, back = shopping.mixed_backing, shopping.leftover_backing
        sewn = [*mixed.strip] if mixed is not None else []
        if mixed is None and back is not None and back.enough:
            sewn += [piece for row in back.rows for piece in row]
        if any(piece.fabric == buy.fabric.name for piece in sewn):
            (width,) = (one.width for one in plan.supplies if one.key == supply)
            return Widths(least=width, longer=(), wider=())
        return plan.widths_of(supply)

    @property
    def has_seams(self) -> bool:
        """Whether any two pieces of cloth are sewn together: not where no panel is cut, unless a letter is wider than
        its fabric."""
        return self.pattern.panel.is_cut or any(need.joined for need in self.pattern.cloth)

    @property
    def makers(self) -> Message:
        """The caution to follow the makers of what the work takes."""
        panel = self.pattern.panel
        return MAKERS if panel.is_cut else LOOSE_MAKERS if panel.loose else WORN_MAKERS

    @property
    def units(self) -> Units:
        """What lengths are printed in."""
        return self.pattern.design.units

    @property
    def speech(self) -> Speech:
        """The language of the sheets."""
        return self.pattern.speech

    @property
    def sorts_letters(self) -> bool:
        """Whether there are so many letters that they are cut template by template, and then sorted into rows."""
        return len(self.pattern.panel.cuts) > _SORTED and len(self.pattern.marks) > 1

    @property
    def is_customers(self) -> bool:
        """Whether it goes to somebody who knows neither the design file nor the program."""
        return self.edition is Edition.CUSTOMER

    def step(
        self,
        *said: Said,
        drawing: Drawing | None = None,
        tints: Tints = USUAL,
        ticks: Sequence[Tick] = (),
        on_screen: OnScreen = _AS_PRINTED,
    ) -> Step:
        """The next step, its drawing with a key of those of its `tints` that it shows."""
        shown = keyed(drawing, tints, self.speech) if drawing is not None else None
        return Step(
            number=next(self._steps), said=said, drawing=shown, ticks=tuple(ticks), on_screen=on_screen
        )
