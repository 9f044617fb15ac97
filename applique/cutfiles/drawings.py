"""Which drawings go to a cutting machine: each letter, each row, what lies behind them, and each mat.

Every drawing comes right-reading and mirrored, and is just as large as its ink; a mat is as large as the mat.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from shapely import STRtree

from applique.geometry.outline import Outline
from applique.geometry.points import Bounds, Point
from applique.geometry.polygons import Shape
from applique.language import Message
from applique.naming import readable_name, sign_name
from applique.outline_layer import PlacedOutline
from applique.pattern import Pattern
from applique.pieces import OVERLAP, Layer
from applique.sewing.quilting import QuiltingPlan
from applique.words import cut_files as words
from applique.words import panel_shapes
from applique.words.templates import numbered

__all__ = ["SIDES", "CutDrawing", "cut_drawings", "quilting_name"]

SIDES: Final = ((False, "right-reading"), (True, "mirrored"))
_LONGEST_NAME: Final = 24
_LONGEST_SIGN_NAME: Final = 40
_FOLDERS: Final = {Layer.LETTER: "letters", Layer.OUTLINE: "outlines", Layer.SHAPE: "shapes"}


@dataclass(frozen=True, slots=True, kw_only=True)
class CutDrawing:
    """One drawing as it reads from the right side, in inches about whatever origin, y up.

    `name` is its folder and file without side and ending, such as `letters/01-R`; `title` and `said` are what
    it is, said in no language yet; `window` is what the file shows. `slits` are cut too, lines whose ends do not meet.
    `row` and `template` say (from 1) whose drawing it is and `layer` of what, all None for a panel and for a mat.
    """

    name: str
    title: str | Message
    said: Message
    outline: Outline
    window: Bounds
    slits: tuple[tuple[Point, ...], ...] = ()
    layer: Layer | None = None
    row: int | None = None
    template: int | None = None

    @property
    def size(self) -> tuple[float, float]:
        """Width and height of the file in inches."""
        return self.window[2] - self.window[0], self.window[3] - self.window[1]


def cut_drawings(pattern: Pattern) -> Iterator[CutDrawing]:
    """Every drawing of `pattern`: letters and the shapes behind them, rows, what lies behind rows, panels that are no
    rectangles, mats.

    Outlines of a row that lie over one another are drawn one by one only.
    """
    units = pattern.design.units
    digits = _digits(len(pattern.templates))
    for template in pattern.templates:
        outline = template.cut_line
        yield CutDrawing(
            name=f"{_FOLDERS[template.layer]}/{template.number:0{digits}d}-{_named(template.text)}",
            title=numbered(template),
            said=words.template_said(template, units),
            outline=outline,
            window=outline.bounds(),
            slits=template.turned.mouths if template.turned else (),
            layer=template.layer,
            template=template.number,
        )
    digits = _digits(len(pattern.panel.rows))
    for row in pattern.panel.rows:
        name = f"row-{row.number:0{digits}d}-{_named(row.text)}"
        yield CutDrawing(
            name=f"rows/{name}",
            title=row.text,
            said=words.row_said(row, units),
            outline=row.outline,
            window=row.outline.bounds(),
            layer=Layer.LETTER,
            row=row.number,
        )
        pieces = [piece for piece in pattern.outlines if piece.where == row.where]
        if pieces and _apart([piece.place.shape(piece.shape) for piece in pieces]):
            behind = _laid(pieces)
            yield CutDrawing(
                name=f"outlines/{name}",
                title=words.outline_title(row.text),
                said=words.row_outline_said(row),
                outline=behind,
                window=behind.bounds(),
                layer=Layer.OUTLINE,
                row=row.number,
            )
    yield from _panels(pattern)
    digits = _digits(len(pattern.mats))
    for mat in pattern.mats:
        yield CutDrawing(
            name=f"mats/mat-{mat.number:0{digits}d}-{_named(mat.fabric)}",
            title=words.mat_title(mat),
            said=words.mat_said(mat),
            outline=mat.outline,
            window=(0.0, 0.0, mat.width, mat.height),
            slits=mat.slits,
        )


def _panels(pattern: Pattern) -> Iterator[CutDrawing]:
    """Every outline of a panel that is no rectangle, with its seam allowance and at its finished edge."""
    units, digits = pattern.design.units, _digits(len(pattern.panel_templates))
    for number, template in enumerate(pattern.panel_templates, 1):
        name = f"{number:0{digits}d}-{_named(template.shape)}"
        edges = (
            ("panel", template.cut, words.panel_cut_said(template.seam_allowance, units)),
            ("panel-finished", template.finished, words.panel_finished_said()),
        )
        for kind, outline, told in edges:
            yield CutDrawing(
                name=f"panels/{kind}-{name}",
                title=panel_shapes.template_said(template.shape, template.size, units),
                said=told,
                outline=outline,
                window=outline.bounds(),
            )


def quilting_name(plan: QuiltingPlan) -> str:
    """Folder and file, without its ending, of one kind of quilting; its number is not that of a template."""
    return f"quilting/quilting-{plan.number}-{_named(plan.kind)}"


def _digits(count: int) -> int:
    return max(2, len(str(count)))


def _named(text: str) -> str:
    """`text` in the name of a file; the number before it makes the name one of a kind."""
    return (
        readable_name(text, longest=_LONGEST_NAME) or sign_name(text, longest=_LONGEST_SIGN_NAME) or "blank"
    )


def _apart(shapes: Sequence[Shape]) -> bool:
    """Whether no two pieces lie over one another: a machine would cut through both where they do."""
    tree = STRtree(shapes)
    first, second = tree.query(shapes, predicate="intersects")
    return not any(
        one < other and shapes[one].intersection(shapes[other]).area > OVERLAP
        for one, other in zip(first, second, strict=True)
    )


def _laid(pieces: Sequence[PlacedOutline]) -> Outline:
    """The outline layer of a row in the frame of the panel."""
    placed = [piece.place.outline(piece.outline) for piece in pieces]
    return Outline(contours=tuple(contour for outline in placed for contour in outline.contours))
