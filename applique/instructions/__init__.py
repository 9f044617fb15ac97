"""How the quilt is made, step by step, as values: chapters with their steps, tables and drawings."""

from applique.instructions.book import OtherWay
from applique.instructions.care import coloring_alone
from applique.instructions.values import (
    Block,
    Cautions,
    Chapter,
    ChapterKind,
    Chip,
    Choices,
    Edition,
    Heading,
    Instructions,
    Led,
    Listed,
    Option,
    Paragraph,
    Picture,
    Step,
    Table,
    Tick,
)
from applique.instructions.whole import instructions_of

__all__ = [
    "Block",
    "Cautions",
    "Chapter",
    "ChapterKind",
    "Chip",
    "Choices",
    "Edition",
    "Heading",
    "Instructions",
    "Led",
    "Listed",
    "Option",
    "OtherWay",
    "Paragraph",
    "Picture",
    "Step",
    "Table",
    "Tick",
    "coloring_alone",
    "instructions_of",
]
