"""Which pages are open, so that the server can stop with the last of them."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from typing import Final

__all__ = ["Presence"]

_GRACE: Final = 3.0
"""Seconds that a page has to come back when it is loaded anew."""


class Presence:
    """Counts the pages that said hello and not yet goodbye; `on_empty` is called when none is left for a while."""

    def __init__(self, on_empty: Callable[[], None] | None) -> None:
        self._on_empty = on_empty
        self._open: set[str] = set()

    def came(self, key: str) -> None:
        """A page opened or came back."""
        self._open.add(key)

    def went(self, key: str) -> None:
        """A page closed."""
        self._open.discard(key)
        if self._on_empty is not None:
            asyncio.get_running_loop().call_later(_GRACE, self._look)

    def _look(self) -> None:
        if not self._open and self._on_empty is not None:
            self._on_empty()
