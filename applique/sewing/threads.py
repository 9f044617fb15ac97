"""Thread to buy and bobbins to wind, by what is sewn and in which color.

Lengths are inches, with waste, whole yards or meters (`units.thread_counted`). Half of the thread of a lockstitch runs
through the needle and half comes from the bobbin, for the two meet in the middle of the layers: geometry.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from fractions import Fraction
from typing import Final

from applique.cloth import ClothPlan
from applique.design import Design, Stitching
from applique.errors import Where
from applique.panel import PanelPlan
from applique.pieces import Layer
from applique.quilt.whole import QuiltPlan
from applique.sewing.piecing import SEAM_RATIO, SeamKind, piecing_seams
from applique.sewing.plan import RowPlan, StitchPlan
from applique.sewing.quilting import MEDIUM_SPACING, QuiltingPlan, quilting_thread
from applique.units import measured_up, run_counted, thread_counted

__all__ = [
    "QUILTING_STITCH",
    "SeamLengths",
    "ThreadNeed",
    "ThreadPart",
    "ThreadUse",
    "letter_threads",
    "plan_threads",
]

QUILTING_STITCH: Final = 2.5 / 25.4
"""Inches of a quilting stitch where the design says nothing of quilting, and of one that sews a binding on:
common practice, no source."""


class ThreadUse(StrEnum):
    """What is sewn with a thread. That for piecing sews the binding and the sleeve as well; where nothing is pieced, it
    is for these alone."""

    LETTERS = "letters"
    OUTLINE = "outline layer"
    PIECING = "piecing"
    BINDING = "binding"
    SLEEVE = "binding and hanging sleeve"
    QUILTING = "quilting"


_USES: Final = {Layer.OUTLINE: ThreadUse.OUTLINE}
"""Layers that are no letters."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ThreadPart:
    """Thread for one use, through the needle and from the bobbin."""

    use: ThreadUse
    top: Fraction
    bobbin: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class SeamLengths:
    """The seams that a thread is figured by, as they are counted: those that join fabrics, and those through all layers
    of the quilt, which take `through` times their length."""

    plain: Fraction
    layered: Fraction
    through: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class ThreadNeed:
    """One thread to buy: its uses, the spools that hold all of it, and the bobbins to wind from them, with what one of
    each holds.

    `name` is the fabric that it matches, None where it matches none; `color` is None where any serves. `places` are the
    rows that it sews, where another thread that matches no fabric is for the same uses. `spacing` is there for quilting
    that the design does not describe: it is figured as lines so far apart all over the quilt, `line` of them in all.
    `at_most` is there for quilting to choose from: it holds whichever takes the most. `with_piecing` is there for
    quilting too: how many spools hold it and the thread for piecing together, if those are fewer than both apart.
    `seams` are there for the thread of seams.
    """

    name: str | None
    color: str | None
    parts: tuple[ThreadPart, ...]
    spools: int
    on_spool: Fraction
    bobbins: int
    on_bobbin: Fraction
    spacing: Fraction | None = None
    line: float = 0.0
    at_most: bool = False
    places: tuple[Where, ...] = ()
    with_piecing: int | None = None
    seams: SeamLengths | None = None

    @property
    def matches_nothing(self) -> bool:
        """Whether it has a color of its own."""
        return self.color is not None and self.name is None

    @property
    def uses(self) -> tuple[ThreadUse, ...]:
        """What is sewn with it."""
        return tuple(part.use for part in self.parts)

    @property
    def top(self) -> Fraction:
        """Needle thread."""
        return sum((part.top for part in self.parts), Fraction(0))

    @property
    def bobbin(self) -> Fraction:
        """Bobbin thread."""
        return sum((part.bobbin for part in self.parts), Fraction(0))

    @property
    def length(self) -> Fraction:
        """All of it."""
        return self.top + self.bobbin


def plan_threads(
    design: Design,
    panel: PanelPlan,
    quilt: QuiltPlan,
    cloth: ClothPlan,
    stitching: StitchPlan,
    quilting: Sequence[QuiltingPlan],
) -> tuple[ThreadNeed, ...]:
    """Every thread: of each color for letters and what lies behind them, for piecing, for quilting."""
    waste = 1 + design.stitching.waste_percent / 100
    seams = piecing_seams(panel, quilt, cloth)
    lengths = SeamLengths(
        plain=run_counted(math.fsum(seam.length - seam.layered for seam in seams), design.units),
        layered=run_counted(math.fsum(seam.layered for seam in seams), design.units),
        through=measured_up(quilting_thread(QUILTING_STITCH), Fraction(1, 100)),
    )
    length = waste * float(lengths.plain * Fraction(SEAM_RATIO) + lengths.layered * lengths.through)
    use = _seams_use({seam.kind for seam in seams})
    pieced = _need(design.stitching, (_halves(use, thread_counted(length, design.units)),), seams=lengths)
    sewn = (*letter_threads(design, panel, quilt, stitching.rows), *((pieced,) if seams else ()))
    if not quilt.layered:
        return sewn
    quilted = _for_quilting(design, quilt, quilting, waste)
    both = math.ceil((pieced.length + quilted.length) / design.stitching.spool)
    return (*sewn, replace(quilted, with_piecing=both if both < pieced.spools + quilted.spools else None))


