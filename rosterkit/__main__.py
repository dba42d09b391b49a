"""The entry point: runs a command, and turns what stops it into one sentence and exit status 2."""

import gc
import os
import sys
from io import TextIOWrapper
from typing import TextIO

from rosterkit.errors import CannotRunError


def main() -> None:
    """Run rosterkit; never a traceback for something that a member can mend."""
    from rosterkit.cli.app import app  # noqa: PLC0415 - so that even an import that fails is a sentence

    raise_gc_threshold()
    use_utf8_output(sys.stdout)
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
        _stop(f"{error.filename or 'a file'}: {error.strerror or error}", "Look at the file and its folder.")


def raise_gc_threshold() -> None:
    """Have Python look for cycles of objects seldom: tables are many small objects, and have none."""
    gc.set_threshold(200_000, 50, 100)


def use_utf8_output(stream: TextIO) -> None:
    """Let a stream take every sign that a cell can hold; a file or pipe gets UTF-8, as JSON has to be."""
    if isinstance(stream, TextIOWrapper):
        encoding = stream.encoding if stream.isatty() else "utf-8"
        stream.reconfigure(encoding=encoding, errors="backslashreplace")


def _stop(message: str, fix: str) -> None:
    sys.stderr.write(f"rosterkit: {message}. {fix}\n")
    sys.exit(CannotRunError.exit_code)


if __name__ == "__main__":
    main()
