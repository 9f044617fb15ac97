"""Numbers that a maker states, held against the plan: whether each holds, and how much there is to spare or lacking.

Exact inches and hours. What is stated for others to buy is held against new fabric alone; a stash is nobody else's.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from types import MappingProxyType
from typing import Final, TypeAlias, assert_never

from applique.buying import Extra, Rule
from applique.cloth import FabricPlan, UseKind, plan_part
from applique.design import Design, Fabric, Part, Stated, StatedKind, border_of
from applique.panel import PanelPlan
from applique.pieces import Layer, Template
from applique.quilt.strips import ClothCut, Join, join_loss, strips_reach, width_that_holds
from applique.quilt.whole import QuiltPlan
from applique.sewing.plan import StitchPlan
from applique.shopping import Shopping
from applique.supplies import usable_width
from applique.units import Units, cutting_step
from applique.yardage import LetterNeeds

__all__ = [
    "HeldBuy",
    "HeldHours",
    "HeldLength",
    "HeldNumber",
    "HeldPieces",
    "HeldStrips",
    "NothingCut",
    "Verdict",
    "hold_numbers",
]

_USES: Final = MappingProxyType(
    {
        Part.PANEL: UseKind.PANEL,
        Part.BORDER: UseKind.BORDER,
        Part.BINDING: UseKind.BINDING,
        Part.BACKING: UseKind.BACKING,
        Part.SLEEVE: UseKind.SLEEVE,
        Part.LETTERS: UseKind.LETTERS,
    }
)
_EIGHTH: Final = Fraction(1, 8)


class Verdict(StrEnum):
    """Whether a stated number holds."""

    HOLDS = "holds"
    SHORT = "falls short"
    NOTHING = "nothing of it is cut"


@dataclass(frozen=True, slots=True, kw_only=True)
class HeldStrips:
    """`stated` strips across fabric of `usable_widths`, the different ones of what is cut; `needed` are the fewest that
    do there, None where no number of them does.

    `holds_from` is the least usable width at which they do, exact where they are joined into one run; None if there is
    none. `over` is how far they reach beyond that run, less than nothing where they fall short of it, and None where
    the strips are not one run.
    """

    stated: int
    needed: int | None
    usable_widths: tuple[Fraction, ...]
    holds_from: Fraction | None
    over: Fraction | None

    @property
    def verdict(self) -> Verdict:
        """Whether so many are enough."""
        enough = self.needed is not None and self.stated >= self.needed
        return Verdict.HOLDS if enough else Verdict.SHORT


@dataclass(frozen=True, slots=True, kw_only=True)
class HeldPieces:
    """`stated` pieces, of which `needed` are cut."""

    stated: int
    needed: int

    @property
    def over(self) -> int:
        """How many are too many, less than nothing where there are too few."""
        return self.stated - self.needed

    @property
    def verdict(self) -> Verdict:
        """Whether so many are enough."""
        return _verdict(self.over)


@dataclass(frozen=True, slots=True, kw_only=True)
class HeldLength:
    """A length in inches: of strips joined, or of fabric between squared ends."""

    stated: Fraction
    needed: Fraction

    @property
    def over(self) -> Fraction:
        """What is to spare, less than nothing where it falls short."""
        return self.stated - self.needed

    @property
    def verdict(self) -> Verdict:
        """Whether it is long enough."""
        return _verdict(self.over)


@dataclass(frozen=True, slots=True, kw_only=True)
class HeldBuy:
    """Inches to buy, held against what is wanted of each material by its rule, before a shop rounds it up."""

    stated: Fraction
    rules: tuple[tuple[str, Rule[Extra]], ...]

    @property
    def needed(self) -> Fraction:
        """What is wanted of all of them."""
        return sum((rule.wanted for _, rule in self.rules), Fraction(0))

    @property
    def over(self) -> Fraction:
        """What is to spare, less than nothing where it falls short."""
        return self.stated - self.needed

    @property
    def verdict(self) -> Verdict:
        """Whether it is enough."""
        return _verdict(self.over)


@dataclass(frozen=True, slots=True, kw_only=True)
class HeldHours:
    """Hours of stitching, held against a range: they fall short of the `least`."""

    stated: float
    least: float
    most: float

    @property
    def verdict(self) -> Verdict:
        """Whether a quick hand is done by then."""
        return Verdict.HOLDS if self.stated >= self.least else Verdict.SHORT


@dataclass(frozen=True, slots=True, kw_only=True)
class NothingCut:
    """A number of what this quilt does not have, such as strips of a binding that is cut from a square."""

    stated: Fraction | int | float

    @property
    def verdict(self) -> Verdict:
        """That there is nothing to hold it against."""
        return Verdict.NOTHING


Held: TypeAlias = HeldStrips | HeldPieces | HeldLength | HeldBuy | HeldHours | NothingCut
"""A number beside what it is held against, by its kind."""


@dataclass(frozen=True, slots=True, kw_only=True)
class HeldNumber:
    """One number of the `table` of that number, from 1; `border` is the one it is of, `fabric` the one it names."""

    table: int
    part: Part
    border: int | None
    fabric: str
    kind: StatedKind
    held: Held

    @property
    def verdict(self) -> Verdict:
        """Whether it holds."""
        return self.held.verdict


@dataclass(frozen=True, slots=True, kw_only=True)
class _Cut:
    """What is cut in strips from one fabric: whole `pieces` (length, count), or a `run` where they have a `join`."""

    usable: Fraction
    strip_width: Fraction
    pieces: tuple[tuple[Fraction, int], ...]
    run: Fraction
    join: Join | None
    allowance: Fraction


def hold_numbers(
    design: Design,
    panel: PanelPlan,
    quilt: QuiltPlan,
    templates: Sequence[Template],
    needs: LetterNeeds,
    shopping: Shopping,
    stitching: StitchPlan,
) -> tuple[HeldNumber, ...]:
    """Every number that `design` states, in its order, held against what was worked out.

    Strips are judged as she states them: so many of the usable width, each cut into whole pieces or all joined end to
    end, whichever takes fewer. What a part takes is planned for that part alone, from new fabric.

    Raises:
        Refusal: a part that cannot be cut from new fabric.
    """
    work = _Work(
        design=design,
        panel=panel,
        quilt=quilt,
        templates=tuple(templates),
        needs=needs,
        shopping=shopping,
        stitching=stitching,
    )
    return tuple(
        HeldNumber(
            table=number,
            part=stated.part,
            border=border_of(stated, design),
            fabric=stated.fabric,
            kind=kind,
            held=_held(work, stated, kind),
        )
        for number, stated in enumerate(design.stated, 1)
        for kind in stated.numbers
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Work:
    design: Design
    panel: PanelPlan
    quilt: QuiltPlan
    templates: tuple[Template, ...]
    needs: LetterNeeds
    shopping: Shopping
    stitching: StitchPlan


def _verdict(over: Fraction | int) -> Verdict:
    return Verdict.HOLDS if over >= 0 else Verdict.SHORT


def _held(work: _Work, stated: Stated, kind: StatedKind) -> Held:
    number = stated.numbers[kind]
    match kind:
        case StatedKind.STRIPS:
            cuts = tuple(_cuts(work, stated))
            return _strips(int(number), cuts, work.design.units) if cuts else NothingCut(stated=number)
        case StatedKind.PIECES:
            pieces = _pieces(work, stated)
            return HeldPieces(stated=int(number), needed=pieces) if pieces else NothingCut(stated=number)
        case StatedKind.LENGTH:
            length = _length(work, stated)
            return HeldLength(stated=Fraction(number), needed=length) if length else NothingCut(stated=number)
        case StatedKind.BUY:
            rules = _rules(work, stated)
            return HeldBuy(stated=Fraction(number), rules=rules) if rules else NothingCut(stated=number)
        case StatedKind.HOURS:
            return _hours(work, stated, float(number))
    assert_never(kind)


# Strips


def _cuts(work: _Work, stated: Stated) -> Iterator[_Cut]:
    """What of a part is cut in strips."""
    quilt, allowance = work.quilt, work.design.seam_allowance
    if stated.part is Part.SLEEVE and quilt.sleeve is not None:
        yield _Cut(
            usable=_usable(work, quilt.fabrics.sleeve),
            strip_width=quilt.sleeve.cut_depth,
            pieces=(),
            run=quilt.sleeve.cut_length,
            join=Join.STRAIGHT,
            allowance=allowance,
        )
    if stated.part is Part.BINDING and quilt.binding is not None and quilt.binding.cut.join is not None:
        yield _cut(work, quilt.binding.cut)
    border = border_of(stated, work.design)
    if border is not None:
        for cut in quilt.borders[border - 1].cuts:
            if stated.fabric in ("", cut.fabric):
                yield _cut(work, cut)


def _cut(work: _Work, cut: ClothCut) -> _Cut:
    pieces = tuple((piece.length, piece.count) for piece in cut.pieces)
    return _Cut(
        usable=_usable(work, work.quilt.fabrics.by_name[cut.fabric]),
        strip_width=cut.strip_width,
        pieces=tuple(sorted(pieces, reverse=True)),
        run=sum((length * count for length, count in pieces), Fraction(0))
        if cut.needed is None
        else cut.needed,
        join=cut.join,
        allowance=work.design.seam_allowance,
    )


def _usable(work: _Work, fabric: Fabric) -> Fraction:
    return usable_width(fabric, work.design.yardage)


def _strips(stated: int, cuts: Sequence[_Cut], units: Units) -> HeldStrips:
    needed = _all_needed([_needed(cut, cut.usable) for cut in cuts])
    holds = needed is not None and stated >= needed
    over = _over(stated, cuts[0]) if len(cuts) == 1 else None
    if over is not None and holds is not (over >= 0):
        over = None  # the pieces come whole from so many strips, which are too short to be joined first
    return HeldStrips(
        stated=stated,
        needed=needed,
        usable_widths=tuple(dict.fromkeys(cut.usable for cut in cuts)),
        holds_from=_holds_from(stated, cuts, units),
        over=over,
    )


def _over(stated: int, cut: _Cut) -> Fraction | None:
    if cut.join is None:
        return None
    reach = strips_reach(
        stated,
        usable_width=cut.usable,
        strip_width=cut.strip_width,
        join=cut.join,
        seam_allowance=cut.allowance,
    )
    return reach - cut.run


def _needed(cut: _Cut, usable: Fraction) -> int | None:
    """The fewest strips of that width that do; None where none do."""
    ways = [_whole(cut, usable), _joined(cut, usable)]
    return min((strips for strips in ways if strips is not None), default=None)


def _whole(cut: _Cut, usable: Fraction) -> int | None:
    """Strips that give every piece whole, the longest first in each."""
    if not cut.pieces or cut.pieces[0][0] > usable:
        return None
    left, strips = dict(cut.pieces), 0
    while any(left.values()):
        strips += 1
        room = usable
        for length, count in left.items():
            fit = min(count, room // length)
            left[length] -= fit
            room -= fit * length
    return strips


def _joined(cut: _Cut, usable: Fraction) -> int | None:
    """Strips that reach the run when they are joined.

    Source:
        n·usable − (n−1)·loss ≥ run, solved for n.
    """
    if cut.join is None:
        return None
    if cut.run <= usable:
        return 1
    loss = join_loss(cut.join, cut.strip_width, seam_allowance=cut.allowance)
    return math.ceil((cut.run - loss) / (usable - loss)) if usable > loss else None


def _all_needed(counts: Sequence[int | None]) -> int | None:
    known = [count for count in counts if count is not None]
    return sum(known) if len(known) == len(counts) else None


def _holds_from(stated: int, cuts: Sequence[_Cut], units: Units) -> Fraction | None:
    """The least usable width at which so many strips do: of one run exactly, else to an eighth or the millimeter."""
    step = _EIGHTH if units is Units.INCHES else cutting_step(units)

    def enough(steps: int) -> bool:
        needed = _all_needed([_needed(cut, steps * step) for cut in cuts])
        return needed is not None and needed <= stated

    low, high = 0, math.ceil(max(cut.run for cut in cuts) / step)
    if not enough(high):
        return None
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if enough(middle) else (middle, high)
    only = cuts[0]
    if len(cuts) > 1 or only.join is None:
        return high * step
    joined = width_that_holds(
        only.run,
        strips=stated,
        strip_width=only.strip_width,
        join=only.join,
        seam_allowance=only.allowance,
    )
    return min(high * step, joined)


# Pieces, lengths, what to buy, hours


def _pieces(work: _Work, stated: Stated) -> int:
    quilt = work.quilt
    match stated.part:
        case Part.PANEL:
            return 0 if quilt.panel_cut is None else max(1, len(quilt.panel_cut.widths))
        case Part.BACKING:
            cut = work.shopping.use(UseKind.BACKING) is not None
            return min(len(way.widths) for way in quilt.backing.ways) if cut else 0
        case Part.LETTERS:
            return sum(
                use.count
                for template in work.templates
                if template.layer is Layer.LETTER
                for use in template.uses
                if stated.fabric in ("", use.fabric.name)
            )
        case _:
            return sum(count for cut in _cuts(work, stated) for _, count in cut.pieces)


def _length(work: _Work, stated: Stated) -> Fraction:
    """How long the strips of a part are joined; of any other part how much of the fabric's length it takes."""
    runs = [cut.run for cut in _cuts(work, stated) if cut.join is not None]
    if runs:
        return sum(runs, Fraction(0))
    return sum((rule.used for _, rule in _rules(work, stated)), Fraction(0))


def _rules(work: _Work, stated: Stated) -> tuple[tuple[str, Rule[Extra]], ...]:
    """By which rules a part is bought; none where nothing is used."""
    if stated.part is Part.WEB:
        rule = work.needs.fusible.rule
        return (("", rule),) if rule.used else ()
    return tuple((plan.fabric.name, plan.rule) for plan in _plans(work, stated))


def _plans(work: _Work, stated: Stated) -> tuple[FabricPlan, ...]:
    return plan_part(
        work.design,
        work.quilt,
        work.needs.cloth,
        kind=_USES.get(stated.part),
        border=border_of(stated, work.design),
        fabric=stated.fabric,
        backing=work.shopping.use(UseKind.BACKING) is not None,
    )


def _hours(work: _Work, stated: Stated, hours: float) -> Held:
    minutes = [
        row.minutes
        for laid, row in zip(work.panel.laid, work.stitching.rows, strict=True)
        if stated.fabric in ("", laid.fabric.name)
    ]
    if not minutes:
        return NothingCut(stated=hours)
    least, most = (math.fsum(pair[end] for pair in minutes) / 60 for end in (0, 1))
    return HeldHours(stated=hours, least=least, most=most)