def _seams_use(kinds: set[SeamKind]) -> ThreadUse:
    """What the thread is for that sews seams of these kinds."""
    if kinds == {SeamKind.BINDING}:
        return ThreadUse.BINDING
    return ThreadUse.SLEEVE if kinds == {SeamKind.BINDING, SeamKind.SLEEVE} else ThreadUse.PIECING


def letter_threads(
    design: Design, panel: PanelPlan, quilt: QuiltPlan, rows: Sequence[RowPlan]
) -> Iterator[ThreadNeed]:
    """The thread of each color along the edges of `rows`, and of what lies behind them; those that neither fabric nor
    use tells apart have their places.
    """
    needs = tuple(_by_color(design, panel, quilt, rows))
    for need in needs:
        others = [one for one in needs if one is not need and one.matches_nothing]
        if need.matches_nothing and any(set(need.uses) & set(one.uses) for one in others):
            sewn = (row.where for row in rows if any(layer.thread == need.color for layer in row.layers))
            yield replace(need, places=tuple(sewn))
        else:
            yield need


def _by_color(
    design: Design, panel: PanelPlan, quilt: QuiltPlan, rows: Sequence[RowPlan]
) -> Iterator[ThreadNeed]:
    names = {fabric.color: fabric.name for fabric in quilt.fabrics.by_name.values()}
    own = (quilt.fabrics.by_name[fabric.name] for fabric in reversed(design.fabric))
    names |= {fabric.color: fabric.name for fabric in own}
    names |= {row.fabric.color: row.fabric.name for row in panel.laid}
    colors: dict[str, dict[ThreadUse, list[ThreadPart]]] = {}
    for row in rows:
        for layer in row.layers:
            use = _USES.get(layer.layer, ThreadUse.LETTERS)
            part = ThreadPart(use=use, top=layer.top, bobbin=layer.bobbin)
            colors.setdefault(layer.thread, {}).setdefault(use, []).append(part)
    for color, uses in colors.items():
        parts = tuple(
            ThreadPart(
                use=use,
                top=sum((part.top for part in uses[use]), Fraction(0)),
                bobbin=sum((part.bobbin for part in uses[use]), Fraction(0)),
            )
            for use in ThreadUse
            if use in uses
        )
        yield _need(design.stitching, parts, name=names.get(color), color=color)


def _for_quilting(
    design: Design, quilt: QuiltPlan, quilting: Sequence[QuiltingPlan], waste: float
) -> ThreadNeed:
    stitching = design.stitching
    if quilting:
        offered = [plan.thread for plan in quilting if plan.offered]
        length = sum((plan.thread for plan in quilting if not plan.offered), Fraction(0)) + max(
            offered, default=Fraction(0)
        )
        part = _halves(ThreadUse.QUILTING, length)
        return _need(stitching, (part,), at_most=len(offered) > 1)
    area = float(quilt.finished[0] * quilt.finished[1])
    spacing = MEDIUM_SPACING[design.units]
    line = area / float(spacing)
    length = thread_counted(line * quilting_thread(QUILTING_STITCH) * waste, design.units)
    need = _need(stitching, (_halves(ThreadUse.QUILTING, length),), spacing=spacing)
    return replace(need, line=line)


def _halves(use: ThreadUse, length: Fraction) -> ThreadPart:
    return ThreadPart(use=use, top=length / 2, bobbin=length / 2)


def _need(
    stitching: Stitching,
    parts: tuple[ThreadPart, ...],
    *,
    name: str | None = None,
    color: str | None = None,
    spacing: Fraction | None = None,
    at_most: bool = False,
    seams: SeamLengths | None = None,
) -> ThreadNeed:
    bobbin = sum((part.bobbin for part in parts), Fraction(0))
    length = sum((part.top for part in parts), bobbin)
    return ThreadNeed(
        name=name,
        color=color,
        parts=parts,
        spools=math.ceil(length / stitching.spool),
        on_spool=stitching.spool,
        bobbins=math.ceil(bobbin / stitching.bobbin),
        on_bobbin=stitching.bobbin,
        spacing=spacing,
        at_most=at_most,
        seams=seams,
    )
