"""`serve`: the page on this machine, until it is stopped."""

from __future__ import annotations

import contextlib
import secrets
import signal
import socket
import tempfile
import threading
import webbrowser
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path

import uvicorn

from applique.design import design_data, read_design
from applique.design.blocks import refuse_blocks
from applique.design.fonts import fonts_named
from applique.design.model import Design
from applique.errors import Problem, Refusal, Where
from applique.fabrics import resolve_fabrics, shared_photos
from applique.kept import Address, Chest, KeptAddress, data_folder
from applique.language import message
from applique.publishing import read_mark
from applique.store import nests_beside
from applique.typeset.fonts import open_typeface
from applique.typeset.own import own_fonts, shared_design
from applique.web.app import Start, page_app
from applique.web.guard import HOST
from applique.web.presence import Presence
from applique.web.tabs import Tabs

__all__ = ["serve"]


def serve(
    file: Path | None,
    *,
    port: int | None,
    open_browser: bool,
    until_closed: bool,
    tell: Callable[[str], None],
) -> None:
    """Serve the page on 127.0.0.1 and nowhere else, with the design of `file` if there is one.

    `port` None takes that of the last run, with the same key in the address, or any that is free. `tell` is told the
    address. `until_closed` stops it with the last open page.

    Raises:
        Refusal: the design cannot be read, or the port is taken.
    """
    start, fonts, marks, photos = _start(file)
    home = data_folder()
    kept = KeptAddress(home)
    listening, token = _address(port, kept)
    with contextlib.closing(listening), tempfile.TemporaryDirectory(prefix="applique-page-") as folder:
        server: uvicorn.Server
        presence = Presence((lambda: setattr(server, "should_exit", True)) if until_closed else None)
        app = page_app(
            token=token,
            port=listening.getsockname()[1],
            tabs=Tabs(
                Path(folder),
                fonts=fonts,
                nests={} if file is None else nests_beside(file.parent),
                marks=marks,
                photos=photos,
            ),
            start=start,
            presence=presence,
            chest=Chest(None if home is None else home / "quilts"),
        )
        server = uvicorn.Server(
            uvicorn.Config(app, ws="none", log_level="error", access_log=False, timeout_graceful_shutdown=1)
        )
        address = f"http://{HOST}:{listening.getsockname()[1]}/{token}/"
        with _ended_by_signals(server):
            tell(address)
            if open_browser:
                threading.Thread(target=webbrowser.open, args=(address,), daemon=True).start()
            server.run(sockets=[listening])
    kept.let_go()


@contextlib.contextmanager
def _ended_by_signals(server: uvicorn.Server) -> Iterator[None]:
    """Ctrl-C or a request to end ends `server` in order, whether it has begun already or not.

    An interrupt would be lost in what Python calls back while it loads a module. uvicorn sends the signal that ended it
    once more when it is done.
    """

    def end(*_: object) -> None:
        server.should_exit = True

    former = {number: signal.signal(number, end) for number in (signal.SIGINT, signal.SIGTERM)}
    try:
        yield
    finally:
        for number, handler in former.items():
            signal.signal(number, handler)


def _address(port: int | None, kept: KeptAddress) -> tuple[socket.socket, str]:
    """The socket to listen on, and the key of the page.

    They are those of the last run, unless `port` asks for another or a program runs under them. Whoever listened where
    this one used to may have been shown its key by an open page, so another port has another key.
    """
    is_ours = kept.take()
    last = kept.read() if is_ours else None
    if last is not None and port in (None, last.port):
        try:
            return _listening(last.port), last.token
        except Refusal:
            if port is not None:
                raise
    listening, token = _listening(port or 0), secrets.token_urlsafe(24)
    if is_ours and port is None:
        kept.write(Address(port=listening.getsockname()[1], token=token))
    return listening, token


def _listening(port: int) -> socket.socket:
    listening = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    listening.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listening.bind((HOST, port))
        listening.listen(128)
    except (OSError, OverflowError) as error:
        listening.close()
        raise Refusal(
            Problem(
                kind="port-unusable",
                what=message(
                    "port {port} cannot be used ({reason})",
                    port=str(port),
                    reason=(error.strerror or type(error).__name__)
                    if isinstance(error, OSError)
                    else message("no port"),
                ),
                where=Where(file="--port"),
                fix=message("another, or none"),
            )
        ) from None
    return listening


def _start(
    file: Path | None,
) -> tuple[Start, dict[str, Path], dict[str, Path], dict[str, bytes]]:
    """What a page begins with, and what its design names: fonts, the picture of a mark, and photos made ready."""
    if file is None:
        return Start(design={}, name=""), {}, {}, {}
    read = refuse_blocks(read_design(file))
    photos = resolve_fabrics(read).photos
    names = shared_photos(read, photos)
    ready = {names[fabric.photo]: photos[fabric.name].photo.data for fabric in read.fabric if fabric.photo}
    design, fonts = _with_own_names(read, names)
    mark = read.publisher.mark_file
    marks = {read_mark(mark).name: Path(mark)} if mark else {}
    return Start(design=design_data(design), name=file.name), fonts, marks, ready


def _with_own_names(design: Design, photos: Mapping[str, str]) -> tuple[Design, dict[str, Path]]:
    """`design` with the paths of its files made plain names, and the path of the font of each name."""
    fonts = own_fonts(fonts_named(design))
    for font in fonts:
        open_typeface(font.font)
    return shared_design(design, fonts, photos), {font.name: Path(font.font) for font in fonts}
