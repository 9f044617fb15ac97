"""What was worked out for a typeface and will be asked again: with every key of somebody who types, most rows stay."""

from __future__ import annotations

from collections.abc import Callable, Hashable
from typing import Final, Generic, TypeVar
from weakref import WeakKeyDictionary

from applique.typeset.typeface import Typeface

__all__ = ["Remembered"]

Key = TypeVar("Key", bound=Hashable)
Value = TypeVar("Value")
_MOST: Final = 4_000


class Remembered(Generic[Key, Value]):
    """Values by their keys, for each typeface as long as that lives; begun anew when there are too many.

    A value must follow from its typeface and key alone.
    """

    def __init__(self) -> None:
        self._kept: WeakKeyDictionary[Typeface, dict[Key, Value]] = WeakKeyDictionary()

    def of(self, typeface: Typeface, key: Key, work: Callable[[], Value]) -> Value:
        """What `work` comes to, worked out once."""
        kept = self._kept.setdefault(typeface, {})
        value = kept.get(key)
        if value is None:
            value = work()
            if len(kept) >= _MOST:
                kept.clear()
            kept[key] = value
        return value
