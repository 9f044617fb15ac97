"""How far two colors stand apart, by the published measures. Colors are six hexadecimal digits, as `#1d3f58`."""

from __future__ import annotations

from functools import lru_cache

__all__ = ["color_difference", "contrast_ratio", "reads_on"]


@lru_cache(maxsize=4096)
def contrast_ratio(first: str, second: str) -> float:
    """The contrast ratio of two colors, from 1 (the same) to 21 (black and white).

    Source:
        W3C, Web Content Accessibility Guidelines 2: (L1 + 0.05) / (L2 + 0.05) of the relative luminances.
    """
    from coloraide import Color

    return float(Color(first).contrast(second, method="wcag21"))


@lru_cache(maxsize=4096)
def color_difference(first: str, second: str) -> float:
    """The color difference CIEDE2000 of two colors; about 1 can just be seen side by side.

    Source:
        CIEDE2000: published, docs/sources.md, color difference.
    """
    from coloraide import Color

    return float(Color(first).delta_e(second, method="2000"))


def reads_on(color: str) -> str:
    """Black or white, whichever stands out more from `color`."""
    return max(("#000000", "#ffffff"), key=lambda ink: contrast_ratio(ink, color))
