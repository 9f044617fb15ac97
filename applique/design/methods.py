"""A second method that a design offers beside its first: the design in that method, and how files tell both apart."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from fractions import Fraction
from types import MappingProxyType
from typing import Final

from applique.design.model import Design, Fusible
from applique.design.sewn import Method, Sewing
from applique.errors import Problem, Where
from applique.language import message

__all__ = ["METHOD_FILES", "in_second_method", "method_problems"]

METHOD_FILES: Final[Mapping[Method, str]] = MappingProxyType(
    {
        Method.RAW_EDGE: "fused-by-hand",
        Method.MACHINE_CUT: "fused-by-machine",
        Method.TURNED_EDGE: "turned-edges",
    }
)
"""What stands in the names of files of a method, where there are two."""
_FREEZER_PAPER: Final = Fraction(18)
"""Inches across a roll of freezer paper: published, docs/sources.md, freezer paper."""


def in_second_method(design: Design) -> Design | None:
    """The design in the second method that it offers; None where it offers none.

    The width of its web holds for the first. Where one method takes web and the other freezer paper, the second takes a
    roll as it is usually sold. Numbers that the maker states are of the first.
    """
    method = design.sewing.also
    if method is None:
        return None
    fusible = design.fusible
    if (method is Method.TURNED_EDGE) is not (design.sewing.method is Method.TURNED_EDGE):
        usual = _FREEZER_PAPER if method is Method.TURNED_EDGE else Fusible().width
        fusible = replace(fusible, width=usual)
    sewing = replace(design.sewing, method=method, also=None)
    return replace(design, sewing=sewing, fusible=fusible, stated=())


def method_problems(sewing: Sewing) -> Iterator[Problem]:
    """A second method that is the first once more."""
    if sewing.also is sewing.method:
        yield Problem(
            kind="second-method-is-the-first",
            what=message("is the method that the pattern is for already"),
            where=Where.key("sewing", "also"),
            fix=message("another method, or leave it out"),
        )
