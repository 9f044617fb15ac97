"""The pattern in words, for people: `summary.md`."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from applique.cautions import ALL_CAUTIONS, LOOSE_CAUTIONS, RIGHTS, WORN_CAUTIONS
from applique.cloth import UseKind
from applique.cutfiles import CutDrawing, cut_drawings
from applique.design import Finish
from applique.geometry.points import extent
from applique.language import Field, Message, Speech
from applique.pattern import Pattern
from applique.pieces import Layer, outline_named, rows_said
from applique.reports.file_names import one_line
from applique.shopping import ShelfKind
from applique.typeset.own import font_digests
from applique.units import as_length, as_run
from applique.words import summary as said
from applique.words.accepted import ACCEPTED, acceptance_said
from applique.words.blocks import BLOCKS, BLOCKS_HEAD, block_cells
from applique.words.buying import amount_said, figured_said, joined_said, uses_said, wide_said
from applique.words.held_numbers import HELD_NUMBERS, held_notice
from applique.words.narrower import narrow_said
from applique.words.precuts import cut_from_precut_said
from applique.words.quilt import not_reckoned
from applique.words.sheets import CHECK_FIRST, TAKE_CARE, table_said
from applique.yardage import StripNeed

__all__ = ["summary_md"]


_CAUTIONS: Final = {Finish.GARMENT: WORN_CAUTIONS, Finish.LETTERS: LOOSE_CAUTIONS}
"""Where they are others than those of a quilt."""


def summary_md(pattern: Pattern) -> bytes:
    """The pattern in a page of Markdown: sizes, letters, what to buy, what to print, what to do next."""
    drawings, speech = tuple(cut_drawings(pattern)), pattern.speech
    cautions = _CAUTIONS.get(pattern.design.finish, ALL_CAUTIONS)
    sections = (
        _head(pattern),
        _blocks_table(pattern),
        _rows_table(pattern, drawings),
        _own_fonts(pattern),
        _letters_table(pattern, drawings),
        _sewing(pattern),
        _to_buy(pattern),
        _stated(pattern),
        _next_steps(pattern),
        _warnings(pattern),
        _accepted(pattern),
        (_heading(TAKE_CARE, speech), *(f"- {speech.field(caution)}" for caution in cautions)),
        (_heading(said.PUBLISHING, speech), speech.field(RIGHTS)),
    )
    text = "\n\n".join("\n".join(section) for section in sections if section)
    return (text + "\n").encode("utf-8")


def _heading(words: Message, speech: Speech) -> str:
    """A heading with the empty line below it."""
    return f"## {speech.tell(words)}\n"


def _table(head: Sequence[Message], rows: Iterable[Sequence[Field]], speech: Speech) -> Iterator[str]:
    """The lines of a table."""
    yield _table_row(head, speech)
    yield f"|{'---|' * len(head)}"
    yield from (_table_row(row, speech) for row in rows)


def _table_row(cells: Sequence[Field], speech: Speech) -> str:
    words = (_cell(speech.field(cell)) for cell in cells)
    return f"|{''.join(f' {word} |' if word else ' |' for word in words)}"


def _cell(text: str) -> str:
    return text.replace("\\", "\\\\").replace("|", "\\|")


def _head(pattern: Pattern) -> Sequence[str]:
    design = pattern.design
    about = said.quilt_said(
        design.designer, design.publisher.name, pattern.quilt, pattern.panel, pattern.reach, design.units
    )
    return (f"# {pattern.title}", "", pattern.speech.tell(about))


def _blocks_table(pattern: Pattern) -> Sequence[str]:
    """Every block with its sizes and its rows."""
    blocks, units, speech = pattern.quilt.blocks, pattern.design.units, pattern.speech
    if not blocks:
        return ()
    rows = [
        block_cells(block, [row.number for row in one.panel.rows], units)
        for block, one in zip(blocks, pattern.blocks, strict=True)
    ]
    return (_heading(BLOCKS, speech), *_table(BLOCKS_HEAD, rows, speech))


def _rows_table(pattern: Pattern, drawings: Sequence[CutDrawing]) -> Sequence[str]:
    units, speech = pattern.design.units, pattern.speech
    rows: list[tuple[Field, ...]] = []
    for row, mark in zip(pattern.panel.rows, pattern.marks, strict=False):
        sizes = {
            drawing.layer: said.file_size_said(drawing.size, units, speech)
            for drawing in drawings
            if drawing.row == row.number
        }
        height = as_length(row.cap_height, units, denominator=16)
        baseline = said.baseline_said(mark, units)
        number = str(row.number)
        size = said.extent_said(extent(row.upright_ink), units)
        rows.append(
            (number, row.text, row.font, height, row.fabric.name, baseline, size, sizes[Layer.LETTER])
        )
        behind = next((piece.fabric.name for piece in pattern.outlines if piece.where == row.where), None)
        if behind is not None:
            behind_size = sizes.get(Layer.OUTLINE, said.NO_ROW_FILE)
            rows.append((number, outline_named(row.text), "", "", behind, "", "", behind_size))
    fitted = [row.number for row in pattern.panel.rows if pattern.design.fits(row.asked)]
    note = ("", speech.tell(said.fitted_said(fitted, pattern.panel.margin, units))) if fitted else ()
    return (_heading(said.WORDS, speech), *_table(said.words_head(pattern.panel), rows, speech), *note)


def _own_fonts(pattern: Pattern) -> Sequence[str]:
    if not pattern.fonts:
        return ()
    rows = [
        f"- {_cell(one_line(name))}, SHA-256 `{digest}`"
        for name, digest in font_digests(pattern.fonts).items()
    ]
    return (_heading(said.OWN_FONTS, pattern.speech), pattern.speech.tell(said.fonts_said()), "", *rows)


def _letters_table(pattern: Pattern, drawings: Sequence[CutDrawing]) -> Sequence[str]:
    units, speech = pattern.design.units, pattern.speech
    files = {
        drawing.template: said.file_size_said(drawing.size, units, speech)
        for drawing in drawings
        if drawing.template
    }
    rows = [
        (
            str(template.number),
            template.name,
            said.cuts_said(template.uses),
            rows_said(template),
            said.extent_said(extent(template.ink), units),
            files[template.number],
        )
        for template in pattern.templates
    ]
    return (
        _heading(
            said.to_cut_said(pattern.letter_count, pieces=pattern.piece_count, joined=pattern.joins_letters),
            speech,
        ),
        *_table(said.LETTERS_HEAD, rows, speech),
    )


def _sewing(pattern: Pattern) -> Sequence[str]:
    plan, units, speech = pattern.stitching, pattern.design.units, pattern.speech
    bordered = bool(pattern.quilt.borders)
    rows = [
        (
            table_said(row.where),
            said.stitch_said(row),
            as_run(row.edge, units),
            str(row.stitches),
            said.time_said(row),
        )
        for row in plan.rows
    ]
    set_together = pattern.quilt.setting is not None
    when = said.when_said(plan, bordered=bordered, set_together=set_together)
    lines = (
        said.total_time_said(plan),
        *([when] if bordered or set_together or pattern.quilt.layered else []),
        *(said.quilting_said(one, units) for one in pattern.quilting),
    )
    return (
        _heading(said.SEWING, speech),
        *_table(said.SEWING_HEAD, rows, speech),
        "",
        *(f"- {speech.tell(line)}" for line in lines),
    )


def _one_fabric(pattern: Pattern, need: StripNeed) -> Message:
    """What one fabric for all letters takes, and what the others are needed for then."""
    others = (
        said.still_cut_said(
            buy.fabric.name,
            buy.uses,
            (
                one.layer
                for one in pattern.templates
                for use in one.uses
                if use.fabric.name == buy.fabric.name
            ),
        )
        for buy in pattern.shopping.cloth
        if buy.fabric.name != need.fabric and any(use.kind is UseKind.LETTERS for use in buy.uses)
    )
    return said.one_fabric_said(need, [words for words in others if words is not None], pattern.design.units)


def _to_buy(pattern: Pattern) -> Sequence[str]:
    units, speech, fusible = pattern.design.units, pattern.speech, pattern.fusible
    rows = [
        (
            buy.fabric.name,
            uses_said(buy),
            f"**{speech.field(amount_said(buy, units))}**",
            figured_said(buy, units),
        )
        for buy in pattern.shopping.cloth
    ]
    lines = [
        said.precut_line_said(buy.fabric.name, cut_from_precut_said(buy.cutting.precut, units))
        for buy in pattern.shopping.cloth
        if buy.cutting.precut is not None
    ]
    lines += narrow_said(pattern.shopping, units)
    if pattern.shopping.one_fabric is not None:
        lines.append(_one_fabric(pattern, pattern.shopping.one_fabric))
    lines += [said.web_said(fusible, fusible.web, units, speech)] if fusible.web else []
    lines += [
        joined_said(need, pieces, units) for need in (fusible, *pattern.cloth) for pieces in need.joined
    ]
    lines += [
        said.shelf_said(shelf, units)
        for shelf in pattern.shopping.shelves
        if shelf.kind not in (ShelfKind.CLOTH, ShelfKind.WEB)
    ]
    lines += [wide_said(wide, units)] if (wide := pattern.shopping.wide_backing) is not None else []
    lines += [left_out] if (left_out := not_reckoned(pattern.quilt)) is not None else []
    return (
        _heading(said.BUYING, speech),
        *_table(said.BUYING_HEAD, rows, speech),
        "",
        *(f"- {speech.tell(line)}" for line in lines),
    )


def _stated(pattern: Pattern) -> Sequence[str]:
    if not pattern.stated:
        return ()
    speech, units = pattern.speech, pattern.design.units
    notices = (said.risk_said(held_notice(number, units)) for number in pattern.stated)
    return (_heading(HELD_NUMBERS, speech), *(f"- {speech.tell(notice)}" for notice in notices))


def _next_steps(pattern: Pattern) -> Sequence[str]:
    speech = pattern.speech
    steps = said.next_steps(
        pattern.sheets.page_count + 1,
        pattern.design.paper.size,
        pattern.panel,
        pattern.design.units,
        pattern.stitching.when,
        method=pattern.design.sewing.method,
        way=pattern.design.sewing.freezer_paper,
        bordered=bool(pattern.quilt.borders),
        bound=pattern.quilt.binding is not None,
        blocks=bool(pattern.quilt.blocks),
        apart=pattern.quilt.apart,
    )
    return (
        _heading(said.STEPS, speech),
        *(f"{number}. {speech.tell(step)}" for number, step in enumerate(steps, 1)),
    )


def _warnings(pattern: Pattern) -> Sequence[str]:
    if not pattern.notices:
        return ()
    speech = pattern.speech
    return (
        _heading(CHECK_FIRST, speech),
        *(f"- {speech.tell(said.risk_said(notice))}" for notice in pattern.notices),
    )


def _accepted(pattern: Pattern) -> Sequence[str]:
    """What the maker has accepted, for her own folder alone: no sheet shows it."""
    if not pattern.accepted:
        return ()
    speech = pattern.speech
    lines = (speech.tell(words) for one in pattern.accepted for words in acceptance_said(one))
    return (_heading(ACCEPTED, speech), *(f"- {line}" for line in lines))
