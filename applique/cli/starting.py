"""What a maker starts from: `applique new`, `fonts`, `schema`, and `serve`, which opens the page."""

from __future__ import annotations

import json
from pathlib import Path

import click

from applique.cli.saying import note_written, say_json, saying_refusals

__all__ = ["fonts", "new", "schema", "serve"]


@click.command()
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--replace", is_flag=True, help="Overwrite FILE if it exists.")
@click.option("--json", "as_json", is_flag=True, help="Say it as JSON, for other programs.")
@saying_refusals
def new(file: Path, replace: bool, as_json: bool) -> None:
    """Write a commented design to FILE, to start from."""
    from applique.pack import write_text
    from applique.starter import STARTER

    write_text(file, STARTER, replace=replace)
    note_written(file)
    if as_json:
        say_json({"file": str(file)})
        return
    click.echo(f"Wrote {file}. Change the words, then: applique make {file}")


@click.command()
@click.argument("paths", nargs=-1, metavar="[PATH]...")
@click.option("--sample", metavar="WORDS", help="Words to try: says which fonts can spell them.")
@click.option("--json", "as_json", is_flag=True, help="Say it as JSON, for other programs.")
@saying_refusals
def fonts(paths: tuple[str, ...], sample: str | None, as_json: bool) -> None:
    """List the bundled fonts and what each can spell, or describe the font files at PATH."""
    from applique.language import american
    from applique.typeset.bundled import BUNDLED
    from applique.typeset.describe import describe_font

    names = paths or tuple(font.name for font in BUNDLED)
    described = [describe_font(name, sample=sample) for name in names]
    if as_json:
        say_json([font.as_data() for font in described])
        return
    click.echo("\n\n".join(font.as_text(american()) for font in described))


@click.command()
def schema() -> None:
    """Print the JSON Schema of the design file, for editors that complete TOML."""
    from applique.design import design_schema

    click.echo(json.dumps(design_schema(), ensure_ascii=False, indent=2))


@click.command()
@click.argument("file", required=False, type=click.Path(path_type=Path))
@click.option(
    "--port", type=click.IntRange(0, 65535), default=0, help="Port to use; any that is free if not given."
)
@click.option("--no-browser", is_flag=True, help="Only print the address.")
@click.option("--until-closed", is_flag=True, help="Stop when the last page is closed.")
@saying_refusals
def serve(file: Path | None, port: int, no_browser: bool, until_closed: bool) -> None:
    """Open the page that does the whole job, on this machine only, with the design of FILE if given."""
    from applique.web import serve as serve_page

    def say(address: str) -> None:
        click.echo(f"The page is at {address}\nCtrl-C stops it.")

    serve_page(file, port=port, open_browser=not no_browser, until_closed=until_closed, say=say)
