"""Template sheets laid out: which template stands where on which page, and how large letters are tiled.

All of it is laid out right-reading; the mirrored file mirrors whole pages. The frames are those of `frame`.
"""

from applique.paging.frame import PAPER_INCHES, RULE_STRIP, SheetFrame, sheet_frame
from applique.paging.label_text import among_numbers, is_leftward, label_size
from applique.paging.labels import BETWEEN
from applique.paging.lookalikes import spelled_out, told_apart
from applique.paging.packing import lay_out_templates
from applique.paging.rolls import LONGEST_ROOM, lay_out_on_roll, roll_frame
from applique.paging.ticks import LEAN_ROOM, TICK, TICK_GAP, TICK_NUMBER, lean_boxes, middle_tick
from applique.paging.tiles import tile_area
from applique.paging.values import (
    Join,
    Joining,
    LabelSpot,
    PartTag,
    SheetItem,
    TemplatePage,
    TemplateSheets,
    Tile,
    TiledTemplate,
    TileMarks,
    Tiling,
)

__all__ = [
    "BETWEEN",
    "LEAN_ROOM",
    "LONGEST_ROOM",
    "PAPER_INCHES",
    "RULE_STRIP",
    "TICK",
    "TICK_GAP",
    "TICK_NUMBER",
    "Join",
    "Joining",
    "LabelSpot",
    "PartTag",
    "SheetFrame",
    "SheetItem",
    "TemplatePage",
    "TemplateSheets",
    "Tile",
    "TileMarks",
    "TiledTemplate",
    "Tiling",
    "among_numbers",
    "is_leftward",
    "label_size",
    "lay_out_on_roll",
    "lay_out_templates",
    "lean_boxes",
    "middle_tick",
    "roll_frame",
    "sheet_frame",
    "spelled_out",
    "tile_area",
    "told_apart",
]
