"""What will go wrong, as the page shows it: in words of its language, each with its place and its cures.

The one place where a finding of another room is made ready for the page.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Any, Final

from applique.design import Align, Border, Design, Row, design_data
from applique.design.accepted import RiskKind
from applique.design.entries import FIT
from applique.errors import Notice, Problem, Refusal, Where
from applique.language import Speech
from applique.panel import PanelPlan
from applique.pattern import Pattern, sketch
from applique.quilt.borders import BorderPlan, even_panels, even_squares
from applique.reports import entry_data
from applique.sewing.cures import Cure, CureKind, cures
from applique.typeset.bundled import BUNDLED
from applique.typeset.fonts import open_typeface
from applique.typeset.shaping import missing_letters
from applique.units import cut_on_grid, cutting_step
from applique.words.accepted import Risk, acceptable
from applique.words.cures import cure_said
from applique.words.held_numbers import short_notices

__all__ = ["finding_views", "notice_views", "problem_views", "refusal_views"]

_MOST_FONT_CURES: Final = 3
_MOST_CURES: Final = 3
_OFF_THE_PANEL: Final = frozenset({"row-off-the-panel", "row-too-wide"})
_UNEVEN_SQUARES: Final = frozenset({"squares-uneven", "cut-squares-uneven"})
_UNEVEN_RECTANGLES: Final = frozenset({"rectangles-uneven", "rectangles-uneven-longer"})


def notice_views(
    notices: Iterable[Notice],
    design: Design,
    speech: Speech,
    *,
    panel: PanelPlan,
    borders: Sequence[BorderPlan] = (),
) -> list[dict[str, Any]]:
    """Risks that do not stop the work, on the `panel` of the design. Those of `borders` have sizes that come out even,
    which take a while to try."""
    return [
        {
            **_view(notice, speech),
            "stops": False,
            "cures": [_cure(cure, speech) for cure in _notice_cures(notice, design, panel, borders)],
            "accept": _accept(Risk(notice=notice), design),
        }
        for notice in notices
    ]


def finding_views(pattern: Pattern, speech: Speech, *, cured: bool) -> list[dict[str, Any]]:
    """What will go wrong in cutting, sewing and reading and is not accepted, at its place from the upper left corner of
    the quilt; after it every other notice, and each number of the maker's own that does not hold. With the cures, which
    take a while to try, if `cured`."""
    design, quilt = pattern.design, pattern.quilt
    left, low = (
        float(side - inner) / 2
        for side, inner in zip(quilt.finished, (pattern.panel.width, pattern.panel.height), strict=True)
    )
    views = []
    for risk in pattern.risks:
        finding = risk.finding
        if finding is None:
            continue
        at = finding.at and [left + finding.at[0], low + float(pattern.panel.height) - finding.at[1]]
        tried = cures(pattern.checks, finding, most=_MOST_CURES) if cured else ()
        fix = "" if tried or not cured else speech.say("other words, another size or another font")
        views.append(
            {
                **_view(risk.notice, speech),
                "fix": fix,
                "at": at,
                "stops": False,
                "cures": [_cure(cure, speech) for cure in tried],
                "accept": _accept(risk, design),
            }
        )
    others = [risk.notice for risk in pattern.risks if risk.finding is None]
    others += short_notices(pattern.stated, design.units)
    borders = quilt.borders if cured else ()
    return views + notice_views(others, design, speech, panel=pattern.panel, borders=borders)


def problem_views(problems: Iterable[Problem], design: Design | None, speech: Speech) -> list[dict[str, Any]]:
    """What stops the work, with the cures that were tried and do work."""
    return [
        {
            **_view(problem, speech),
            "stops": True,
            "cures": [_cure(cure, speech) for cure in _problem_cures(problem, design)] if design else [],
            "accept": None,
        }
        for problem in problems
    ]


def refusal_views(problems: Iterable[Problem], speech: Speech) -> list[dict[str, Any]]:
    """The problems of anything that is refused, each with the row (from 1) that it is about, if it is about one."""
    return [_view(problem, speech) for problem in problems]


def _view(said: Problem | Notice, speech: Speech) -> dict[str, Any]:
    return {
        "kind": said.kind,
        "what": speech.field(said.what),
        "where": said.where.as_data(),
        "fix": speech.field(said.fix),
        "at": None,
    }


def _accept(risk: Risk, design: Design) -> dict[str, Any] | None:
    """What the design would have to say for the risk to be accepted; None where it must be fixed."""
    entry = acceptable(risk, design)
    return None if entry is None else entry_data(entry)


def _cure(cure: Cure, speech: Speech) -> dict[str, Any]:
    return {"words": speech.tell(cure_said(cure)), "design": design_data(cure.design)}


def _notice_cures(
    notice: Notice, design: Design, panel: PanelPlan, borders: Sequence[BorderPlan]
) -> list[Cure]:
    """For what a move by hand has brought about: the moves of that row taken back. For rectangles that do not fill a
    side: those near them that do. For a row that holds all others down: that it alone stays as high as it is."""
    if notice.kind in _UNEVEN_RECTANGLES:
        here = [one for one in borders if Where.key("border", one.number) == notice.where]
        return list(_even_rectangles(design, here))
    number = notice.where.row
    if number is None or not 0 < number <= len(design.row):
        return []
    row = design.row[number - 1]
    if notice.kind == RiskKind.HOLDS_ALL_DOWN:
        height = next(placed.cap_height for placed in panel.rows if placed.number == number)
        stays = _with_row(design, number, row.sized(height))
        return [Cure(kind=CureKind.STAYS, row=number, length=height, design=stays)]
    if row.nudge or row.right or row.up or row.turn:
        return [_put_back(design, number)]
    return []


def _put_back(design: Design, number: int) -> Cure:
    put_back = _with_row(design, number, _unmoved(design.row[number - 1]))
    return Cure(kind=CureKind.PUT_BACK, row=number, design=put_back)


def _unmoved(row: Row) -> Row:
    return replace(row, nudge=(), right=Fraction(0), up=Fraction(0), turn=0.0)


def _with_row(design: Design, number: int, row: Row) -> Design:
    return replace(design, row=(*design.row[: number - 1], row, *design.row[number:]))


def _problem_cures(problem: Problem, design: Design) -> Iterator[Cure]:
    """Cures of a refusal: each is tried, and offered only where the sketch can then be made or comes further."""
    if problem.kind in _UNEVEN_SQUARES:
        yield from _even_squares(design, problem.where)
    number, letter = problem.where.row, problem.where.letter
    if number is not None and not 0 < number <= len(design.row):
        number = None
    if number is not None and letter is not None:
        yield from _other_fonts(design, number)
        return
    for cure in _changes(design, number):
        if cure.design != design and _works(cure.design):
            yield cure
    may_run_off = design.cuts_panel and number is not None and not design.row[number - 1].runs_down
    if number is not None and problem.kind in _OFF_THE_PANEL and may_run_off:
        off = _with_row(design, number, replace(design.row[number - 1], runs_off=True))
        if _works(off):
            yield Cure(kind=CureKind.RUNS_OFF, row=number, design=off)


def _changes(design: Design, number: int | None) -> Iterator[Cure]:
    if number is not None:
        row = design.row[number - 1]
        largest = _with_row(design, number, row.sized(FIT))
        yield Cure(kind=CureKind.LARGEST, row=number, design=largest)
        yield _put_back(design, number)
        if row.align is not None:
            centered = _with_row(design, number, replace(row, align=Align.CENTER))
            yield Cure(kind=CureKind.CENTERED, row=number, design=centered)
    every = replace(design, lettering=replace(design.lettering, cap_height=FIT))
    rows = tuple(row.sized(None) for row in design.row)
    yield Cure(kind=CureKind.EVERY_LARGEST, design=replace(every, row=rows))
    put_back = tuple(_unmoved(row) for row in rows)
    yield Cure(kind=CureKind.EVERY_LARGEST_PUT_BACK, design=replace(every, row=put_back))


def _even_squares(design: Design, where: Where) -> Iterator[Cure]:
    """The nearest sizes of squares that come out even around what lies within that border; then the nearest panel for
    the squares that there are, which in centimeters are a whole number of millimeters."""
    number = next(part for part in where.path if isinstance(part, int))
    border, within = design.border[number - 1], design.border[: number - 1]
    try:
        before = sketch(replace(design, border=within)).quilt.finished
    except Refusal:
        return
    for size in even_squares(before, border.size or border.width, step=cutting_step(design.units)):
        changed = _with_border(design, number, replace(border, size=size))
        if _works(changed):
            yield Cure(kind=CureKind.EVEN_SQUARES, border=number, length=size, design=changed)
    typed = border.size or border.width
    size = cut_on_grid(typed, seam_allowance=design.seam_allowance, units=design.units)
    kind = CureKind.EVEN_PANEL if size == typed else CureKind.EVEN_PANEL_AND_SQUARES
    sized = _with_border(design, number, replace(border, size=size))
    for width, height in even_panels(design.panel_size, before, size):
        changed = replace(sized, panel=replace(design.panel, width=width, height=height))
        if _works(changed):
            yield Cure(kind=kind, border=number, length=size, design=changed)
            return


def _even_rectangles(design: Design, borders: Iterable[BorderPlan]) -> Iterator[Cure]:
    """The nearest sizes of rectangles that fill every side of those borders whole."""
    for plan in borders:
        border = design.border[plan.number - 1]
        for offer in plan.uneven.offers if plan.uneven else ():
            changed = _with_border(design, plan.number, replace(border, width=offer.width, size=offer.length))
            if _works(changed):
                yield Cure(
                    kind=CureKind.EVEN_RECTANGLES, border=plan.number, length=offer.length, design=changed
                )


def _with_border(design: Design, number: int, border: Border) -> Design:
    return replace(design, border=(*design.border[: number - 1], border, *design.border[number:]))


def _works(design: Design) -> bool:
    try:
        sketch(design)
    except Refusal:
        return False
    return True


def _other_fonts(design: Design, number: int) -> Iterator[Cure]:
    row = design.row[number - 1]
    spelling = [font.name for font in BUNDLED if not any(missing_letters(row.text, open_typeface(font.name)))]
    for name in spelling[:_MOST_FONT_CURES]:
        changed = _with_row(design, number, replace(row, font=name, axes=None))
        yield Cure(kind=CureKind.OTHER_FONT, row=number, name=name, design=changed)
