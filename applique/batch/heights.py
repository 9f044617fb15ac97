"""One height of letters for a whole list: the largest at which every name of it fits."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from typing import Any

from applique.batch.filling import check_placeholders
from applique.batch.processes import side_by_side
from applique.batch.rows import NameList, read_list
from applique.design import FIT, design_from_mapping
from applique.design.placeholders import fill
from applique.design.reading import read_design_data
from applique.errors import Refusal
from applique.language import Measure
from applique.sewing.placed import place
from applique.units import Units, as_length

__all__ = ["SharedHeight", "at_height", "shared_height"]


@dataclass(frozen=True, slots=True, kw_only=True)
class SharedHeight:
    """A cap height in inches at which all rows of a list fit that can be set at all, and which of them allows no more.

    `decided_by` are the numbers that a spreadsheet shows beside those rows.
    """

    height: Fraction
    units: Units
    decided_by: tuple[int, ...]

    @property
    def said(self) -> Measure:
        """The height as it is printed."""
        return as_length(self.height, self.units, denominator=16)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Job:
    row: int
    data: Mapping[str, Any]
    base: Path


@dataclass(frozen=True, slots=True, kw_only=True)
class _Fitted:
    row: int
    height: Fraction | None = None
    units: Units = Units.INCHES


def shared_height(template: Path, names: Path, *, workers: int | None = None) -> SharedHeight | None:
    """The largest cap height of the lettering at which each row of the list `names` fits the panel of `template`.

    What the template says of that height has no part in it; rows of words that state a height or a width of their own
    keep it. Rows of the list that cannot be set at any height are left out, for they are refused by themselves. None
    where no row of words goes by the lettering, or none can be set.

    Raises:
        Refusal: the template or the list cannot be used at all.
    """
    listed = read_list(names)
    data = read_design_data(template)
    check_placeholders(data, listed.columns)
    base = template.parent.resolve()
    heights = [
        one
        for one in side_by_side(_fit, tuple(_jobs(data, listed, base)), workers=workers, stopped=_stopped)
        if one.height is not None
    ]
    least = min((one.height for one in heights if one.height is not None), default=None)
    if least is None:
        return None
    deciding = tuple(one.row for one in heights if one.height == least)
    return SharedHeight(height=least, units=heights[0].units, decided_by=deciding)


def at_height(data: Mapping[str, Any], height: Fraction | str) -> dict[str, Any]:
    """The template `data` with this cap height for its lettering."""
    lettering = data.get("lettering")
    return {
        **data,
        "lettering": {**(lettering if isinstance(lettering, Mapping) else {}), "cap_height": height},
    }


def _jobs(data: Mapping[str, Any], listed: NameList, base: Path) -> Iterator[_Job]:
    free = at_height(data, FIT)
    for row in listed.rows:
        if len(row.cells) == len(listed.columns):
            yield _Job(row=row.number, data=fill(free, listed.values(row)), base=base)


def _fit(job: _Job) -> _Fitted:
    try:
        design = design_from_mapping(job.data, base=job.base)
        return _Fitted(row=job.row, height=place(design).fitted, units=design.units)
    except Refusal:
        return _Fitted(row=job.row)


def _stopped(job: _Job) -> _Fitted:
    return _Fitted(row=job.row)
