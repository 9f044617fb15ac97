"""The usual cautions of the sewing room, each where its work happens, and what to know before a pattern is published.

Common practice, no source, unless one is named. Each defers to the makers of tools and materials, or to local rules.
"""

from __future__ import annotations

from typing import Final

from applique.language import message

__all__ = [
    "ALL_CAUTIONS",
    "BLADE",
    "BLEEDING",
    "CARRIAGE",
    "CORD",
    "CRIB",
    "FREEZER_PAPER",
    "IRON",
    "LOOSE_CAUTIONS",
    "LOOSE_MAKERS",
    "MACHINE_BLADE",
    "MAKERS",
    "NEEDLE",
    "PINS",
    "RIGHTS",
    "SCISSORS",
    "SELLING",
    "SHORT_CAUTIONS",
    "SHORT_LOOSE_CAUTIONS",
    "SHORT_WORN_CAUTIONS",
    "SLEEPWEAR",
    "SMALL_PARTS",
    "SPRAY",
    "STEAM",
    "WORN_CAUTIONS",
    "WORN_MAKERS",
]

BLADE: Final = message("Close the rotary blade after every cut and cut away from your body.")
SCISSORS: Final = message("Cut away from the hand that holds the fabric, and lay scissors down closed.")
IRON: Final = message("Rest the iron on its heel, or as its maker directs; let it cool and unplug it.")
STEAM: Final = message(
    "Keep your hands clear of steam, and use it only where the maker of the web allows it."
)
NEEDLE: Final = message(
    "Keep your fingers clear of the needle; do not sew over pins; switch the machine off to thread it."
)
PINS: Final = message("Take pins out before you press, and count them.")
MACHINE_BLADE: Final = message(
    "Switch the cutting machine off, or take the blade out as its maker directs, before you change or touch it."
)
CARRIAGE: Final = message(
    "Keep fingers, hair and sleeves away from the carriage and the mat while the machine cuts."
)
SPRAY: Final = message(
    "Use basting spray only with the windows open and away from any flame, and as its maker directs."
)
BLEEDING: Final = message(
    "Test dark fabrics for bleeding before you cut them: lay a wet white scrap on the fabric and press it. If color "
    "comes off, wash it first and buy more, or take another fabric."
)
SMALL_PARTS: Final = message("Keep blades, pins and small pieces from children.")
CRIB: Final = message("Never leave a loose quilt or a pillow in a baby's crib or other sleep space.")
CORD: Final = message(
    "Hang a tape of flags out of reach of babies and children, and never at a crib or a bed: a child can be strangled "
    "in it."
)
"""Common practice, no source."""
MAKERS: Final = message(
    "Follow the instructions of the makers of fusible web, stabilizer and batting; they come first."
)
WORN_MAKERS: Final = message(
    "Follow the instructions of the makers of the garment, fusible web and stabilizer; they come first."
)
LOOSE_MAKERS: Final = message(
    "Follow the instructions of the makers of fusible web and stabilizer, and of what you sew the letters onto; they "
    "come first."
)
SLEEPWEAR: Final = message(
    "Keep letters off children's sleepwear unless your local rules on its flammability allow them, and off what a baby "
    "could pull loose and swallow."
)
"""Rules on the flammability of children's sleepwear differ from place to place: common practice, no source."""
FREEZER_PAPER: Final = message(
    "Follow the instructions of the makers of freezer paper and glue; steam burns, so keep your hands clear of it."
)
SELLING: Final = message(
    "If you sell what you make, check the rules on fiber content, care and flammability labels where you sell it."
)
ALL_CAUTIONS: Final = (BLADE, IRON, NEEDLE, SMALL_PARTS, CRIB, MAKERS, BLEEDING, SELLING)
WORN_CAUTIONS: Final = (BLADE, IRON, NEEDLE, SMALL_PARTS, SLEEPWEAR, WORN_MAKERS, BLEEDING, SELLING)
"""The same where the words go onto a garment."""
LOOSE_CAUTIONS: Final = (BLADE, IRON, NEEDLE, SMALL_PARTS, SLEEPWEAR, LOOSE_MAKERS, BLEEDING, SELLING)
"""The same of letters alone."""
SHORT_CAUTIONS: Final = message(
    "{blade} {iron} {children} {crib} {makers}",
    blade=BLADE,
    iron=IRON,
    children=SMALL_PARTS,
    crib=CRIB,
    makers=MAKERS,
)
SHORT_WORN_CAUTIONS: Final = message(
    "{blade} {iron} {children} {sleepwear} {makers}",
    blade=BLADE,
    iron=IRON,
    children=SMALL_PARTS,
    sleepwear=SLEEPWEAR,
    makers=WORN_MAKERS,
)
SHORT_LOOSE_CAUTIONS: Final = message(
    "{blade} {iron} {children} {sleepwear} {makers}",
    blade=BLADE,
    iron=IRON,
    children=SMALL_PARTS,
    sleepwear=SLEEPWEAR,
    makers=LOOSE_MAKERS,
)
RIGHTS: Final = message(
    "Words and short phrases are mostly free to use (in the US, 37 CFR 202.1(a)); longer verse can be under copyright, "
    "and trademarks are another matter. Check before you publish; this is no legal advice."
)
