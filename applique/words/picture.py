"""The words beside the picture of the quilt."""

from __future__ import annotations

from fractions import Fraction

from applique.language import Listing, Message, listed, message
from applique.quilt.scene import Scene, ThingKind
from applique.quilt.sizes import FRONT, PERSON_HEIGHT, QuiltClass
from applique.units import Units, as_height, as_length
from applique.words.quilt import class_said

__all__ = ["beside_said", "scene_said"]


def beside_said(scene: Scene, units: Units) -> Message:
    """What the quilt is drawn beside."""
    return message("To scale beside {things}.", things=_things(scene, units))


def scene_said(found: QuiltClass, scene: Scene, units: Units) -> Message:
    """How large the quilt is, and what it is drawn beside, to scale."""
    return message("{size}; beside {things}", size=class_said(found, units), things=_things(scene, units))


def _things(scene: Scene, units: Units) -> Listing:
    names = {
        ThingKind.DOOR: message("a door"),
        ThingKind.PERSON: message("a person of {height}", height=as_height(Fraction(PERSON_HEIGHT), units)),
        ThingKind.SOFA: message("a sofa"),
        ThingKind.FRONT: message("a plain front {width} wide", width=as_length(Fraction(FRONT[0]), units)),
    }
    return listed(names[thing.kind] for thing in scene.things)
