"""How far two colours stand apart, by the published measures. Colours are six hexadecimal digits, as `#1d3f58`."""

from __future__ import annotations

from functools import lru_cache

__all__ = ["colour_difference", "contrast_ratio"]


@lru_cache(maxsize=4096)
def contrast_ratio(first: str, second: str) -> float:
    """The contrast ratio of two colours, from 1 (the same) to 21 (black and white).

    Source:
        W3C, Web Content Accessibility Guidelines 2: (L1 + 0.05) / (L2 + 0.05) of the relative luminances.
    """
    from coloraide import Color

    return float(Color(first).contrast(second, method="wcag21"))


@lru_cache(maxsize=4096)
def colour_difference(first: str, second: str) -> float:
    """The colour difference CIEDE2000 of two colours; about 1 can just be seen side by side.

    Source:
        CIEDE2000: published, docs/sources.md, colour difference.
    """
    from coloraide import Color

    return float(Color(first).delta_e(second, method="2000"))
