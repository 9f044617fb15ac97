"""The command from its first line to its last: `applique`, and `python -m applique`.

Everything is loaded inside `run`, when it has taken care of Ctrl-C, of the standard streams and of what no other room
expects. What Python itself says before this line is reached cannot be helped.
"""

from __future__ import annotations

import errno
import io
import os
import signal
import sys
import time

TYPE_CHECKING = False  # so spelled, since `typing` takes a while to load and Ctrl-C may come early
if TYPE_CHECKING:
    from pathlib import Path
    from types import FrameType
    from typing import Final, NoReturn, TextIO

    from _typeshed import ReadableBuffer

__all__ = ["run"]

_REFUSED: Final = 1
_DEFECT: Final = 70
"""Source: EX_SOFTWARE of <sysexits.h>."""
_BY_SIGNAL: Final = 128
"""What a shell adds to the number of the signal that ended a program (POSIX, Shell Command Language, 2.8.2)."""
_UNREAD: Final = _BY_SIGNAL + 13
"""As of SIGPIPE; Windows has none."""


def run() -> int:
    """Run the command that the words of this process ask for; the code to leave with.

    That is 0 made, 1 refused, 2 wrong usage, 70 a defect of the program, 130 stopped with Ctrl-C, 143 told to end (by
    SIGTERM), 141 nobody reads on.
    Whatever happens is said in words on standard error, and never with a traceback.
    """
    caught: list[int] = []
    _listen_to_signals(caught)
    _open_what_is_closed()
    said, wrong = _watched("stdout"), _watched("stderr")
    written: list[Path] = []
    code = _REFUSED
    try:
        strange = _strange_machine()
        if strange is None:
            code = _run(written)
        else:
            _say(strange)
    except SystemExit as leaving:
        code = leaving.code if isinstance(leaving.code, int) else 0
    except BaseException as error:  # a panic of a library in Rust is no Exception
        if caught:
            _say(say("Stopped. {what_stands}", what_stands=_what_stands(written)))
            code = _BY_SIGNAL + caught[0]
        elif error not in (said.lost, wrong.lost):
            code = _DEFECT
            _say(_about_defect(error, written))
    if said.lost is None:
        return code
    if said.lost.errno == errno.EPIPE:
        return _UNREAD
    _say(
        say(
            "standard output cannot be written ({reason})\n  try: another place for it",
            reason=str(said.lost.strerror),
        )
    )
    _say(_what_stands(written))
    return code or _REFUSED


def _run(written: list[Path]) -> int:
    """Run the command line; the paths it writes are added to `written`."""
    import click

    from applique.cli import main

    try:
        code = main.main(prog_name="applique", standalone_mode=False, obj=written)
    except click.ClickException as error:
        error.show()
        return error.exit_code
    return code if isinstance(code, int) else 0


def _listen_to_signals(caught: list[int]) -> None:
    """Have Ctrl-C, or a request to end, stop the work in order, and put it down in `caught`; what is ignored stays so.

    Libraries in C turn it into errors of their own, or print it, while they load: there it ends the process at once,
    when nothing is being written. The second one ends the process anywhere.
    """

    def stop(number: int, frame: FrameType | None) -> NoReturn:
        if caught or _is_loading(frame):
            os.write(2, b"Stopped.\n")
            os._exit(_BY_SIGNAL + number)
        caught.append(number)
        raise KeyboardInterrupt

    for number, usual in (
        (signal.SIGINT, signal.default_int_handler),
        (signal.SIGTERM, signal.SIG_DFL),
    ):
        if signal.getsignal(number) is usual:
            signal.signal(number, stop)


def _is_loading(frame: FrameType | None) -> bool:
    while frame is not None:
        if frame.f_code.co_filename.startswith("<frozen importlib"):
            return True
        frame = frame.f_back
    return False


class _Watched(io.RawIOBase):
    """A standard stream that remembers why it could not be written, and then takes no more."""

    def __init__(self, stream: TextIO) -> None:
        self._stream = stream
        """Held, since it would be closed otherwise."""
        self._raw = getattr(stream.buffer, "raw", stream.buffer)
        self.lost: OSError | None = None

    def writable(self) -> bool:
        """Yes."""
        return True

    def fileno(self) -> int:
        """That of the stream."""
        return self._stream.fileno()

    def isatty(self) -> bool:
        """As the stream is."""
        return self._stream.isatty()

    def write(self, data: ReadableBuffer, /) -> int:
        """Write to the stream.

        Raises:
            OSError: it cannot be written; said once.
        """
        if self.lost is not None:  # or the interpreter tries again when it is taken down, and complains
            return memoryview(data).nbytes
        try:
            return int(self._raw.write(data))
        except OSError as error:
            self.lost = error
            raise


def _watched(name: str) -> _Watched:
    """Have the standard stream `name` watched; what watches it."""
    stream = getattr(sys, name)
    watched = _Watched(stream)
    fresh = io.TextIOWrapper(
        io.BufferedWriter(watched),
        encoding=stream.encoding,
        errors=stream.errors,
        line_buffering=stream.line_buffering,
    )
    setattr(sys, name, fresh)
    return watched


def _open_what_is_closed() -> None:
    """Give standard streams that were closed somewhere to go, so that no file is opened in their place."""
    for name, mode in (("stdin", "r"), ("stdout", "w"), ("stderr", "w")):
        if getattr(sys, name) is None:
            stream = open(os.devnull, mode, encoding="utf-8")  # noqa: PTH123, SIM115 (it stays open, and loads nothing)
            os.set_inheritable(stream.fileno(), True)
            setattr(sys, name, stream)


def _strange_machine() -> str | None:
    """What of this machine no command can work with, and what to do; None for a machine like others.

    Source: CPython counts time in nanoseconds of 64 bits, which end in 2262, and raises OverflowError beyond them.
    """
    try:
        time.time()
        os.getcwd()  # noqa: PTH109 (`pathlib` is not loaded yet)
    except OverflowError:
        return say(
            "the clock of this machine: it shows a year that this program cannot count\n  try: set it right"
        )
    except FileNotFoundError:
        return say(
            "the current folder: it was taken away\n  try: go to one that is there, and then the same again"
        )
    return None


def _about_defect(error: BaseException, written: list[Path]) -> str:
    from applique.defects import kept_report, report

    text = report(error)
    place = kept_report(text)
    if place is None:
        kept = say("The report, which could not be kept anywhere:\n{report}", report=text)
    else:
        kept = say(
            "The report is kept in {file}\n"
            "It holds the words of the command and names of your files: read it, then give it to whoever looks after "
            "the program.",
            file=str(place),
        )
    return say(
        "This is a defect of the program and no fault of yours ({error}).\n{what_stands}\n{report}",
        error=type(error).__name__,
        what_stands=_what_stands(written),
        report=kept,
    )


def _what_stands(written: list[Path]) -> str:
    if not written:
        return say("Nothing was changed.")
    return say("What was written before stands: {names}.", names=", ".join(str(path) for path in written))


def say(template: str, /, **fields: str) -> str:
    """The sentence of `template` in the language of the terminal; in American English where nothing can be loaded."""
    try:
        from applique.cli.saying import terminal_speech
        from applique.language import Message

        return terminal_speech().tell(Message(template=template, fields=tuple(fields.items())))
    except Exception:  # what is broken may be just that, and has to be said all the same
        return template.format(**fields)


def _say(words: str) -> None:
    try:
        print(words, file=sys.stderr, flush=True)
    except OSError:
        return  # there is nobody left to tell


if __name__ == "__main__":
    sys.exit(run())
