"""A pattern for each row of a list: in parallel, each whole or not at all, and not again what is made already."""

from __future__ import annotations

import hashlib
import json
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from pathlib import Path
from typing import Any, Final

from applique.batch.filling import check_placeholders
from applique.batch.heights import at_height
from applique.batch.processes import side_by_side
from applique.batch.rows import ListRow, NameList, read_list
from applique.design import design_from_mapping
from applique.design.placeholders import fill
from applique.design.reading import read_design_data
from applique.errors import Notice, Problem, Refusal, Where
from applique.language import message
from applique.nesting import Effort, Nester
from applique.pack import (
    Written,
    check_folder,
    folder_name,
    holds_pack,
    holds_pack_of,
    source_files,
    write_pack,
)
from applique.pattern import draft
from applique.store import FolderStore, cache_folder, nests_beside

__all__ = ["TO_PRINT", "Outcome", "State", "folders_of", "left_over", "make_each"]

TO_PRINT: Final = "to-print"
"""The folder beside those of the rows that holds the sheets of all of them; no row has a name without a digest."""
_DIGITS_OF_DIGEST: Final = 8


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
    height: Fraction | None = None,
    workers: int | None = None,
) -> Iterator[Outcome]:
    """Make the pattern of each row of the list `names` into a folder of its own below `folder`.

    `template` is a design file with placeholders; `height` is a cap height (inches) for its lettering instead of its
    own, such as `shared_height` finds. Rows are made side by side, on every core unless `workers` says
    how many; what became of them comes in their order. One that cannot be made does not stop the others. A row has
    the same folder wherever it stands in the list. The processes at work end with this one, however
    it ends, and with the iterator.

    Raises:
        Refusal: the template or the list cannot be used at all; nothing is written then.
    """
    listed = read_list(names)
    data = read_design_data(template)
    check_placeholders(data, listed.columns)
    if height is not None:
        data = at_height(data, height)
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
    return side_by_side(_make, jobs, workers=workers, stopped=_stopped)


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
    for row, name in zip(listed.rows, folders_of(listed.rows), strict=True):
        place = folder / name
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


def folders_of(rows: Iterable[ListRow]) -> Iterator[str]:
    """A name for the folder of each row: its first cell, a digest of all its cells, and a count where rows are equal.

    What stands above a row has no part in it, so that a row put in on top makes no other row anew.
    """
    seen: Counter[str] = Counter()
    for row in rows:
        digest = hashlib.sha256(json.dumps(row.cells).encode("ascii")).hexdigest()[:_DIGITS_OF_DIGEST]
        name = f"{folder_name(row.cells[0])}-{digest}"
        seen[name] += 1
        yield name if seen[name] == 1 else f"{name}-{seen[name]}"


def left_over(folder: Path, outcomes: Iterable[Outcome]) -> tuple[Path, ...]:
    """The folders in `folder` that this program made and that are none of `outcomes`: no row makes them any more."""
    wanted = {outcome.folder.name for outcome in outcomes}
    return tuple(
        path
        for path in sorted(folder.iterdir())
        if path.name not in {*wanted, TO_PRINT} and not path.name.startswith(".") and holds_pack(path)
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
            Problem(
                kind="folder-cannot-be-made",
                what=message("cannot be made ({reason})", reason=error.strerror or type(error).__name__),
                where=Where(file=str(folder)),
                fix=message("another place"),
            )
        ) from None


def _stopped(job: _Job | Outcome) -> Outcome:
    problem = Problem(
        kind="making-stopped",
        what=message("the process that made it was stopped from outside, perhaps for want of memory"),
        where=Where(list_row=job.row),
        fix=message("the same again; what is made already is kept"),
    )
    return Outcome(row=job.row, folder=job.folder, state=State.REFUSED, problems=(problem,))


def _make(job: _Job | Outcome) -> Outcome:
    """Make one row, in a child process; an outcome is one already."""
    if isinstance(job, Outcome):
        return job
    try:
        design = design_from_mapping(job.data, base=job.template.parent.resolve())
        if not job.replace and holds_pack_of(design, job.folder):
            return Outcome(row=job.row, folder=job.folder, state=State.KEPT)
        sources = (job.template, job.names, *source_files(design))
        check_folder(job.folder, replace=job.replace, sources=sources)
        nester = Nester(
            effort=job.effort,
            store=None if job.effort is Effort.QUICK else FolderStore(cache_folder()),
            given=nests_beside(job.template.parent),
        )
        pattern = draft(design, nester=nester)
        written = write_pack(pattern, job.folder, replace=job.replace, sources=sources)
    except Refusal as refusal:
        problems = tuple(problem.within(Where(list_row=job.row)) for problem in refusal.problems)
        return Outcome(row=job.row, folder=job.folder, state=State.REFUSED, problems=problems)
    return Outcome(row=job.row, folder=job.folder, state=State.MADE, written=written, notices=pattern.notices)
