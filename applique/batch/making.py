"""A pattern for each row of a list: in parallel, each whole or not at all, and not again what is made already."""

from __future__ import annotations

import multiprocessing
import os
from collections.abc import Iterator, Mapping
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass, replace
from enum import StrEnum
from pathlib import Path
from typing import Any

from applique.batch.filling import check_placeholders, fill
from applique.batch.rows import NameList, read_list
from applique.design import design_from_mapping
from applique.design.reading import read_design_data
from applique.errors import Notice, Problem, Refusal
from applique.nesting import Effort, Nester
from applique.pack import Written, check_folder, folder_name, font_files, holds_pack_of, write_pack
from applique.pattern import draft
from applique.store import FolderStore, cache_folder, nests_beside

__all__ = ["Outcome", "State", "make_each"]


class State(StrEnum):
    """What became of a row."""

    MADE = "made"
    KEPT = "kept"
    """It had been made before, from the same design by the same version, and nobody touched it."""
    REFUSED = "refused"


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """One row: its number in the spreadsheet, its folder, what was written, or why it was refused."""

    row: int
    folder: Path
    state: State
    written: Written | None = None
    problems: tuple[Problem, ...] = ()
    notices: tuple[Notice, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class _Job:
    """What a child process needs to make one row: plain values, as they are sent to it."""

    row: int
    data: Mapping[str, Any]
    template: Path
    names: Path
    folder: Path
    effort: Effort
    replace: bool


def make_each(
    template: Path,
    names: Path,
    folder: Path,
    *,
    effort: Effort = Effort.NORMAL,
    replace: bool = False,
    workers: int | None = None,
) -> Iterator[Outcome]:
    """Make the pattern of each row of the list `names` into a folder of its own below `folder`.

    `template` is a design file with placeholders. Rows are made side by side, on every core unless `workers` says
    how many; what became of them comes in their order. One that cannot be made does not stop the others.

    Raises:
        Refusal: the template or the list cannot be used at all; nothing is written then.
    """
    listed = read_list(names)
    data = read_design_data(template)
    check_placeholders(data, listed.columns)
    jobs = tuple(
        _jobs(
            listed,
            data,
            template=template.absolute(),
            names=names.absolute(),
            folder=folder,
            effort=effort,
            replace=replace,
        )
    )
    _make_room(folder)
    return _made(jobs, workers=min(workers or os.cpu_count() or 1, len(jobs)))


def _jobs(
    listed: NameList,
    data: Mapping[str, Any],
    *,
    template: Path,
    names: Path,
    folder: Path,
    effort: Effort,
    replace: bool,
) -> Iterator[_Job | Outcome]:
    """A job for each row; at once the outcome of a row that has too few or too many cells."""
    digits = len(str(listed.rows[-1].number))
    for row in listed.rows:
        place = folder / f"{row.number:0{digits}d}-{folder_name(' '.join(row.cells[:1]))}"
        try:
            values = listed.values(row)
        except Refusal as refusal:
            yield Outcome(row=row.number, folder=place, state=State.REFUSED, problems=refusal.problems)
            continue
        filled = fill(data, values)
        yield _Job(
            row=row.number,
            data=filled,
            template=template,
            names=names,
            folder=place,
            effort=effort,
            replace=replace,
        )


def _make_room(folder: Path) -> None:
    """Make the folder of the folders; one that is there is used as it is.

    Raises:
        Refusal: it cannot be made.
    """
    if folder.is_dir():
        return
    check_folder(folder, replace=False)
    try:
        folder.mkdir()
    except OSError as error:
        raise Refusal(
            Problem(what=f"cannot be made ({error.strerror})", where=str(folder), fix="another place")
        ) from None


def _made(jobs: tuple[_Job | Outcome, ...], *, workers: int) -> Iterator[Outcome]:
    """The outcome of each job in order, made by `workers` processes that share nothing with this one.

    An error of the program in one row is raised when all the others are done.
    """
    fault: Exception | None = None
    pool = ProcessPoolExecutor(workers, mp_context=multiprocessing.get_context("spawn"))
    try:
        waiting = [job if isinstance(job, Outcome) else pool.submit(_make, job) for job in jobs]
        for job, result in zip(jobs, waiting, strict=True):
            try:
                yield result.result() if isinstance(result, Future) else result
            except BrokenProcessPool:
                yield _stopped(job)
            except Exception as error:
                error.add_note(f"while row {job.row} was made")
                fault = fault or error
    finally:
        pool.shutdown(wait=True, cancel_futures=True)
    if fault is not None:
        raise fault


def _stopped(job: _Job | Outcome) -> Outcome:
    problem = Problem(
        what="the process that made it was stopped from outside, perhaps for want of memory",
        where=f"list row {job.row}",
        fix="the same again; what is made already is kept",
    )
    return Outcome(row=job.row, folder=job.folder, state=State.REFUSED, problems=(problem,))


def _make(job: _Job) -> Outcome:
    """Make one row, in a child process."""
    try:
        design = design_from_mapping(job.data, base=job.template.parent.resolve())
        if not job.replace and holds_pack_of(design, job.folder):
            return Outcome(row=job.row, folder=job.folder, state=State.KEPT)
        sources = (job.template, job.names, *font_files(design))
        check_folder(job.folder, replace=job.replace, sources=sources)
        nester = Nester(
            effort=job.effort,
            store=None if job.effort is Effort.QUICK else FolderStore(cache_folder()),
            given=nests_beside(job.template.parent),
        )
        pattern = draft(design, nester=nester)
        written = write_pack(pattern, job.folder, replace=job.replace, sources=sources)
    except Refusal as refusal:
        problems = tuple(
            replace(problem, where=f"list row {job.row}" + (f", {problem.where}" if problem.where else ""))
            for problem in refusal.problems
        )
        return Outcome(row=job.row, folder=job.folder, state=State.REFUSED, problems=problems)
    return Outcome(row=job.row, folder=job.folder, state=State.MADE, written=written, notices=pattern.notices)
