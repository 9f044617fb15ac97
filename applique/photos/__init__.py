"""Photos of fabrics, made ready to be drawn and to be handed on."""

from __future__ import annotations

from applique.photos.photo import ENDINGS, LARGEST_FILE, Photo, is_plain_name, photo_names, read_photo

__all__ = ["ENDINGS", "LARGEST_FILE", "Photo", "is_plain_name", "photo_names", "read_photo"]
