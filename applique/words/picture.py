"""The words beside the picture of the quilt."""

from __future__ import annotations

from applique.language import Message, message
from applique.quilt.sizes import QuiltClass
from applique.units import Units
from applique.words.quilt import class_said

__all__ = ["scene_said"]


def scene_said(found: QuiltClass, units: Units) -> Message:
    """How large the quilt is, and what it is drawn beside, to scale."""
    return message("{size}; beside a door, a person of 5 ft 6 in and a sofa", size=class_said(found, units))
