"""The child process of `mark`: opens a picture that nobody vouches for, within limits, and makes it a plain PNG.

Reads the file from standard input; writes a line of JSON, with a `fault` or empty, and after it the PNG. Dying without
an answer is an answer too.
"""

from __future__ import annotations

import json
import math
import re
import sys
from collections.abc import Iterator
from io import BytesIO
from typing import Final
from xml.etree import ElementTree

from PIL import Image

from applique.children import keep_within
from applique.publishing.mark import LONGEST_SIDE, MOST_BYTES, MOST_PIXELS, MOST_SECONDS, MarkFault

__all__ = ["Faulty", "main", "ready_png"]

_SIGNATURE: Final = b"\x89PNG\r\n\x1a\n"
_SCRIPTS: Final = frozenset(["script", "foreignobject", "iframe", "handler"])
_FROM_ELSEWHERE: Final = frozenset(["image", "feimage"])
_MOVING: Final = frozenset(["animate", "animatemotion", "animatetransform", "set"])
_TEXTS: Final = frozenset(["text", "tspan", "textpath", "tref"])
_LINK: Final = re.compile(r"url\(\s*['\"]?\s*(?!#)|@import", re.IGNORECASE)
_NUMBER: Final = re.compile(r"\s*([0-9.]+(?:e[+-]?\d+)?)\s*(?:px|pt|pc|mm|cm|in|q)?\s*", re.IGNORECASE)


class Faulty(Exception):  # noqa: N818 (an answer, as a refusal is)
    """The picture is refused."""

    def __init__(self, fault: MarkFault) -> None:
        self.fault = fault
        super().__init__(fault.value)


def ready_png(data: bytes) -> bytes:
    """The picture that `data` holds as RGBA PNG, `LONGEST_SIDE` pixels at most.

    Raises:
        Faulty: it is no picture to print.
    """
    picture = _raster(data) if data[:8] == _SIGNATURE else _drawn(data)
    picture.thumbnail((LONGEST_SIDE, LONGEST_SIDE), Image.Resampling.LANCZOS)
    if picture.getchannel("A").getbbox() is None:
        raise Faulty(MarkFault.EMPTY)
    written = BytesIO()
    picture.save(written, "PNG")
    return written.getvalue()


def _raster(data: bytes) -> Image.Image:
    Image.MAX_IMAGE_PIXELS = None  # ours is the bound, said in our words
    picture = Image.open(BytesIO(data), formats=["PNG"])
    if picture.width * picture.height > MOST_PIXELS:
        raise Faulty(MarkFault.TOO_MANY_PIXELS)
    if getattr(picture, "is_animated", False):
        raise Faulty(MarkFault.MOVES)
    return picture.convert("RGBA")


def _drawn(data: bytes) -> Image.Image:
    import resvg_py

    text = _svg_text(data)
    try:
        root = ElementTree.fromstring(text)
    except ElementTree.ParseError:
        looks = "<svg" in text.lower()
        raise Faulty(MarkFault.DAMAGED if looks else MarkFault.NO_PICTURE) from None
    if _local(root.tag) != "svg":
        raise Faulty(MarkFault.NO_PICTURE)
    for element in root.iter():
        for fault in _faults(element):
            raise Faulty(fault)
    width, height = _size(root)
    png = bytes(
        resvg_py.svg_to_bytes(
            svg_string=text,
            width=LONGEST_SIDE if width >= height else None,
            height=None if width >= height else LONGEST_SIDE,
            skip_system_fonts=True,
        )
    )
    return Image.open(BytesIO(png), formats=["PNG"]).convert("RGBA")


def _svg_text(data: bytes) -> str:
    if b"\x00" in data:
        raise Faulty(MarkFault.NO_PICTURE)
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise Faulty(MarkFault.NO_PICTURE) from None
    if re.search(r"<!ENTITY|<!DOCTYPE[^>]*\[|<\?xml-stylesheet", text, re.IGNORECASE):
        raise Faulty(MarkFault.REACHES_OUT)
    return text


def _faults(element: ElementTree.Element) -> Iterator[MarkFault]:
    name = _local(element.tag)
    if name in _SCRIPTS:
        yield MarkFault.SCRIPT
    if name in _FROM_ELSEWHERE:
        yield MarkFault.REACHES_OUT
    if name in _MOVING:
        yield MarkFault.MOVES
    if name in _TEXTS:
        yield MarkFault.TEXT
    if name == "style" and _LINK.search("".join(element.itertext())):
        yield MarkFault.REACHES_OUT
    for key, value in element.attrib.items():
        attribute = _local(key)
        if attribute.startswith("on"):
            yield MarkFault.SCRIPT
        if attribute == "href" and not value.strip().startswith("#"):
            yield MarkFault.REACHES_OUT
        if _LINK.search(value):
            yield MarkFault.REACHES_OUT


def _local(tag: object) -> str:
    """The name of an element or attribute without its namespace, in small letters."""
    return tag.rpartition("}")[2].lower() if isinstance(tag, str) else ""


def _size(root: ElementTree.Element) -> tuple[float, float]:
    """Width and height in any unit, for their proportion.

    Raises:
        Faulty: it has none.
    """
    box = [_number(part) for part in re.split(r"[\s,]+", root.get("viewBox", "").strip())][2:]
    size = box or [_number(root.get(side, "")) for side in ("width", "height")]
    if len(size) != 2 or not all(math.isfinite(side) and side > 0 for side in size):
        raise Faulty(MarkFault.NO_SIZE)
    return size[0], size[1]


def _number(text: str) -> float:
    match = _NUMBER.fullmatch(text)
    try:
        return float(match[1]) if match else math.nan
    except ValueError:
        return math.nan


def main() -> None:
    """Make one picture ready."""
    keep_within(seconds=MOST_SECONDS, memory=MOST_BYTES)
    answer, png = {}, b""
    try:
        png = ready_png(sys.stdin.buffer.read())
    except Faulty as faulty:
        answer = {"fault": faulty.fault.value}
    except Exception:  # whatever the readers trip over means the same
        answer = {"fault": MarkFault.DAMAGED.value}
    sys.stdout.buffer.write(json.dumps(answer).encode("ascii") + b"\n" + png)


if __name__ == "__main__":
    main()
