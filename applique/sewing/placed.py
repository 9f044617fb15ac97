"""Everything that is laid on the panel: rows and other pieces, the stitch of each, and the outline layer behind."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from applique.design import Design, PanelShape
from applique.errors import Problem, Refusal, Where
from applique.fabrics import Fabrics, resolve_fabrics
from applique.geometry.place import Place
from applique.outline_layer import PlacedOutline, cut_off_outlines
from applique.panel import CutShapes, PanelPlan, PlacedRow, cut_off_at_edge, place_rows, side_by_side
from applique.quilt.panel_cut import trim_after_stitching
from applique.quilt.setting import SettingPlan, plan_setting
from applique.quilt.strips import Extent
from applique.sewing.holes import FilledHoles, filled_holes, lay_sewn_outlines
from applique.sewing.limits import Limits, limits_for
from applique.sewing.lining_up import moves_to_line_up
from applique.sewing.stitches import EdgeStitch, edge_stitches

__all__ = ["Placed", "PlacedBlock", "place", "sewn"]


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedBlock:
    """One panel of a pattern: what it is called (nothing where it is the only one), how many are made, the stage of
    its own design in its own frame, and where that frame lies in the one of all panels: once where they are shown side
    by side, as often as it is made where they are set together."""

    name: str
    count: int
    placed: Placed
    places: tuple[Place, ...]

    @property
    def at(self) -> Place:
        """Where it lies first."""
        return self.places[0]


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """The first stage of a pattern: a design with its panel laid, shapes in the frame of the panel.

    `stitches` and `limits` are one for each that is laid; `filled` says which holes of the outline layer were closed.
    Where the design has blocks, each is placed as a panel of its own, rows numbered through, and the panel is all of
    them side by side, or what `setting` makes of them, with each row where its block lies first.
    """

    design: Design
    fabrics: Fabrics
    panel: PanelPlan
    stitches: tuple[EdgeStitch, ...]
    limits: tuple[Limits, ...]
    outlines: tuple[PlacedOutline, ...]
    filled: tuple[FilledHoles, ...]
    several: tuple[PlacedBlock, ...] = ()
    setting: SettingPlan | None = None

    @property
    def blocks(self) -> tuple[PlacedBlock, ...]:
        """Every panel in its own frame: the blocks of the design, or the one panel that it has."""
        return self.several or (PlacedBlock(name="", count=1, placed=self, places=(Place(x=0.0, y=0.0),)),)

    @property
    def fitted(self) -> Fraction | None:
        """The cap height of the rows that are as large as fits, the least of those of several blocks; None where every
        row states its own."""
        heights = (row.cap_height for row in self.panel.rows if self.design.fits(row.asked))
        return min(heights, default=None)


def place(design: Design, *, after: Placed | None = None) -> Placed:
    """The panel of `design` with all that lies on it.

    `after` is what was placed for a design much like it, such as that before the last key. It saves time and has no
    part in what comes back.

    Raises:
        Refusal: rows that cannot be set or do not fit, with every problem.
    """
    if design.block:
        return _beside(design, _blocks(design))
    return _one_panel(design, CutShapes(), near=after.fitted if after is not None else None)


def _one_panel(
    design: Design,
    shapes: CutShapes,
    *,
    near: Fraction | None = None,
    first: int = 1,
    set_together: bool = False,
) -> Placed:
    """A panel with its rows numbered from `first`; the same shape has the same key in all that have their `shapes`."""
    plan = place_rows(design, near=near, shapes=shapes, first=first)
    placed, step = sewn(design, plan, set_together=set_together), design.lettering.baseline_step
    if step is None or (trim := placed.panel.trim) / 2 % step == 0:
        return placed
    # How much larger the panel is cut hangs on its stitches, and those on what is laid on it.
    plan = place_rows(design, trim=trim, near=placed.fitted, shapes=shapes, first=first)
    return sewn(design, plan, set_together=set_together)


def _blocks(design: Design) -> tuple[Placed, ...]:
    """Each block of the design as a panel of its own, lined up with those beside it where that is asked for.

    Raises:
        Refusal: the problems of every block, each at its place in the design.
    """
    shapes = CutShapes()
    together = design.setting.sets_together
    placed = _each_alone(design.blocks_alone, shapes, set_together=together)
    if not design.setting.align_baselines:
        return placed
    moves = moves_to_line_up(design.grid, [one.panel for one in placed])
    if not moves:
        return placed
    moved = [_moved(one.design, moves.get(at, {})) for at, one in enumerate(placed)]
    return _each_alone(moved, shapes, set_together=together)


def _moved(alone: Design, moves: Mapping[int, Fraction]) -> Design:
    rows = tuple(
        replace(row, up=row.up + moves.get(place, Fraction(0))) for place, row in enumerate(alone.row)
    )
    return replace(alone, row=rows)


def _each_alone(designs: Sequence[Design], shapes: CutShapes, *, set_together: bool) -> tuple[Placed, ...]:
    """The panel of each of `designs`, rows numbered through.

    Raises:
        Refusal: the problems of every one, each at its place in the design of all blocks.
    """
    problems: list[Problem] = []
    placed: list[Placed] = []
    first = 1
    for number, alone in enumerate(designs, 1):
        try:
            placed.append(_one_panel(alone, shapes, first=first, set_together=set_together))
        except Refusal as refusal:
            problems += [replace(one, where=_in_block(one.where, number, first)) for one in refusal.problems]
        first += len(alone.row)
    if problems:
        raise Refusal(problems)
    return tuple(placed)


def _in_block(where: Where, block: int, first: int) -> Where:
    """A place in the design of a block alone, rows numbered from `first`, as a place in the design of all blocks."""
    path = where.path
    if where.row is not None:
        path = ("row", where.row - first + 1, *path[2:])
    elif path:
        return where
    return replace(where, path=("block", block, *path))


def _beside(design: Design, blocks: tuple[Placed, ...]) -> Placed:
    """All blocks on one panel, which is never cut, side by side or set together: what is true of the letters of all of
    them."""
    fabrics = resolve_fabrics(design)
    setting = _setting(design, blocks, fabrics)
    corners, (width, height) = _corners(blocks, setting)
    several = tuple(
        PlacedBlock(
            name=block.name,
            count=block.count,
            placed=one,
            places=tuple(Place(x=float(x), y=float(y)) for x, y in own),
        )
        for block, one, own in zip(design.block, blocks, corners, strict=True)
    )
    laid = tuple(
        row.moved(one.at.x, one.at.y)
        for one in several
        for row in one.placed.panel.laid
        if isinstance(row, PlacedRow)
    )
    first = blocks[0]
    panel = replace(
        first.panel,
        width=width,
        height=height,
        trim=max(one.panel.trim for one in blocks),
        laid=laid,
        notices=tuple(notice for one in blocks for notice in one.panel.notices),
        groups=tuple((len(one.placed.panel.laid), one.count) for one in several),
        shape=PanelShape.RECTANGLE,
        over=(Fraction(0), Fraction(0)),
    )
    return Placed(
        design=design,
        fabrics=fabrics,
        panel=panel,
        stitches=tuple(stitch for one in blocks for stitch in one.stitches),
        limits=tuple(limits for one in blocks for limits in one.limits),
        outlines=tuple(
            replace(piece, place=piece.place.within(one.at))
            for one in several
            for piece in one.placed.outlines
        ),
        filled=tuple(filled for one in blocks for filled in one.filled),
        several=several,
        setting=setting,
    )


def _setting(design: Design, blocks: Sequence[Placed], fabrics: Fabrics) -> SettingPlan | None:
    if not design.setting.sets_together:
        return None
    return plan_setting(
        design.setting,
        design.grid,
        [(one.panel.width, one.panel.height) for one in blocks],
        design.panel_size,
        fabrics,
        seam_allowance=design.seam_allowance,
        units=design.units,
    )


def _corners(
    blocks: Sequence[Placed], setting: SettingPlan | None
) -> tuple[Sequence[tuple[Extent, ...]], Extent]:
    """The lower left corners of each block, and the size of all of them together."""
    if setting is not None:
        return [setting.corners_of(number) for number, _ in enumerate(blocks)], setting.finished
    corners, size = side_by_side([(one.panel.width, one.panel.height) for one in blocks])
    return [(corner,) for corner in corners], size


def sewn(design: Design, panel: PanelPlan, *, set_together: bool = False) -> Placed:
    """The panel of `design` with the stitch of all that is laid on it, the outline layer behind, and what it is cut
    larger by: as those stitches want it, or because it is a block to be `set_together` with others. What may run off
    the panel is cut off at its cut edge."""
    fabrics = resolve_fabrics(design)
    stitches = edge_stitches(design, panel.laid, fabrics)
    limits = tuple(limits_for(design.sewing, stitch) for stitch in stitches)
    whole = lay_sewn_outlines(design, panel.laid, fabrics, limits)
    trim = Fraction(0)
    if panel.is_cut:
        trim = trim_after_stitching(
            design.panel,
            [*(stitch.stitch for stitch in stitches), *design.stitching.offers],
            when=design.stitching.when,
            units=design.units,
            set_together=set_together,
        )
    panel = replace(panel, trim=trim)
    may_run_off = {one.where for one in panel.laid if one.runs_off}
    outlines = cut_off_outlines(whole, panel.edges, may_run_off)
    panel = cut_off_at_edge(panel)
    return Placed(
        design=design,
        fabrics=fabrics,
        panel=panel,
        stitches=stitches,
        limits=limits,
        outlines=outlines,
        filled=tuple(filled_holes(panel.laid, outlines, limits)),
    )
