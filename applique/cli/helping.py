"""Commands and options whose help is said in the language of the terminal when it is shown."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Any, Final, TypeVar

import click

from applique.cli.saying import terminal_speech
from applique.language import Message

__all__ = ["Command", "Group", "Option", "command", "helps", "option"]

Function = TypeVar("Function", bound=Callable[..., Any])


def helps(template: str) -> str:
    """The American help of a command or an option, marked for the catalogue by standing here in full."""
    return template


class _Told:
    """Its help is kept as it is written, and said in the language of the terminal."""

    _written: str | None = None

    @property
    def help(self) -> str | None:
        """The help in the language of the terminal."""
        return terminal_speech().tell(Message(template=self._written)) if self._written else None

    @help.setter
    def help(self, written: str | None) -> None:
        self._written = written


class Command(_Told, click.Command):
    """A command with such help."""

    def get_help_option(self, ctx: click.Context) -> click.Option | None:
        """The option that shows the help."""
        found = super().get_help_option(ctx)
        if found is not None:
            found.help = terminal_speech().say("Show this message and exit.")
        return found

    def format_usage(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Write how the command is called."""
        called = " ".join(self.collect_usage_pieces(ctx))
        formatter.write_usage(ctx.command_path, called, prefix=terminal_speech().say("Usage: "))

    def format_options(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Write what each option does."""
        options = [one for one in self.get_params(ctx) if isinstance(one, click.Option)]
        told = [record for one in options if (record := one.get_help_record(ctx)) is not None]
        with formatter.section(terminal_speech().say("Options")):
            formatter.write_dl(told)


class Group(Command, click.Group):
    """A group of commands with such help."""

    def format_options(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Write what each option does, and each command."""
        super().format_options(ctx, formatter)
        commands = [(name, self.commands[name]) for name in self.list_commands(ctx)]
        room = formatter.width - 6 - max(len(name) for name, _ in commands)
        with formatter.section(terminal_speech().say("Commands")):
            formatter.write_dl([(name, command.get_short_help_str(room)) for name, command in commands])


class Option(_Told, click.Option):
    """An option with such help."""


command: Final = partial(click.command, cls=Command)
"""As `click.command`, with such help."""


def option(*names: str, **settings: Any) -> Callable[[Function], Function]:
    """As `click.option`, with such help."""
    return click.option(*names, cls=Option, **settings)
