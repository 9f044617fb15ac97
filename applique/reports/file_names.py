"""Names of a maker's own files, as `summary.md` and `design.toml` show them."""

from __future__ import annotations

__all__ = ["one_line"]


def one_line(name: str) -> str:
    """A file name without what would end the line, or steer what shows it."""
    return "".join(sign if sign.isprintable() else "�" for sign in name)
