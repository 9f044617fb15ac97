"""The whole quilt around its panel: `plan_quilt` works every part out from the design, once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Final

from applique.design import Design, Finish, HangsBy, PanelShape
from applique.errors import Problem, Refusal, Where
from applique.fabrics import Fabrics
from applique.language import message
from applique.panel import PanelPlan
from applique.quilt.banner import Ties, plan_ties
from applique.quilt.borders import BorderPlan, plan_borders
from applique.quilt.bunting import TapePlan, plan_tape
from applique.quilt.edge import Edge, outlined_edge, straight_edge
from applique.quilt.finishing import (
    BackingPlan,
    BattingPlan,
    BindingPlan,
    SleevePlan,
    plan_backing,
    plan_batting,
    plan_binding,
    plan_sleeve,
)
from applique.quilt.panel_cut import PanelCut, cut_panel
from applique.quilt.pillow import PillowPlan, plan_pillow
from applique.quilt.scene import Scene, loose_scene, scale_scene, worn_scene
from applique.quilt.setting import SettingPlan
from applique.quilt.sizes import BedCover, QuiltClass, QuiltSize, bed_cover, quilt_class
from applique.quilt.strips import Extent
from applique.units import Units, cutting_step

__all__ = ["PanelToCut", "QuiltPlan", "plan_blocks", "plan_quilt"]


_OWN_SIZES: Final = {
    Finish.PILLOW: QuiltSize.PILLOW,
    Finish.BANNER: QuiltSize.BANNER,
    Finish.GARMENT: QuiltSize.GARMENT,
    Finish.LETTERS: QuiltSize.LETTERS,
}
"""What is not called by the size that a quilt of its size has."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PanelToCut:
    """A panel and how it is cut, `count` times: that of a block called `name`, or with no name the only one.
    `finished` is its finished size, `around` once around its finished edge,
    `shape` its outline."""

    name: str
    count: int
    finished: Extent
    around: Fraction
    shape: PanelShape
    cut: PanelCut

    @property
    def is_shaped(self) -> bool:
        """Whether it is no rectangle, and cut to its outline once its letters are stitched."""
        return self.shape is not PanelShape.RECTANGLE


@dataclass(frozen=True, slots=True, kw_only=True)
class QuiltPlan:
    """Everything around the letters. `edge` is where the quilt ends, `size_class` what its size is called, `bed` the
    largest bed it covers.

    A top that is not `layered` is made for somebody else to quilt, or is the front of a `pillow`, or of a banner, which
    is `turned` right side out with its back and has `ties` or a sleeve. `binding` is None where none is made. The
    trimmed quilt, or the top, reaches out over the finished size by `raw` on every side. On a garment nothing is around
    the panel, nor around letters alone, and there are no `panels`: nothing is cut for it. Several panels are blocks: as
    `setting` sews them together, or without one each finished by itself, and `edge` is then around all of them as they
    are shown side by side.
    """

    panels: tuple[PanelToCut, ...]
    setting: SettingPlan | None
    borders: tuple[BorderPlan, ...]
    edge: Edge
    size_class: QuiltClass
    bed: BedCover | None
    layered: bool
    turned: bool
    raw: Fraction
    binding: BindingPlan | None
    backing: BackingPlan
    batting: BattingPlan
    sleeve: SleevePlan | None
    pillow: PillowPlan | None
    ties: Ties | None
    tape: TapePlan | None
    fabrics: Fabrics
    scene: Scene

    @property
    def panel_cut(self) -> PanelCut | None:
        """How the only panel is cut; None where nothing is cut for it, or where there are blocks."""
        return None if self.blocks or not self.panels else self.panels[0].cut

    def is_cut_again(self, panel: PanelPlan) -> bool:
        """Whether `panel`, or one of those that it shows side by side, is cut to its size or its outline by its center
        line, once its letters are stitched."""
        return bool(panel.trim or self.shapes)

    @property
    def shapes(self) -> frozenset[PanelShape]:
        """The shapes of panels that are no rectangles and are cut to their outline."""
        return frozenset(panel.shape for panel in self.panels if panel.is_shaped)

    @property
    def blocks(self) -> tuple[PanelToCut, ...]:
        """The panels of blocks; none where there is one panel."""
        return tuple(panel for panel in self.panels if panel.name)

    @property
    def apart(self) -> bool:
        """Whether it is of blocks that are each finished by itself."""
        return bool(self.blocks) and self.setting is None

    @property
    def panel(self) -> PanelCut:
        """How the panel is cut, where it is.

        Raises:
            ValueError: nothing is cut for it, or there are several.
        """
        if self.panel_cut is None:
            raise ValueError("no panel is cut, or there are several")
        return self.panel_cut

    @property
    def made(self) -> tuple[Extent, ...]:
        """The finished size of each thing that is made, once however often: the quilt, or every block."""
        return tuple(block.finished for block in self.blocks) if self.apart else (self.finished,)

    @property
    def around(self) -> Fraction:
        """Once around the edge of everything that is made."""
        if not self.apart:
            return self.edge.length
        return sum((one.around * one.count for one in self.blocks), Fraction(0))

    @property
    def finished(self) -> Extent:
        """The size of the bound quilt."""
        return self.edge.size

    @property
    def trimmed(self) -> Extent:
        """The size to which the quilted quilt is trimmed, what shows inside the binding and what the binding takes; of
        a quilt without a binding, and of a top alone, from raw edge to raw edge."""
        width, height = self.finished
        return width + 2 * self.raw, height + 2 * self.raw

    @property
    def rod(self) -> Fraction | None:
        """How long the rod of a sleeve is: its ends lie halfway between those of the sleeve and the sides of the quilt.

        Source:
            Longer than the sleeve and hidden by the quilt: common practice, no source; halfway is our own.
        """
        return None if self.sleeve is None else (self.sleeve.length + self.finished[0]) / 2


