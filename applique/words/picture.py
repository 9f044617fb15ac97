"""The words beside the picture of the quilt."""

from __future__ import annotations

from applique.language import Message, listed, message
from applique.quilt.scene import Scene

__all__ = ["beside_said", "scene_said"]


def beside_said(scene: Scene) -> Message:
    """What the quilt is drawn beside."""
    return message("To scale beside {things}.", things=listed(thing.name for thing in scene.things))


def scene_said(size: Message, scene: Scene) -> Message:
    """How large the quilt is, in the words of `size`, and what it is drawn beside, to scale."""
    return message("{size}; beside {things}", size=size, things=listed(thing.name for thing in scene.things))
