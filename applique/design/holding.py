"""Whether the numbers that a maker states are numbers of her own design: which part, which border, which fabric."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator

from applique.design.model import Design
from applique.design.stated import CAN_STATE, OF_ONE_FABRIC, Part, Stated, StatedKind
from applique.errors import Problem, Where
from applique.language import any_of, message

__all__ = ["border_of", "stated_problems"]


def border_of(stated: Stated, design: Design) -> int | None:
    """The border, from 1, that numbers of a border are of: the one that is named, or the only one."""
    if stated.part is not Part.BORDER:
        return None
    return stated.border or (1 if len(design.border) == 1 else None)


def stated_problems(design: Design) -> Iterator[Problem]:
    """What is stated of a part that there is not, of the wrong part, of none, or twice."""
    for number, stated in enumerate(design.stated, 1):
        where = Where.key("stated", number)
        if not stated.numbers:
            yield Problem(
                kind="nothing-stated",
                what=message("no number is stated of {part}", part=stated.part),
                where=where,
                fix=message("one or more of {kinds}", kinds=any_of(CAN_STATE[stated.part])),
            )
        for kind in stated.numbers:
            if kind not in CAN_STATE[stated.part]:
                yield Problem(
                    kind="not-a-number-of-part",
                    what=message("{part} has no number called {kind}", part=stated.part, kind=kind),
                    where=Where.key("stated", number, kind),
                    fix=message("one or more of {kinds}", kinds=any_of(CAN_STATE[stated.part])),
                )
        yield from _border_problems(stated, design, number)
        yield from _fabric_problems(stated, number)
        if stated.part is Part.SLEEVE and not design.hanging.sleeve:
            yield Problem(
                kind="stated-sleeve-missing",
                what=message("the quilt has no hanging sleeve"),
                where=where,
                fix=message("sleeve = true in [hanging], or leave this table out"),
            )
    yield from _said_twice(design)


def _border_problems(stated: Stated, design: Design, number: int) -> Iterable[Problem]:
    where, there = Where.key("stated", number, "border"), len(design.border)
    if stated.part is not Part.BORDER:
        if stated.border is not None:
            yield Problem(
                kind="stated-border-elsewhere",
                what=message("{part} is no border", part=stated.part),
                where=where,
                fix=message('part = "border", or leave the number of the border out'),
            )
    elif (stated.border or 1) > there:
        yield Problem(
            kind="stated-border-missing",
            what=message(
                "there is no border {border}: the design has {there}", border=stated.border or 1, there=there
            ),
            where=where,
            fix=message("the number of a border, from the panel outward"),
        )
    elif border_of(stated, design) is None:
        yield Problem(
            kind="stated-border-unsaid",
            what=message("it doesn't say which border"),
            where=where,
            fix=message("border = 1 for the one next to the panel, and so on outward"),
        )


def _fabric_problems(stated: Stated, number: int) -> Iterable[Problem]:
    where = Where.key("stated", number, "fabric")
    if stated.part is Part.FABRIC and not stated.fabric:
        yield Problem(
            kind="stated-fabric-unsaid",
            what=message("it doesn't say which fabric"),
            where=where,
            fix=message("fabric = the name of one"),
        )
    if stated.fabric and stated.part in OF_ONE_FABRIC:
        yield Problem(
            kind="stated-fabric-elsewhere",
            what=message("{part} is not of several fabrics", part=stated.part),
            where=where,
            fix=message('leave the fabric out, or part = "fabric" for all that is cut from it'),
        )


def _said_twice(design: Design) -> Iterable[Problem]:
    times: Counter[tuple[Part, int | None, str, StatedKind]] = Counter()
    for number, stated in enumerate(design.stated, 1):
        for kind in stated.numbers:
            said = (stated.part, border_of(stated, design), stated.fabric, kind)
            times[said] += 1
            if times[said] == 2:
                yield Problem(
                    kind="stated-twice",
                    what=message("{kind} of {part} is stated before", kind=kind, part=stated.part),
                    where=Where.key("stated", number, kind),
                    fix=message("one number for each, or say which border or fabric"),
                )
