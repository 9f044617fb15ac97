"""`sew-along.html`: the instructions on one page that needs no network, with a tick for everything that is done."""

from __future__ import annotations

import base64
import hashlib
import json
from collections.abc import Iterable, Iterator, Sequence
from itertools import chain, groupby
from pathlib import Path
from typing import Final

from applique.colors import reads_on
from applique.design import design_data
from applique.drawings import Drawing
from applique.instructions import (
    Cautions,
    Chapter,
    ChapterKind,
    Chip,
    Choices,
    Heading,
    Instructions,
    Led,
    Listed,
    Option,
    Paragraph,
    Picture,
    Step,
    Table,
    Tick,
    instructions_of,
)
from applique.instructions.values import Cell, LetterTicks, Place, RowPlaces, RowTicks, Said
from applique.language import Message
from applique.pattern import Pattern
from applique.sew_along.pictures import Gallery, drawing_svg, for_telephones, narrow_svg, shown
from applique.sew_along.wording import Wording
from applique.words import sew_along as said
from applique.words.guide import TABLE_TITLE
from applique.words.sheets import TAKE_CARE, file_title

__all__ = ["sew_along_html"]

_STYLE: Final = Path(__file__).with_name("sew-along.css")
_SCRIPT: Final = Path(__file__).with_name("sew-along.js")
_UNFOLDED: Final = 40
"""Of more letters than these the table of where each goes is folded, row by row."""
_DIGITS: Final = 24
"""Of a digest: enough that no two patterns in one browser are taken for one another."""


def sew_along_html(
    pattern: Pattern, instructions: Instructions | None = None, besides: Message | None = None
) -> bytes:
    """The instructions of `pattern` as one HTML document in UTF-8; those for its maker unless others are given.

    `besides` says what else is needed, and in which files it is: those of the maker's folder if left out. The page asks
    for nothing outside of itself, and its own policy forbids it to. The same bytes for the same pattern.
    """
    instructions = instructions_of(pattern) if instructions is None else instructions
    if besides is None:
        besides = said.besides_said(instructions.method, mirrored=pattern.design.sewing.traced_mirrored)
    return _Page(pattern, instructions, besides).written().encode("utf-8")


def _digest(pattern: Pattern) -> str:
    """What tells this pattern's ticks from those of others: its whole design as others get it."""
    data = json.dumps(design_data(pattern.shared_design), sort_keys=True, ensure_ascii=True)
    return hashlib.sha256(data.encode("ascii")).hexdigest()[:_DIGITS]


