"""The usual cautions of the sewing room, and what to know before a pattern is published."""

from __future__ import annotations

from typing import Final

from applique.language import message

__all__ = ["ALL_CAUTIONS", "RIGHTS", "SHORT_CAUTIONS"]

ALL_CAUTIONS: Final = (
    message("Close the rotary blade after every cut and cut away from your body."),
    message("Rest the iron on its heel, or as its maker directs; let it cool and unplug it."),
    message("Do not sew over pins; switch the machine off to thread it."),
    message(
        "Keep blades, pins and small pieces from children. "
        "Never leave a loose quilt in a baby's crib or other sleep space."
    ),
    message(
        "Follow the instructions of the makers of fusible web, stabilizer, batting and pens; they come first."
    ),
    message("Test dark fabrics for bleeding before you cut them."),
    message(
        "If you sell what you make, check the rules on fiber content, care and flammability labels where you sell it."
    ),
)
"""Common practice, no source."""
SHORT_CAUTIONS: Final = message(
    "{blade} {iron} {children} {makers}",
    blade=ALL_CAUTIONS[0],
    iron=ALL_CAUTIONS[1],
    children=ALL_CAUTIONS[3],
    makers=ALL_CAUTIONS[4],
)
RIGHTS: Final = message(
    "Words and short phrases are mostly free to use (in the US, 37 CFR 202.1(a)); longer verse can be under copyright, "
    "and trademarks are another matter. Check before you publish; this is no legal advice."
)
