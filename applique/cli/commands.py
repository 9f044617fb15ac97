"""`applique` itself: the group that every command belongs to."""

from __future__ import annotations

import io
import sys

import click

from applique.cli.checking import check
from applique.cli.helping import Group, Option, helps
from applique.cli.making import make
from applique.cli.starting import fonts, new, schema, serve

__all__ = ["main"]


@click.group(
    cls=Group,
    commands=(make, check, new, fonts, schema, serve),
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
    help=helps("Quilts of words: letters at true size, templates, placement guide, cut files and yardage."),
)
@click.version_option(
    package_name="applique",
    message="%(version)s",
    cls=Option,
    help=helps("Show the version and exit."),
)
def main() -> None:
    """The command `applique`."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(
            stream, io.TextIOWrapper
        ):  # a pipe of few letters must not stop the work over a Hebrew word
            stream.reconfigure(errors="backslashreplace")
