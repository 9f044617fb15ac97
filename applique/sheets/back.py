"""A pieced back drawn with its seams, each piece with the name of its fabric.

Places are points from the lower left corner of the page.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from applique.leftovers import Patch
from applique.sheets.flow import Flow
from applique.sheets.strokes import INK, THIN

__all__ = ["draw_back"]

_HIGH: Final = 150.0
_WIDE: Final = 240.0
_NAME: Final = 7.0


def draw_back(flow: Flow, patches: Sequence[Patch]) -> None:
    """The back as it is sewn, its top up."""
    across = float(max(patch.x + patch.width for patch in patches))
    down = float(max(patch.y + patch.height for patch in patches))
    scale = min(_HIGH / down, _WIDE / across)

    def draw(left: float, bottom: float, _width: float, _height: float) -> None:
        for patch in patches:
            box = (
                left + float(patch.x) * scale,
                bottom + float(patch.y) * scale,
                float(patch.width) * scale,
                float(patch.height) * scale,
            )
            flow.sheet.canvas.setStrokeGray(INK)
            flow.sheet.canvas.setLineWidth(THIN)
            flow.sheet.canvas.rect(*box, stroke=1, fill=0)
            _name(flow, patch.fabric, box)

    flow.picture(down * scale + 4, draw)


def _name(flow: Flow, name: str, box: tuple[float, float, float, float]) -> None:
    """The name in the middle of its piece, along its longer side; cut short where it has no room."""
    letters, canvas = flow.sheet.letters, flow.sheet.canvas
    left, bottom, width, height = box
    if min(width, height) < _NAME + 2:
        return
    text = letters.shortened(name, _NAME, max(width, height) - 4)
    canvas.saveState()
    canvas.translate(left + width / 2, bottom + height / 2)
    if width < height and letters.width(text, _NAME) > width - 4:
        canvas.rotate(90)
    letters.draw(text, 0, -_NAME * 0.35, _NAME, anchor="middle")
    canvas.restoreState()
