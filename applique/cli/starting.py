"""What a maker starts from: `applique new`, `fonts`, `schema`, and `serve`, which opens the page."""

from __future__ import annotations

import json
from pathlib import Path

import click

from applique.cli.helping import command, helps, option
from applique.cli.saying import note_written, say_json, saying_refusals, terminal_speech
from applique.language import american

__all__ = ["fonts", "new", "schema", "serve"]


@command(help=helps("Write a commented design to FILE, to start from."))
@click.argument("file", type=click.Path(path_type=Path))
@option("--replace", is_flag=True, help=helps("Overwrite FILE if it exists."))
@option("--json", "as_json", is_flag=True, help=helps("Print the result as JSON."))
@saying_refusals
def new(file: Path, replace: bool, as_json: bool) -> None:
    """The command `new`; in centimeters and for A4 if the terminal is British."""
    from applique.pack import write_text
    from applique.starter import starter

    write_text(file, starter(terminal_speech()), replace=replace)
    note_written(file)
    if as_json:
        say_json({"file": str(file)})
        return
    click.echo(
        terminal_speech().say("Wrote {file}. Change the words, then: applique make {file}", file=str(file))
    )


@command(help=helps("List the bundled fonts and what each can spell, or describe the font files at PATH."))
@click.argument("paths", nargs=-1, metavar="[PATH]...")
@option("--sample", metavar="WORDS", help=helps("Words to try: says which fonts can spell them."))
@option("--json", "as_json", is_flag=True, help=helps("Print the result as JSON."))
@saying_refusals
def fonts(paths: tuple[str, ...], sample: str | None, as_json: bool) -> None:
    """The command `fonts`."""
    from applique.typeset.bundled import BUNDLED
    from applique.typeset.describe import describe_font

    names = paths or tuple(font.name for font in BUNDLED)
    described = [describe_font(name, sample=sample) for name in names]
    if as_json:
        say_json([font.as_data(american()) for font in described])
        return
    click.echo("\n\n".join(font.as_text(terminal_speech()) for font in described))


@command(help=helps("Print the JSON Schema of the design file, for editors that complete TOML."))
def schema() -> None:
    """The command `schema`."""
    from applique.design import design_schema

    click.echo(json.dumps(design_schema(), ensure_ascii=False, indent=2))


@command(
    help=helps(
        "Open the page that does the whole job, on this machine only, with the design of FILE if given."
    )
)
@click.argument("file", required=False, type=click.Path(path_type=Path))
@option(
    "--port",
    type=click.IntRange(0, 65535),
    help=helps("Port to use; that of the last time, or any that is free, if not given."),
)
@option("--no-browser", is_flag=True, help=helps("Only print the address."))
@option("--until-closed", is_flag=True, help=helps("Stop when the last page is closed."))
@saying_refusals
def serve(file: Path | None, port: int | None, no_browser: bool, until_closed: bool) -> None:
    """The command `serve`."""
    from applique.web import serve as serve_page

    def tell(address: str) -> None:
        click.echo(terminal_speech().say("The page is at {address}\nCtrl-C stops it.", address=address))

    serve_page(file, port=port, open_browser=not no_browser, until_closed=until_closed, tell=tell)