def plan_quilt(
    design: Design,
    panel: PanelPlan,
    fabrics: Fabrics,
    *,
    blocks: Sequence[PanelToCut] = (),
    setting: SettingPlan | None = None,
) -> QuiltPlan:
    """The quilt that `design` makes around `panel`, which `setting` makes of `blocks` where it is not one piece; exact,
    and pure.

    Raises:
        Refusal: borders that do not come out even, cloth too narrow for a panel or a back.
    """
    allowance, units = design.seam_allowance, design.units
    borders = plan_borders(
        design.border, (panel.width, panel.height), fabrics.by_name, seam_allowance=allowance, units=units
    )
    own = _panel_edge(panel)
    edge = borders[-1].edge if borders else own
    finished, made = edge.size, design.finish
    layered, turned = made is Finish.QUILT, made is Finish.BANNER
    binding = (
        plan_binding(design.binding, edge, fabrics.binding, seam_allowance=allowance, units=units)
        if layered and not design.binding.left_out
        else None
    )
    front = (finished[0] + 2 * allowance, finished[1] + 2 * allowance)
    own_size = _OWN_SIZES.get(made)
    ties = turned and design.banner.hangs_by is HangsBy.TIES
    sleeve = design.hanging.sleeve if layered else turned and not ties
    backing, batting = design.backing, design.batting
    if turned:
        backing, batting = replace(backing, overage=allowance), replace(batting, overage=allowance)
    return QuiltPlan(
        panels=tuple(blocks) or (_only(panel, units) if panel.is_cut else ()),
        setting=setting,
        borders=borders,
        edge=edge,
        size_class=quilt_class(*finished) if own_size is None else QuiltClass(name=own_size, usual=None),
        bed=bed_cover(*finished) if own_size is None else None,
        layered=layered,
        turned=turned,
        raw=_raw(panel, binding),
        binding=binding,
        backing=plan_backing(
            backing,
            finished,
            fabrics.backing,
            seam_allowance=allowance,
            units=units,
            bought=turned or (layered and not design.backing.left_out),
        ),
        batting=plan_batting(
            batting, finished, bought=design.banner.batting if turned else layered and not batting.left_out
        ),
        sleeve=plan_sleeve(finished, units) if sleeve else None,
        pillow=plan_pillow(design.pillow, finished, front, units) if made is Finish.PILLOW else None,
        ties=plan_ties(design.banner, finished[0], units) if ties else None,
        tape=plan_tape(design.bunting, [(panel.width, 1)], allowance, units) if design.bunting.tape else None,
        fabrics=fabrics,
        scene=_scene(panel, finished, made),
    )


def _only(panel: PanelPlan, units: Units) -> tuple[PanelToCut, ...]:
    return (
        PanelToCut(
            name="",
            count=1,
            finished=(panel.width, panel.height),
            around=_panel_edge(panel).length,
            shape=panel.shape,
            cut=cut_panel(panel, units, cutting_step(units)),
        ),
    )


def plan_blocks(
    design: Design,
    plans: Sequence[tuple[str, int, QuiltPlan]],
    panel: PanelPlan,
    fabrics: Fabrics,
    setting: SettingPlan | None,
) -> QuiltPlan:
    """All blocks together, each with its name, how many are made, and the plan of its own; `panel` is what `setting`
    makes of them, or shows them side by side.

    Raises:
        Refusal: a block larger than its fabric is wide.
    """
    problems = [
        Problem(
            kind="block-wider-than-fabric",
            what=message(
                "the block “{name}” is larger than its fabric is wide, and blocks are not yet pieced",
                name=name,
            ),
            where=Where.key("block", number),
            fix=message("a smaller block, or wider fabric (its usable_width in [[fabric]])"),
        )
        for number, (name, _, plan) in enumerate(plans, 1)
        if plan.panel.seam is not None
    ]
    if problems:
        raise Refusal(problems)
    panels = tuple(replace(plan.panels[0], name=name, count=count) for name, count, plan in plans)
    if setting is not None:
        return plan_quilt(design, panel, fabrics, blocks=panels, setting=setting)
    size = (panel.width, panel.height)
    widths = [(one.finished[0], one.count) for one in panels]
    return replace(
        plans[0][2],
        panels=panels,
        tape=plan_tape(design.bunting, widths, design.seam_allowance, design.units)
        if design.bunting.tape
        else None,
        edge=straight_edge(size),
        size_class=quilt_class(*size),
        bed=None,
        fabrics=fabrics,
        scene=scale_scene(size),
    )


def _panel_edge(panel: PanelPlan) -> Edge:
    """The finished edge of the panel."""
    size, outline = (panel.width, panel.height), panel.outline
    return straight_edge(size) if outline is None else outlined_edge(outline, size)


def _raw(panel: PanelPlan, binding: BindingPlan | None) -> Fraction:
    """How far the trimmed quilt reaches out over its finished size."""
    if not panel.is_cut:
        return Fraction(0)
    return panel.seam_allowance if binding is None else binding.seam


def _scene(panel: PanelPlan, finished: Extent, made: Finish) -> Scene:
    """What it is drawn beside, to scale."""
    if panel.worn is not None:
        return worn_scene(finished, panel.worn.drop)
    if panel.loose:
        return loose_scene(finished)
    return scale_scene(finished, sits=made is Finish.PILLOW)