class _Page:
    """The page while it is written."""

    def __init__(self, pattern: Pattern, instructions: Instructions, besides: Message) -> None:
        self._pattern, self._besides = pattern, besides
        self._instructions, self._chapters = instructions, instructions.chapters
        self._say = Wording(pattern.speech)
        small = ((drawing, for_telephones(drawing, self._say)) for drawing in instructions.drawings())
        self._small = {id(drawing): found for drawing, found in small if found is not None}
        self._gallery = Gallery(
            chain(instructions.drawings(), (found.drawing for found in self._small.values()))
        )
        self._drawn = 0
        self._boxes = 0

    def written(self) -> str:
        """The whole document."""
        say = self._say
        cover, *others = self._chapters
        chapters = [self._chapter(chapter) for chapter in others]
        front = self._cover(cover)
        contents = self._contents(others)
        style = _STYLE.read_text("utf-8") + self._gallery.sheet() + self._narrowing()
        script = _SCRIPT.read_text("utf-8")
        policy = (
            f"default-src 'none'; img-src data:; style-src '{_hashed(style)}'; script-src '{_hashed(script)}'; "
            "base-uri 'none'; form-action 'none'"
        )
        title = say.attribute(file_title(self._pattern.title, say.plain(said.SUBJECT)))
        return (
            f'<!DOCTYPE html>\n<html lang="{say.tag}" dir="{say.direction}" data-pattern="{_digest(self._pattern)}">\n'
            f'<head>\n<meta charset="utf-8">\n<meta http-equiv="Content-Security-Policy" content="{policy}">\n'
            '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
            '<meta name="color-scheme" content="light dark">\n<meta name="referrer" content="no-referrer">\n'
            f"<title>{title}</title>\n<style>{style}</style>\n</head>\n<body>\n"
            f'<a class="skip" href="#contents">{say.html(said.TO_CONTENTS)}</a>\n{self._gallery.definitions()}\n'
            f"{self._bar()}\n<main>\n{front}\n{contents}\n{''.join(chapters)}</main>\n{self._dialogs()}\n"
            f"<script>{script}</script>\n</body>\n</html>\n"
        )

    def _narrowing(self) -> str:
        """At which width of its frame each drawing gives way to the one for telephones."""
        found = {shown(drawing, self._say).narrowed_below for drawing in self._instructions.drawings()}
        return "".join(
            f"@container(max-width:{below - 0.1}px)"
            f"{{.ground>.w{below}{{display:none}}.ground>.n{below}{{display:block}}}}"
            for below in sorted(found - {0})
        )

    # What stands around the chapters

    def _bar(self) -> str:
        """The line that stays in sight: where the reader is, how much is done, and what leads on."""
        say = self._say
        return (
            f'<header class="bar" aria-label="{say.attribute(said.WHERE)}">'
            f'<p class="place"><b id="where">{say.html(self._pattern.title)}</b>'
            f'<span class="tally" data-so-far="{say.attribute(said.done_so_far())}" id="tally">'
            f"{say.html(said.done_of(self._boxes))}</span></p>"
            f'<a class="tool" id="next" href="#contents" hidden>{_icon("next")}'
            f'<span class="unseen">{say.html(said.NEXT)}</span></a>'
            f'<a class="tool" href="#contents">{_icon("contents")}'
            f'<span class="unseen">{say.html(said.CONTENTS)}</span></a>'
            f'<button class="tool" id="dark" type="button" role="switch" aria-checked="false" hidden>{_icon("dark")}'
            f'<span class="unseen">{say.html(said.DARK)}</span></button>'
            '<div class="thread" aria-hidden="true"><i id="thread"></i></div></header>'
        )

    def _contents(self, chapters: Sequence[Chapter]) -> str:
        say = self._say
        lines = []
        for chapter in chapters:
            steps = [block.number for block in chapter.blocks if isinstance(block, Step)]
            about = f"<small>{say.html(said.steps_said(steps[0], steps[-1]))}</small>" if steps else ""
            lines.append(
                f'<li><a href="#{chapter.kind}"><span>{say.html(chapter.title)}</span>{about}'
                f'<small class="part" data-of="{chapter.kind}"></small></a></li>'
            )
        return (
            f'<nav aria-labelledby="contents"><h2 id="contents" tabindex="-1">{say.html(said.CONTENTS)}</h2>'
            f'<ol role="list">{"".join(lines)}</ol>'
            f'<noscript><p class="note">{say.html(said.NO_SCRIPT)}</p></noscript>'
            f'<div class="keeping" id="keeping" hidden><p class="note" id="kept">{say.html(said.KEPT)}</p>'
            f'<p class="note warned" id="not-kept" role="status" hidden>{say.html(said.NOT_KEPT)}</p>'
            f'<button class="plain" id="clear" type="button">{say.html(said.CLEAR)}</button></div></nav>'
        )

    def _dialogs(self) -> str:
        say = self._say
        return (
            '<dialog id="clearing" aria-labelledby="clear-asked">'
            f'<p id="clear-asked">{say.html(said.CLEAR_ASKED)}</p>'
            f'<form method="dialog"><button class="plain" value="keep">{say.html(said.KEEP)}</button>'
            f'<button class="main" value="clear" id="clear-all">{say.html(said.CLEAR_ALL)}</button></form></dialog>\n'
            f'<dialog id="large" aria-label="{say.attribute(said.ENLARGE)}"><form method="dialog">'
            f"{_zoom('zoom-in', say.html(said.ZOOM_IN))}{_zoom('zoom-out', say.html(said.ZOOM_OUT))}"
            f'<button class="plain">{say.html(said.CLOSE)}</button></form>'
            f'<div class="ground" tabindex="0" role="group" aria-label="{say.attribute(said.ENLARGE)}"></div></dialog>'
        )

    # Chapters

    def _cover(self, chapter: Chapter) -> str:
        return (
            f'<section class="cover" id="{chapter.kind}" aria-labelledby="title">'
            f'<h1 id="title">{self._say.html(chapter.title)}</h1>{self._blocks(chapter, 2)}'
            f'<p class="besides">{self._say.html(self._besides)}</p></section>'
        )

    def _chapter(self, chapter: Chapter) -> str:
        name = chapter.kind
        return (
            f'<section id="{name}" aria-labelledby="{name}-h"><h2 id="{name}-h">{self._say.html(chapter.title)}</h2>'
            f"{self._blocks(chapter, 3)}</section>\n"
        )

    def _blocks(self, chapter: Chapter, level: int) -> str:
        """The blocks of a chapter; steps that follow one another are one list. Headings begin at `level`."""
        parts = []
        below = level
        for kind, alike in groupby(chapter.blocks, key=type):
            blocks = list(alike)
            steps = [block for block in blocks if isinstance(block, Step)]
            led = [block for block in blocks if isinstance(block, Led)]
            others = [block for block in blocks if not isinstance(block, Step | Led)]
            parts.append(self._steps(chapter.kind, steps) if steps else "")
            parts.append(self._led(led) if led else "")
            parts += [self._block(block, level, below) for block in others]
            if kind is Heading:
                below = level + 1
        return "".join(parts)

    def _block(
        self,
        block: Heading | Paragraph | Listed | Picture | Table | Choices | Cautions,
        level: int,
        below: int,
    ) -> str:
        say = self._say
        match block:
            case Heading(said=words):
                return f"<h{level}>{say.html(words)}</h{level}>"
            case Paragraph(said=words, quiet=quiet):
                return f"<p{' class=quiet' if quiet else ''}>{say.html(words)}</p>"
            case Listed(items=items):
                return f'<ul class="dashes">{"".join(f"<li>{say.html(item)}</li>" for item in items)}</ul>'
            case Picture(drawing=drawing, caption=caption, beside=beside, on_screen=on_screen):
                paragraphs = "".join(f"<p>{say.html(words)}</p>" for words in beside)
                return self._figure(drawing if on_screen is None else on_screen, caption) + paragraphs
            case Table():
                return self._table(block)
            case Choices(options=options):
                return f'<div class="choices">{"".join(self._option(one, below) for one in options)}</div>'
            case Cautions(items=items):
                return self._cautions(items)

    def _cautions(self, items: Sequence[Said]) -> str:
        say = self._say
        told = "".join(f"<li>{say.html(item)}</li>" for item in items)
        head = say.html(TAKE_CARE)
        return (
            f'<div class="care" role="note" aria-label="{say.attribute(TAKE_CARE)}">'
            f'<p class="care-head">{_icon("care")}{head}</p><ul>{told}</ul></div>'
        )

    def _option(self, option: Option, level: int) -> str:
        told = "".join(f"<p>{self._say.html(words)}</p>" for words in option.said)
        drawn = "" if option.drawing is None else self._figure(option.drawing, None)
        return f'<div class="choice"><h{level}>{self._say.html(option.title)}</h{level}>{drawn}{told}</div>'

    def _led(self, blocks: Sequence[Led]) -> str:
        """Paragraphs behind what leads them; one without a lead goes on with the one before."""
        parts: list[str] = []
        for block in blocks:
            deep = f' class="deep{min(block.depth, 3)}"' if block.depth else ""
            for index, (lead, words) in enumerate(block.items):
                if self._say.plain(lead) or not parts:
                    parts.append(f"<dt>{self._say.html(lead)}</dt>")
                chip = self._chip_alone(block.chips[index]) + " " if index in block.chips else ""
                parts.append(f"<dd{deep}>{chip}{self._say.html(words)}</dd>")
        return f"<dl>{''.join(parts)}</dl>"

    def _figure(self, drawing: Drawing, caption: Said | None) -> str:
        self._drawn += 1
        svg = drawing_svg(drawing, self._gallery, self._say, f"d{self._drawn}")
        told = ""
        if caption is not None:
            read = self._say.plain(caption) == self._say.plain(drawing.said)  # once, with the picture
            hidden = ' aria-hidden="true"' if read else ""
            told = f"<figcaption{hidden}>{self._say.html(caption)}</figcaption>"
        size = shown(drawing, self._say)
        larger = (
            '<button class="enlarge" type="button" hidden aria-describedby="'
            f'd{self._drawn}-t">{_icon("larger")}<span>{self._say.html(said.ENLARGE)}</span></button>'
        )
        larger = larger if size.can_be_enlarged else ""
        wide = " class=wide" if size.is_wide else ""
        small = self._small.get(id(drawing))
        narrow = "" if small is None else narrow_svg(drawing, small, self._gallery, self._say)
        return f'<figure{wide}><div class="ground">{svg}{narrow}</div>{larger}{told}</figure>'

    # Steps and ticks

    def _steps(self, kind: ChapterKind, steps: Iterable[Step]) -> str:
        return f'<ol class="steps" role="list">{"".join(self._step(kind, step) for step in steps)}</ol>'

    def _step(self, kind: ChapterKind, step: Step) -> str:
        say = self._say
        told = "".join(f"<p>{say.html(words)}</p>" for words in step.on_screen.said or step.said)
        drawn = "" if step.drawing is None else self._figure(step.drawing, None)
        name = say.html(said.step_said(step.number))
        box = self._box(f"step.{kind}.{step.number}", f'<span class="name">{name}</span>', "step-tick")
        places = self._places(step)
        # Where every letter has a tick of its own, those that a step has for whole templates or rows are for paper;
        # a single one asks for no more than the step's own.
        boards = "".join(self._letter_board(step.number, board) for board in step.on_screen.letters)
        apart = not boards and len(step.ticks) > 1
        own = self._ticks(step.ticks, said.step_said(step.number)) if apart else boards
        return f'<li class="step" id="step-{step.number}">{box}{told}{drawn}{places}{own}</li>'

    def _places(self, step: Step) -> str:
        """Where each letter goes, row by row; of many letters every row is folded."""
        rows = step.on_screen.places
        if not rows:
            return ""
        folds = sum(len(row.places) for row in rows if not row.behind) > _UNFOLDED
        told = "".join(
            self._row_places(f"places-{step.number}-{number}", row, folds=folds)
            for number, row in enumerate(rows, 1)
        )
        return f'<div class="places"><p class="places-head">{self._say.html(TABLE_TITLE)}</p>{told}</div>'

    def _row_places(self, name: str, row: RowPlaces, *, folds: bool) -> str:
        say = self._say
        head = f'<span id="{name}">{say.html(row.title)}</span> <small>{say.html(row.fabric)}</small>'
        note = "" if row.note is None else f'<p class="quiet">{say.html(row.note)}</p>'
        heads: list[Said] = [row.first, *([row.template] if row.template else []), *row.distances]
        top = "".join(self._head(words) for words in heads)
        lines = "".join(
            f'<tbody role="rowgroup">{"".join(self._place(place, heads) for place in group)}</tbody>'
            for group in row.groups
        )
        of_words = "" if row.template else " class=words"
        table = (
            f'<table role="table"{of_words} aria-labelledby="{name}"><thead role="rowgroup">'
            f'<tr role="row">{top}</tr></thead>{lines}</table>'
        )
        if folds:
            return f"<details><summary>{head}</summary>{note}{table}</details>"
        return f'<div class="places-row"><p>{head}</p>{note}{table}</div>'

    def _place(self, place: Place, heads: Sequence[Said]) -> str:
        """A letter as a row of its table, what else is said of it, and a row for each of its parts."""
        cells: tuple[Cell, ...] = (
            place.text,
            *([place.template] if place.template else []),
            *place.distances,
        )
        line = f'<tr role="row">{"".join(self._cells(cells, heads))}</tr>'
        if place.notes:
            told = "".join(f"<p>{self._say.html(note)}</p>" for note in place.notes)
            about = f'role="cell" colspan="{len(heads)}" data-head="{self._say.attribute(place.text)}"'
            line += f'<tr role="row" class="about"><td {about}>{told}</td></tr>'
        return line + "".join(self._place(part, heads) for part in place.parts)

    def _ticks(self, ticks: Sequence[Tick], about: Said) -> str:
        if not ticks:
            return ""
        lines = "".join(
            f"<li>{self._box(tick.key, f'<span>{self._say.html(tick.said)}</span>', 'line-tick')}</li>"
            for tick in ticks
        )
        return f'<ul class="ticks" role="list" aria-label="{self._say.attribute(about)}">{lines}</ul>'

    def _box(self, key: str, label: str, kind: str) -> str:
        """A tick with its words, all of it to be touched."""
        self._boxes += 1
        return (
            f'<label class="{kind}"><input type="checkbox" name="{self._say.attribute(key)}">{label}</label>'
        )

    def _letter_board(self, step: int, board: LetterTicks) -> str:
        say = self._say
        name = f"board-{step}-{board.done}"
        head = say.html(said.done_with(board.done))
        rows = "".join(self._row(row, say.html(said.done_with(board.done))) for row in board.rows)
        return (
            f'<div class="board" role="group" aria-labelledby="{name}"><p class="board-head" id="{name}">{head}</p>'
            f'<p class="part" data-of="{name}"></p>{rows}</div>'
        )

    def _row(self, row: RowTicks, done: str) -> str:
        say = self._say
        count, place = len(row.ticks), 0
        longest = max((sum(len(say.plain(tick.said)) for tick in word) for word in row.words), default=1)
        size = self._gallery.styled(f"--n:{max(longest, 1)}")
        words = []
        for word in row.words:
            tiles = []
            for tick in word:
                place += 1
                which = say.html(said.piece_of(place, count))
                label = f'<span><bdi>{say.attribute(tick.said)}</bdi><i class="unseen"> {which}</i></span>'
                tiles.append(self._box(tick.key, label, "t"))
            words.append(f'<div class="word">{"".join(tiles)}</div>')
        way = "rtl" if row.leftward else "ltr"
        return (
            f'<fieldset class="row"><legend><span class="unseen">{done}, </span>{say.html(row.said)}</legend>'
            f'<div class="tiles {size}" dir="{way}">{"".join(words)}<button class="whole" type="button" hidden>'
            f"<span>{say.html(said.WHOLE_ROW)}</span></button></div></fieldset>"
        )

    # Tables

    def _table(self, table: Table) -> str:
        """A table; where there is no room for it each row stands as a list, with the heads beside the cells."""
        heads = [head for head, _ in table.columns]
        top = "".join(self._head(words) for words in heads)
        rows = "".join(f'<tr role="row">{"".join(self._cells(row, heads))}</tr>' for row in table.rows)
        return (
            f'<table role="table"><thead role="rowgroup"><tr role="row">{top}</tr></thead>'
            f'<tbody role="rowgroup">{rows}</tbody></table>'
        )

    def _head(self, words: Said) -> str:
        told = self._say.html(words)
        return f'<th scope="col" role="columnheader">{told}</th>' if told else "<td></td>"

    def _cells(self, row: Sequence[Cell], heads: Sequence[Said]) -> Iterator[str]:
        for number, (cell, head) in enumerate(zip(row, heads, strict=True)):
            told = self._chip(cell) if isinstance(cell, Chip) else self._say.html(cell)
            about = f' data-head="{self._say.attribute(head)}"'
            if not number and told:
                yield f'<th scope="row" role="rowheader"{about}><span>{told}</span></th>'
            else:
                yield f'<td role="cell"{about}><span>{told}</span></td>' if told else '<td role="cell"></td>'

    def _chip(self, chip: Chip) -> str:
        name = self._say.html(chip.name)
        return f'<span class="named">{self._chip_alone(chip)} <span>{name}</span></span>'

    def _chip_alone(self, chip: Chip) -> str:
        """A chip beside words that name what it is of."""
        style = self._gallery.styled(f"background:{chip.color};color:{reads_on(chip.color)}")
        hidden = "" if chip.letter else ' aria-hidden="true"'
        return f'<b class="chip {style}"{hidden}>{chip.letter}</b>'


