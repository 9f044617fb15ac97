"""Fonts that are not ours are tried out in a child process first, so that a hostile one can hurt nothing but that.

The child (`applique.typeset.probe`) opens the font, shapes the words and takes every outline they need, within limits
on time and memory. What it survives is remembered by the font's digest while this process lives.
"""

from __future__ import annotations

import hashlib
import json
import os
import subprocess
import sys
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any, Final

from applique.errors import Problem, Refusal

__all__ = ["MOST_BYTES", "MOST_SECONDS", "prove_font"]

MOST_SECONDS: Final = 5
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
        Refusal: it crashed, hung, took too much memory, or broke a rule of fonts.
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
    asked = json.dumps({"name": file_name, "axes": dict(setting), "words": words}) + "\n"
    try:
        done = subprocess.run(
            # -P: no module of the folder that the maker works in may stand for one of ours.
            [sys.executable, "-P", "-m", _PROBE],
            input=asked.encode("ascii") + data,
            capture_output=True,
            timeout=MOST_SECONDS,
            env={**os.environ, "OPENBLAS_NUM_THREADS": "1"},
        )
    except subprocess.TimeoutExpired:
        return (_problem(file_name, f"takes longer than {MOST_SECONDS} seconds to read and draw"),)
    try:
        answer: Any = json.loads(done.stdout)
        return tuple(Problem(**problem) for problem in answer["problems"])
    except (ValueError, KeyError, TypeError):
        return (
            _problem(
                file_name, f"is a damaged font, or one that takes over {MOST_BYTES // 10**6} MB to read"
            ),
        )


def _problem(file_name: str, what: str) -> Problem:
    return Problem(what=what, where=file_name, fix="the file again from where it came, or another font")
