"""A template checked with each row of a list: what would be refused, and what to look at, before anything is made."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from pathlib import Path
from typing import Any

from applique.advice import Advice, advise
from applique.batch.filling import check_placeholders
from applique.batch.heights import at_height
from applique.batch.processes import side_by_side
from applique.batch.rows import NameList, read_list
from applique.design import Design, design_from_mapping
from applique.design.placeholders import fill
from applique.design.reading import read_design_data
from applique.errors import Problem, Refusal, Where
from applique.language import message
from applique.nesting import Effort, Nester
from applique.pattern import draft, rests_on_nests
from applique.store import FolderStore, cache_folder, nests_beside
from applique.words.held_numbers import short_notices

__all__ = ["CheckedRow", "check_each"]


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckedRow:
    """What was found in one row: its number in the spreadsheet, what would be refused, and what to look at.

    `advice` has each notice with the cures that were tried for it, and each number of the maker's own that falls short.
    """

    row: int
    problems: tuple[Problem, ...] = ()
    advice: tuple[Advice, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class _Job:
    row: int
    data: Mapping[str, Any]
    base: Path


def check_each(
    template: Path, names: Path, *, height: Fraction | None = None, workers: int | None = None
) -> Iterator[CheckedRow]:
    """Check the design that each row of the list `names` makes of `template`, in the order of the rows.

    `height` is a cap height (inches) for the lettering instead of the template's own. Rows are checked side by
    side, on every core unless `workers` says how many. Nothing is written.

    Raises:
        Refusal: the template or the list cannot be used at all.
    """
    listed = read_list(names)
    data = read_design_data(template)
    check_placeholders(data, listed.columns)
    if height is not None:
        data = at_height(data, height)
    jobs = tuple(_jobs(listed, data, template.parent.resolve()))
    return side_by_side(_check, jobs, workers=workers, stopped=_stopped)


def _jobs(listed: NameList, data: Mapping[str, Any], base: Path) -> Iterator[_Job | CheckedRow]:
    """A job for each row; at once what is wrong with a row that has too few or too many cells."""
    for row in listed.rows:
        try:
            yield _Job(row=row.number, data=fill(data, listed.values(row)), base=base)
        except Refusal as refusal:
            yield CheckedRow(row=row.number, problems=refusal.problems)


def _stopped(job: _Job | CheckedRow) -> CheckedRow:
    problem = Problem(
        kind="check-stopped",
        what=message("the process that checked it was stopped from outside, perhaps for want of memory"),
        where=Where(list_row=job.row),
        fix=message("the same again"),
    )
    return CheckedRow(row=job.row, problems=(problem,))


def _nester(design: Design, base: Path) -> Nester:
    """How to nest: as `make` does it where that changes what is said, else quickly."""
    if not rests_on_nests(design):
        return Nester()
    return Nester(effort=Effort.NORMAL, store=FolderStore(cache_folder()), given=nests_beside(base))


def _check(job: _Job | CheckedRow) -> CheckedRow:
    """Check one row, in a child process; what is checked is so already."""
    if isinstance(job, CheckedRow):
        return job
    row = Where(list_row=job.row)
    try:
        design = design_from_mapping(job.data, base=job.base)
        pattern = draft(design, nester=_nester(design, job.base))
        short = short_notices(pattern.stated, design.units)
        advice = (*advise(pattern), *(Advice(notice=notice, fix=notice.fix) for notice in short))
    except Refusal as refusal:
        problems = tuple(one.within(row) for one in refusal.problems)
        return CheckedRow(row=job.row, problems=problems)
    return CheckedRow(
        row=job.row, advice=tuple(replace(one, notice=one.notice.within(row)) for one in advice)
    )
