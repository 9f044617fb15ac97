"""What a maker who publishes a pattern puts on it, made ready to be drawn: her mark."""

from __future__ import annotations

from applique.publishing.mark import LARGEST_FILE, Mark, read_mark

__all__ = ["LARGEST_FILE", "Mark", "read_mark"]