def _hashed(text: str) -> str:
    """What the policy of the page calls `text`: the W3C's Content Security Policy Level 3, hash sources."""
    return "sha256-" + base64.b64encode(hashlib.sha256(text.encode("utf-8")).digest()).decode("ascii")


_ICONS: Final = {
    "next": "M12 4v14M6 12l6 6 6-6",
    "contents": "M9 6h11M9 12h11M9 18h11M4 6h.01M4 12h.01M4 18h.01",
    "dark": "M20 14.5A8.5 8.5 0 0 1 9.5 4 8.5 8.5 0 1 0 20 14.5z",
    "larger": "M4 9V4h5M20 9V4h-5M4 15v5h5M20 15v5h-5",
    "zoom-in": "M4 10.5a6.5 6.5 0 1 0 13 0a6.5 6.5 0 1 0-13 0M15.5 15.5L21 21M7.5 10.5h6M10.5 7.5v6",
    "zoom-out": "M4 10.5a6.5 6.5 0 1 0 13 0a6.5 6.5 0 1 0-13 0M15.5 15.5L21 21M7.5 10.5h6",
    "care": "M12 4L2.5 20h19zM12 10v4.5M12 17.2h.01",
}


def _icon(name: str) -> str:
    return f'<svg class="icon" viewBox="0 0 24 24" aria-hidden="true"><path d="{_ICONS[name]}"/></svg>'


def _zoom(name: str, told: str) -> str:
    """A button of the dialog with an enlarged picture."""
    return (
        f'<button class="tool" id="{name}" type="button" aria-disabled="false">{_icon(name)}'
        f'<span class="unseen">{told}</span></button>'
    )
