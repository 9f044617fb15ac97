"""The usual cautions of the sewing room, and what to know before a pattern is published."""

from __future__ import annotations

from typing import Final

__all__ = ["ALL_CAUTIONS", "RIGHTS", "SHORT_CAUTIONS"]

ALL_CAUTIONS: Final = (
    "Close the rotary blade after every cut and cut away from your body.",
    "Stand the iron on its heel and unplug it when you leave it.",
    "Do not sew over pins; switch the machine off to thread it.",
    "Keep blades, pins and small pieces from children. "
    "Never leave a loose quilt in a baby's crib or other sleep space.",
    "Follow the instructions of the makers of fusible web, stabilizer, batting and pens; they come first.",
    "Pre-wash dark fabrics, or test them for bleeding.",
    "If you sell what you make, check the rules on fiber content, care and flammability labels where you sell it.",
)
"""Common practice, no source."""
SHORT_CAUTIONS: Final = " ".join((*ALL_CAUTIONS[:2], *ALL_CAUTIONS[3:5]))
RIGHTS: Final = (
    "Words and short phrases are mostly free to use (in the US, 37 CFR 202.1(a)); longer verse can be under copyright, "
    "and trade marks are another matter. Check before you publish; this is no legal advice."
)
