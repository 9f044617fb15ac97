"""A maker's mark: a picture of her own, tried out in a child process and made a plain PNG before anything else.

The child (`applique.publishing.mark_probe`) opens the file within limits on processor time and memory, so that a
hostile one can hurt nothing but that. What comes of it is remembered by the digest of the file while this process
lives.
"""

from __future__ import annotations

import hashlib
import json
import stat
import struct
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path
from typing import Any, Final

from applique.children import ChildBusyError, answer_of
from applique.errors import Problem, Refusal, Where
from applique.language import message

__all__ = [
    "LARGEST_FILE",
    "LONGEST_SIDE",
    "MOST_BYTES",
    "MOST_PIXELS",
    "MOST_SECONDS",
    "Mark",
    "MarkFault",
    "read_mark",
]

LARGEST_FILE: Final = 5_000_000
MOST_PIXELS: Final = 16_000_000
MOST_BYTES: Final = 500_000_000
"""Memory that a picture may take to read."""
MOST_SECONDS: Final = 5
"""Processor time for a picture, beyond what it takes to start."""
LONGEST_SIDE: Final = 1_200
"""Pixels of the longer side at most, once it is made ready: 600 to the inch for a mark of 2 in."""
_PROBE: Final = "applique.publishing.mark_probe"
_SIGNATURE: Final = b"\x89PNG\r\n\x1a\n"
_PLACE: Final = Where.key("publisher", "mark_file")


class MarkFault(StrEnum):
    """Why a picture is refused, as the child says it."""

    NO_PICTURE = "mark-no-picture"
    DAMAGED = "mark-damaged"
    TOO_MANY_PIXELS = "mark-of-too-many-pixels"
    MOVES = "mark-moves"
    REACHES_OUT = "mark-reaches-out"
    SCRIPT = "mark-with-script"
    TEXT = "mark-with-text"
    NO_SIZE = "mark-without-size"
    EMPTY = "mark-empty"


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """A mark ready to be shown: its PNG (RGBA, eight bits), and the name and SHA-256 of the file it was read from."""

    name: str
    sha256: str
    png: bytes
    width_px: int
    height_px: int

    def fitted(self, width: float, height: float) -> tuple[float, float]:
        """Its width and height in a box of `width` by `height`, as large as fits, in the unit of the box."""
        scale = min(width / self.width_px, height / self.height_px)
        return self.width_px * scale, self.height_px * scale


_KNOWN: Final[dict[str, tuple[bytes, int, int] | MarkFault]] = {}


def read_mark(path: str) -> Mark:
    """The picture at `path`, a PNG or an SVG that needs nothing but itself.

    Raises:
        Refusal: there is none, it is too large, damaged, or no such picture; or this machine is too busy to tell.
    """
    file = Path(path)
    data = _read(file)
    digest = hashlib.sha256(data).hexdigest()
    found = _KNOWN.get(digest)
    if found is None:
        found = _KNOWN[digest] = _tried(data, file.name)
    if isinstance(found, MarkFault):
        raise Refusal(_problem(found, file.name))
    png, width, height = found
    return Mark(name=file.name, sha256=digest, png=png, width_px=width, height_px=height)


