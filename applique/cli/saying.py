"""What every command says in the same way: refusals, notices, what was kept, what was written.

Text is in the language of the terminal; JSON is American English, for other programs.
"""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Callable
from functools import wraps
from pathlib import Path
from typing import TYPE_CHECKING, Any, ParamSpec

import click

from applique.errors import Notice, Problem, Refusal
from applique.language import Speech, choosing

if TYPE_CHECKING:
    from applique.batch import SharedHeight
    from applique.pack import Written

__all__ = [
    "as_data",
    "kept_as_data",
    "note_written",
    "say_json",
    "say_notices",
    "say_problems",
    "say_shared_height",
    "say_what_was_kept",
    "saying_refusals",
    "terminal_speech",
]

P = ParamSpec("P")


def terminal_speech() -> Speech:
    """The language of the terminal that this command runs in."""
    return choosing.terminal_speech(os.environ)


def saying_refusals(command: Callable[P, None]) -> Callable[P, None]:
    """Say a refusal, every problem of it, and leave with 1: on standard error, or as JSON where that is asked for."""

    @wraps(command)
    def refusing(*args: P.args, **kwargs: P.kwargs) -> None:
        try:
            command(*args, **kwargs)
        except Refusal as refusal:
            _say_refused(refusal, as_json=bool(kwargs.get("as_json")))
            sys.exit(1)

    return refusing


def _say_refused(refusal: Refusal, *, as_json: bool) -> None:
    if as_json:
        said = {"problems": [as_data(problem) for problem in refusal.problems], "notices": []}
        say_json(said)
        return
    say_problems(refusal.problems)


def say_problems(problems: tuple[Problem, ...]) -> None:
    """Print every problem on standard error."""
    speech = terminal_speech()
    for problem in problems:
        click.echo(speech.tell(problem.as_message()), err=True)


def as_data(said: Problem | Notice) -> dict[str, Any]:
    """What was said, as JSON holds it."""
    return {
        "kind": said.kind,
        "what": str(said.what),
        "where": str(said.where),
        "place": said.where.as_data(),
        "fix": str(said.fix),
        "cures": [],
    }


def say_json(data: object) -> None:
    """Print `data` as JSON."""
    click.echo(json.dumps(data, ensure_ascii=False, indent=1))


def note_written(path: Path) -> None:
    """Put down that `path` was written, for whoever has to say so if the command ends early (see `__main__`)."""
    click.get_current_context().ensure_object(list).append(path)


def say_notices(notices: tuple[Notice, ...]) -> None:
    """Print every notice, a line each."""
    speech = terminal_speech()
    for notice in notices:
        click.echo(speech.say("! {notice}", notice=notice.as_message()))


def kept_as_data(written: Written | None) -> dict[str, Any]:
    """What of the maker's own was in the folder: what stayed in it, and what was moved to folders beside it."""
    if written is None:
        return {"left": [], "kept": [], "beside": []}
    beside = [str(place) for place in written.beside]
    return {"left": list(written.left), "kept": list(written.kept), "beside": beside}


def say_what_was_kept(written: Written) -> None:
    """Print what of the maker's own stayed in the folder, and what was moved beside it."""
    speech = terminal_speech()
    if written.kept:
        click.echo(
            speech.say(
                "  kept in {place}, since it was changed: {names}",
                place=str(written.beside[0]),
                names=", ".join(written.kept),
            )
        )
    for place in written.beside[1 if written.kept else 0 :]:
        click.echo(speech.say("  kept in {place}: what came into the folder meanwhile", place=str(place)))
    if written.left:
        click.echo(speech.say("  left where it was: {names}", names=", ".join(written.left)))


def say_shared_height(shared: SharedHeight | None) -> None:
    """Print the height of letters at which all names of a list fit, and which of them allow no more."""
    speech = terminal_speech()
    if shared is None:
        click.echo(
            speech.say(
                "No common height was found: no row of words goes by `[lettering]`, or none can be set."
            )
        )
        return
    click.echo(
        speech.say(
            "Every name that can be set fits with letters {height} high; list row {row} allows no more.",
            height=shared.said,
            row=str(shared.decided_by[0]),
        )
    )
