"""Fonts that are not ours are tried out in a child process first, so that a hostile one can hurt nothing but that.

The child (`applique.typeset.probe`) opens the font, shapes the words and takes every outline they need, within limits
on processor time and memory. What comes of it is remembered by the font's digest while this process lives. A child that
waits too long for a busy machine says nothing of the font: that is remembered by nobody.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from typing import Any, Final

from applique.children import ChildBusyError, answer_of
from applique.errors import Problem, Refusal, Where
from applique.language import Message, message, messages

__all__ = ["MOST_BYTES", "MOST_SECONDS", "prove_font", "written_problem"]

MOST_SECONDS: Final = 5
"""Processor time for a font, beyond what it takes to start."""
MOST_BYTES: Final = 500_000_000
_PROBE: Final = "applique.typeset.probe"


@dataclass(slots=True, kw_only=True)
class _Proof:
    """What is known of a font at one axis setting: the characters it drew soundly, or why it is refused."""

    characters: set[str] = field(default_factory=set)
    problems: tuple[Problem, ...] = ()


_PROOFS: Final[dict[tuple[str, tuple[tuple[str, float], ...]], _Proof]] = {}


def prove_font(data: bytes, file_name: str, *, axes: Mapping[str, float], words: Iterable[str]) -> None:
    """Have a child process open the font `data` at `axes` and draw `words` (and its own defaults, for labels).

    Characters that the font lacks are passed over; whoever shapes the words refuses them. A font that passed is not
    tried again for characters that it drew already.

    Raises:
        Refusal: it crashed, hung, took too much memory, or broke a rule of fonts; or this machine is too busy to tell.
    """
    setting = tuple(sorted(axes.items()))
    digest = hashlib.sha256(data).hexdigest()
    wanted = tuple(words)
    known = _PROOFS.get((digest, setting))
    if known is None or (not known.problems and not known.characters.issuperset("".join(wanted))):
        proof = _Proof(characters=set("".join(wanted)), problems=_tried(data, file_name, setting, wanted))
        for key in {(digest, setting), (digest, ())}:
            earlier = _PROOFS.setdefault(key, _Proof())
            earlier.characters |= proof.characters
            earlier.problems = proof.problems
        known = proof
    if known.problems:
        raise Refusal(known.problems)


def _tried(
    data: bytes, file_name: str, setting: tuple[tuple[str, float], ...], words: tuple[str, ...]
) -> tuple[Problem, ...]:
    """What is wrong with the font.

    Raises:
        Refusal: nobody knows, because the child was not let finish.
    """
    asked = json.dumps({"name": file_name, "axes": dict(setting), "words": words}) + "\n"
    try:
        answered = answer_of(_PROBE, asked.encode("ascii") + data)
    except ChildBusyError:
        raise Refusal(_too_busy(file_name)) from None
    if answered.is_out_of_time:
        return (
            Problem(
                kind="font-too-slow",
                what=messages(
                    "takes more than {count} second of work to read and draw",
                    "takes more than {count} seconds of work to read and draw",
                    MOST_SECONDS,
                ),
                where=Where(file=file_name),
                fix=message("the file again from where it came, or another font"),
            ),
        )
    try:
        answer: Any = json.loads(answered.said)
        return tuple(_read_problem(one, file_name) for one in answer["problems"])
    except (ValueError, KeyError, TypeError):
        return (_damaged(file_name),)


def _damaged(file_name: str) -> Problem:
    return Problem(
        kind="font-damaged-or-too-hungry",
        what=message("is a damaged font, or one that takes over {most} MB to read", most=MOST_BYTES // 10**6),
        where=Where(file=file_name),
        fix=message("the file again from where it came, or another font"),
    )


def written_problem(problem: Problem) -> dict[str, Any]:
    """A problem of a font file as JSON: its messages with their fields, which are words and whole numbers there.

    Raises:
        ValueError: a message with other fields, which no problem of a font has.
    """
    return {
        "kind": problem.kind,
        "file": problem.where.file,
        "what": _written(problem.what),
        "fix": _written(problem.fix),
    }


def _written(said: Message) -> dict[str, Any]:
    if said.plural:
        raise ValueError(f"no plain message: {said}")
    if not all(isinstance(value, str | int) for _, value in said.fields):
        raise ValueError(f"a message with fields that are no words: {said}")
    return {"template": said.template, "fields": dict(said.fields)}


def _read_problem(written: Mapping[str, Any], file_name: str) -> Problem:
    """What the child found, as it wrote it, which may be anything.

    Raises:
        KeyError, TypeError, ValueError: it is no problem of a font that can be said.
    """
    return replace(
        _damaged(file_name),
        kind=str(written["kind"]),
        what=_read(written["what"]),
        where=Where(file=str(written["file"])),
        fix=_read(written["fix"]),
    )


def _read(written: Mapping[str, Any]) -> Message:
    fields = {
        str(name): value if isinstance(value, int) else str(value)
        for name, value in written["fields"].items()
    }
    read = Message(template=str(written["template"]), fields=tuple(fields.items()))
    if not str(read):  # saying it proves that it has all its fields
        raise ValueError("an empty message")
    return read


def _too_busy(file_name: str) -> Problem:
    return Problem(
        kind="too-busy-to-try-font",
        what=message("could not be tried out, because this machine is busy"),
        where=Where(file=file_name),
        fix=message("again, once other programs have finished"),
    )
