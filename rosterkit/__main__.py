"""The entry point: runs a command, and turns what stops it into one sentence and exit status 2."""

import errno
import gc
import os
import signal
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from io import TextIOWrapper
from pathlib import Path
from typing import TextIO

from rosterkit.errors import CannotRunError
from rosterkit.printable import printable

_ENDING_SIGNALS = [
    number
    for name in ("SIGINT", "SIGTERM", "SIGHUP")
    if (number := getattr(signal, name, None)) is not None  # Windows has no SIGHUP
]


def main() -> None:
    """Run rosterkit; never a traceback for something that a member can mend."""
    with _stopped_by_signals():
        _run()


def _run() -> None:
    _open_closed_streams()
    from rosterkit.cli.app import app  # noqa: PLC0415 - so that even an import that fails is a sentence

    raise_gc_threshold()
    use_utf8_output(sys.stdout)
    _refuse_removed_folder()
    try:
        app(prog_name="rosterkit")
    except CannotRunError as error:
        _stop(error.message, error.fix)
    except BrokenPipeError:
        # The reader of our output, such as head, has gone: nothing is left to say.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        sys.exit(CannotRunError.exit_code)
    except (MemoryError, RecursionError):
        _stop("the workbook needs more memory than there is", "Close other programs, or split the workbook.")
    except OSError as error:
        if error.errno == errno.ENAMETOOLONG:
            _stop(f"the name {error.filename} is too long", "Give a shorter one.")
        if error.filename is None:
            # What was to be done is done, as far as it was said: only the results could not be printed.
            os.dup2(os.open(os.devnull, os.O_WRONLY), 1)
            why = error.strerror or error
            _stop(f"the results cannot be printed: {why}", "Send them elsewhere; what is said above holds.")
        _stop(f"{error.filename}: {error.strerror or error}", "Look at the file and its folder.")


@contextmanager
def _stopped_by_signals() -> Iterator[None]:
    """Have a signal that ends the run clean up behind it, and say so in one line."""
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    ours, told = os.getpid(), list[int]()

    def stop(number: int, _: object) -> None:
        if told and number != signal.SIGINT:
            return  # a terminal that closes says so several times: cleaning up goes on
        told.append(number)
        if os.getpid() == ours:  # further processes of ours get the same signal, and leave the word to us
            sys.stderr.write("rosterkit: stopped\n")
        sys.exit(128 + number)

    # Whoever started us may have had one ignored, as nohup does.
    heeded = [number for number in _ENDING_SIGNALS if signal.getsignal(number) is not signal.SIG_IGN]
    before = {number: signal.signal(number, stop) for number in heeded}
    try:
        yield
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)


def _refuse_removed_folder() -> None:
    """Say so at once: every name of a file in it would seem to be misspelt."""
    try:
        Path.cwd()
    except FileNotFoundError:
        _stop("the folder you work in is not there any more", "Change to another folder, then try again.")


def _open_closed_streams() -> None:
    """Let results and messages go nowhere if their streams were closed by whoever started us."""
    if sys.stdout is None:
        sys.stdout = open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115, PTH123 - open until the end
    if sys.stderr is None:
        sys.stderr = open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115, PTH123 - open until the end


def raise_gc_threshold() -> None:
    """Have Python look for cycles of objects seldom: tables are many small objects, and have none."""
    gc.set_threshold(200_000, 50, 100)


def use_utf8_output(stream: TextIO) -> None:
    """Let a stream take every sign that a cell can hold; a file or pipe gets UTF-8, as JSON has to be."""
    if isinstance(stream, TextIOWrapper):
        encoding = stream.encoding if stream.isatty() else "utf-8"
        stream.reconfigure(encoding=encoding, errors="backslashreplace")


def _stop(message: str, fix: str) -> None:
    sys.stderr.write(f"rosterkit: {printable(message)}. {printable(fix)}\n")
    sys.exit(CannotRunError.exit_code)


if __name__ == "__main__":
    main()