def _problem(fault: MarkFault, name: str) -> Problem:
    """What is wrong with the picture `name`, as the child found it."""
    match fault:
        case MarkFault.NO_PICTURE:
            return Problem(
                kind="mark-no-picture",
                what=message("{name} is neither a PNG nor an SVG picture", name=name),
                where=_PLACE,
                fix=message("a picture saved as .png or .svg"),
            )
        case MarkFault.DAMAGED:
            return Problem(
                kind="mark-damaged",
                what=message(
                    "{name} is a damaged picture, or one that takes too long or too much memory to read",
                    name=name,
                ),
                where=_PLACE,
                fix=message("save it again from where it was drawn"),
            )
        case MarkFault.TOO_MANY_PIXELS:
            return Problem(
                kind="mark-of-too-many-pixels",
                what=message(
                    "{name} has more than {most} million pixels", name=name, most=MOST_PIXELS // 10**6
                ),
                where=_PLACE,
                fix=message(
                    "a smaller picture; {side} pixels on its longer side are plenty", side=LONGEST_SIDE
                ),
            )
        case MarkFault.MOVES:
            return Problem(
                kind="mark-moves",
                what=message("{name} is a moving picture", name=name),
                where=_PLACE,
                fix=message("a still one"),
            )
        case MarkFault.REACHES_OUT:
            return Problem(
                kind="mark-reaches-out",
                what=message("{name} takes pictures or styles from somewhere else", name=name),
                where=_PLACE,
                fix=message(
                    "a picture that holds all of itself: plain shapes, no linked images or style sheets"
                ),
            )
        case MarkFault.SCRIPT:
            return Problem(
                kind="mark-with-script",
                what=message("{name} holds a script", name=name),
                where=_PLACE,
                fix=message("a picture of plain shapes"),
            )
        case MarkFault.TEXT:
            return Problem(
                kind="mark-with-text",
                what=message("{name} holds text, which looks otherwise on every machine", name=name),
                where=_PLACE,
                fix=message("make its words outlines (paths) where it was drawn, and save it again"),
            )
        case MarkFault.NO_SIZE:
            return Problem(
                kind="mark-without-size",
                what=message("{name} does not say how large it is", name=name),
                where=_PLACE,
                fix=message("an SVG with a viewBox"),
            )
        case MarkFault.EMPTY:
            return Problem(
                kind="mark-empty",
                what=message("{name} shows nothing", name=name),
                where=_PLACE,
                fix=message("a picture with something on it"),
            )


def _read(file: Path) -> bytes:
    try:
        about = file.stat()
        if not stat.S_ISREG(about.st_mode):
            raise Refusal(
                Problem(
                    kind="mark-no-file",
                    what=message("{name} is no file", name=file.name),
                    where=_PLACE,
                    fix=message("the name of a picture"),
                )
            )
        if about.st_size > LARGEST_FILE:
            raise Refusal(
                Problem(
                    kind="mark-too-large",
                    what=message(
                        "{name} is larger than {most} MB", name=file.name, most=LARGEST_FILE // 10**6
                    ),
                    where=_PLACE,
                    fix=message(
                        "a smaller picture; {side} pixels on its longer side are plenty", side=LONGEST_SIDE
                    ),
                )
            )
        return file.read_bytes()
    except (OSError, ValueError) as error:
        raise Refusal(
            Problem(
                kind="mark-unreadable",
                what=message(
                    "{name} cannot be read ({reason})",
                    name=file.name,
                    reason=getattr(error, "strerror", None) or type(error).__name__,
                ),
                where=_PLACE,
                fix=message("the path of a picture, from the folder of the design"),
            )
        ) from None


def _tried(data: bytes, name: str) -> tuple[bytes, int, int] | MarkFault:
    """The picture as the child made it ready, or why it did not.

    Raises:
        Refusal: nobody knows, because the child was not let finish.
    """
    try:
        said = answer_of(_PROBE, data).said
    except ChildBusyError:
        raise Refusal(_too_busy(name)) from None
    head, _, png = said.partition(b"\n")
    try:
        answer: Any = json.loads(head)
        if "fault" in answer:
            return MarkFault(answer["fault"])
        if png[:8] != _SIGNATURE or png[12:16] != b"IHDR":
            return MarkFault.DAMAGED
        width, height = struct.unpack(">II", png[16:24])
    except (ValueError, TypeError, struct.error):
        return MarkFault.DAMAGED
    if not (0 < width <= LONGEST_SIDE and 0 < height <= LONGEST_SIDE):
        return MarkFault.DAMAGED
    return png, width, height


def _too_busy(name: str) -> Problem:
    return Problem(
        kind="too-busy-to-try-mark",
        what=message("{name} could not be tried out, because this machine is busy", name=name),
        where=_PLACE,
        fix=message("again, once other programs have finished"),
    )
