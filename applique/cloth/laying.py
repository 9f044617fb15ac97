"""A cutting plan of what is wanted of one fabric, as the maker wishes it. Exact inches after washing."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from types import MappingProxyType
from typing import Final

from applique.cloth.wanted import Wanted
from applique.cutting import CuttingPlan, Demand, Preference, Supply, plan_cutting
from applique.design import BackingKind, Design
from applique.errors import Where
from applique.language import Message
from applique.units import buying_step, cutting_step, spare_in

__all__ = ["demands_of", "plan_demands"]

_QUARTER_YARD: Final = Fraction(9)
_NO_NAMES: Final[Mapping[str, tuple[Message, Where]]] = MappingProxyType({})


def demands_of(wanted: Sequence[Wanted]) -> tuple[Demand, ...]:
    """What is cut for all uses, in their order."""
    return tuple(demand for use in wanted for demand in use.demands)


def plan_demands(
    demands: Sequence[Demand],
    supplies: Sequence[Supply],
    design: Design,
    preference: Preference,
    names: Mapping[str, tuple[Message, Where]] = _NO_NAMES,
    *,
    shrinkage: Fraction | None = None,
) -> CuttingPlan:
    """How `demands` are cut from `supplies`, in the steps of a shop; `shrinkage` is what washing takes of each length,
    that of the design if not given. A refusal calls demands by their `names`.

    Raises:
        Refusal: what is larger than any cloth it should come from, strips that their joins eat up.
    """
    # Of what a shop cuts, for a plan counts in inches after washing.
    kept = 1 - (design.yardage.shrinkage if shrinkage is None else shrinkage)
    return plan_cutting(
        demands,
        supplies,
        preference=preference,
        worth=_QUARTER_YARD * kept,
        step=buying_step(design.units) * kept,
        spare=spare_in(design.units),
        grid=cutting_step(design.units),
        adds_rows=design.backing.kind is not BackingKind.LEFTOVERS,
        names=names,
        units=design.units,
    )
