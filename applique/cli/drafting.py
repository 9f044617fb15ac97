"""From the words of a command to a design, and from a design to its pattern, with a word on how long that takes."""

from __future__ import annotations

import math
import re
import signal
import sys
import threading
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

import click

from applique.cli.saying import terminal_speech
from applique.errors import Problem, Refusal, Where
from applique.language import message

if TYPE_CHECKING:
    from applique.design import Design
    from applique.pattern import Pattern

__all__ = ["design_of", "drafted", "folder_name_of", "say_how_long", "shown_progress"]

_SECONDS_A_LETTER: Final = 0.008
"""For all but the search for nests, by `docs/performance.md`."""
_LONG_SECONDS: Final = 8.0


def design_of(file: Path | None, texts: tuple[str, ...], options: Mapping[str, str | None]) -> Design:
    """The design in `file`, or one of the rows of `texts` with the options given beside them.

    Raises:
        click.UsageError: both of them, or neither.
        Refusal: what is wrong with the design.
    """
    from applique.design import design_from_mapping, read_design

    given = [f"--{name.replace('_', '-')}" for name, value in options.items() if value is not None]
    if file is not None:
        if texts or given:
            raise click.UsageError(
                terminal_speech().say(
                    "{option} does not go with FILE; change the file instead.",
                    option="--text" if texts else given[0],
                )
            )
        return read_design(file)
    if not texts:
        raise click.UsageError(terminal_speech().say("Give a design FILE, or words with --text."))
    lettering = {key: options[key] for key in ("font", "cap_height") if options[key] is not None}
    data: dict[str, Any] = {"row": [{"text": text} for text in texts], "lettering": lettering}
    if options["panel"] is not None:
        data["panel"] = _panel_size(options["panel"])
    if options["title"] is not None:
        data["title"] = options["title"]
    return design_from_mapping(data, base=Path())


def _panel_size(size: str) -> dict[str, str]:
    """Width and height of `30x40in`, `30in x 40in` or `76×102 cm`; one unit may serve both."""
    parts = re.split(r"\s*[x×X*]\s*|\s+by\s+", size.strip())
    unit = re.search(r"[^\d\s./,½¼¾⅛⅜⅝⅞-]+$", parts[-1])
    if len(parts) != 2 or not all(parts) or unit is None:
        raise Refusal(
            Problem(
                kind="no-panel-size",
                what=message("“{size}” is no panel size", size=size),
                where=Where(file="--panel"),
                fix=message('width by height, such as "30x40in"'),
            )
        )
    width = parts[0] if re.search(r"[^\d\s./,½¼¾⅛⅜⅝⅞-]", parts[0]) else parts[0] + unit[0]
    return {"width": width, "height": parts[1]}


def folder_name_of(file: Path | None, design: Design) -> str:
    """The folder to write where none was named: called after the file, or after the design where there is none."""
    from applique.pack import folder_name

    if file is not None:
        return file.stem
    return folder_name(design.title or " ".join(row.text for row in design.rows))


def drafted(design: Design, effort: str = "quick", *, beside: Path | None = None) -> Pattern:
    """The pattern of `design`, with nests from the folder `beside` it, from those kept before, or found now."""
    from applique.nesting import Effort, Nester, can_search
    from applique.pattern import draft
    from applique.store import FolderStore, cache_folder, nests_beside

    chosen = Effort[effort.upper()]
    if chosen is Effort.QUICK:
        return draft(design)
    if not can_search():
        click.echo(
            terminal_speech().say(
                "The nesting library is not installed; "
                "letters are laid out by our own placement where no nest is kept."
            ),
            err=True,
        )
    elif chosen is Effort.LONG and sys.stderr.isatty():
        click.echo(
            terminal_speech().say("  looking for a shorter layout; Ctrl-C takes what there is"), err=True
        )
    with _stopped_by_hand(chosen is Effort.LONG) as stop:
        nester = Nester(
            effort=chosen,
            store=FolderStore(cache_folder()),
            given={} if beside is None else nests_beside(beside),
            stop=stop,
        )
        return draft(design, nester=nester)


@contextmanager
def _stopped_by_hand(wanted: bool) -> Iterator[Callable[[], bool] | None]:
    """Within it, Ctrl-C ends a long search instead of the program; yields what tells whether it was pressed."""
    if not wanted:
        yield None
        return
    pressed = threading.Event()
    former = signal.signal(signal.SIGINT, lambda *_: pressed.set())
    try:
        yield pressed.is_set
    finally:
        signal.signal(signal.SIGINT, former)


def say_how_long(design: Design, effort: str) -> None:
    """Tell a person who is watching how long it will take, if that is long."""
    from applique.nesting import Effort, search_seconds

    letters = sum(not sign.isspace() for row in design.rows for sign in row.text)
    seconds = search_seconds(letters, Effort[effort.upper()]) + letters * _SECONDS_A_LETTER
    if sys.stderr.isatty() and seconds > _LONG_SECONDS:
        click.echo(
            terminal_speech().count(
                "  {count} letter: about {seconds} seconds, less a second time",
                "  {count} letters: about {seconds} seconds, less a second time",
                letters,
                seconds=math.ceil(seconds / 5) * 5,
            ),
            err=True,
        )


def shown_progress() -> Callable[[str], None] | None:
    """Say each step on standard error when a person is watching."""
    if not sys.stderr.isatty():
        return None
    return lambda step: click.echo(f"  {step}", err=True)
