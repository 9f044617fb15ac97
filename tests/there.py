"""What a quilt may have or not, in a test whose quilt has it."""

from __future__ import annotations

from typing import TypeVar

__all__ = ["there"]

Thing = TypeVar("Thing")


def there(thing: Thing | None) -> Thing:
    """`thing`, which this quilt has."""
    assert thing is not None
    return thing
