"""Words of the booklet: how roughly letters are cut out, turned edges, and rings of fusible."""

from __future__ import annotations

from applique.pattern import Pattern
from applique.units import as_length

__all__ = ["ring_words", "rough_cut_words", "turned_words"]


def rough_cut_words(pattern: Pattern) -> str:
    """How far outside its line a letter is cut out before it is fused."""
    room = pattern.design.fusible.rough_cut
    if not room:
        return "on the line"
    return f"roughly, about {as_length(room, pattern.design.units, denominator=16)} outside the line"


def turned_words(pattern: Pattern) -> tuple[str, ...]:
    """How the lines of a turned edge are used; nothing for raw edges."""
    if not any(template.turned for template in pattern.templates):
        return ()
    turn = as_length(pattern.design.sewing.turn_under, pattern.design.units, denominator=16)
    words = (
        f"Turned edges: the bold line is the finished edge, cut the freezer paper on it. The thin line {turn} "
        "outside it "
        "is the cut line of the cloth. Short lines across the turn-under are clips, little wedges are notches: cut "
        "them nearly to the edge, two threads short of it, then turn the cloth over the paper."
    )
    tucked = [template.text for template in pattern.templates if template.turned and template.turned.tucked]
    if not tucked:
        return (words,)
    return (
        words,
        f"Where {', '.join(tucked)} tucks under the next letter, the edge lies flat and is not turned.",
    )


def ring_words(pattern: Pattern) -> tuple[str, ...]:
    """What a ring of fusible is and what it saves; nothing without one."""
    ring = pattern.design.fusible.ring
    saved = sum(template.ring_saves * template.count for template in pattern.templates)
    if ring is None or not saved:
        return ()
    whole = sum(template.area * template.count for template in pattern.templates)
    wide = as_length(ring, pattern.design.units, denominator=16)
    return (
        "Large letters stay soft with the middle of the web cut away: before you fuse, cut along the dashed "
        f"line {wide} "
        f"inside the edge and take the middle out. Of the web under the letters {saved / whole:.0%} comes away "
        f"({saved:.0f} square inches); it can serve small letters, and is not taken off what to buy.",
    )
