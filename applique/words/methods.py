"""Methods in words: what each is called, and what is said of the second that a design offers."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from applique.design import Method
from applique.language import Message, message

__all__ = ["METHODS", "in_method_said"]

METHODS: Final[Mapping[Method, Message]] = MappingProxyType(
    {
        Method.RAW_EDGE: message("fused letters cut by hand"),
        Method.MACHINE_CUT: message("fused letters cut by machine"),
        Method.TURNED_EDGE: message("letters with turned edges, on freezer paper"),
    }
)


def in_method_said(method: Method, what: Message) -> Message:
    """What is true of the second method alone."""
    return message("{method}: {what}", method=METHODS[method], what=what)
