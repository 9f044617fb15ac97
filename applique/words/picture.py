"""The words beside the picture of the quilt."""

from __future__ import annotations

from applique.language import Message, message

__all__ = ["scene_said"]


def scene_said(size: Message) -> Message:
    """How large the quilt is, in the words of `size`, and what it is drawn beside, to scale."""
    return message("{size}; beside a door, a person of 5 ft 6 in and a sofa", size=size)
