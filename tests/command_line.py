"""Commands run as a member types them, and workbook files for them to work on."""

import os
import subprocess
import sys
from contextlib import redirect_stderr, redirect_stdout
from dataclasses import dataclass
from io import BytesIO, TextIOWrapper
from pathlib import Path

import openpyxl

from rosterkit.__main__ import main
from rosterkit.xlsx.grid import Workbook

_CHECKOUT = str(Path(__file__).parents[1])


@dataclass(frozen=True, slots=True, kw_only=True)
class Ran:
    """What a command came to."""

    status: int
    out: str
    err: str


def run(*words: object) -> Ran:
    """Run a command in this process; whatever is not meant to end it comes through as it is."""
    out, err = (TextIOWrapper(BytesIO(), encoding="utf-8", write_through=True) for _ in range(2))
    before, status = sys.argv, 0
    sys.argv = ["rosterkit", *map(str, words)]
    try:
        with redirect_stdout(out), redirect_stderr(err):
            main()
    except SystemExit as leaving:
        status = int(leaving.code or 0)
    finally:
        sys.argv = before
    return Ran(status=status, out=_read(out), err=_read(err))


def _read(stream: TextIOWrapper) -> str:
    stream.seek(0)
    return stream.read()


def started(*words: object, **environment: str) -> Ran:
    """Run a command in a process of its own."""
    done = subprocess.run(
        [sys.executable, "-m", "rosterkit", *map(str, words)],
        capture_output=True,
        timeout=60,
        check=False,
        env={**os.environ, "PYTHONPATH": _CHECKOUT, **environment},
    )
    return Ran(status=done.returncode, out=done.stdout.decode(), err=done.stderr.decode())


def written(path: Path, source: Workbook) -> Path:
    """Write a workbook's sheets to a file with openpyxl; further titles become empty sheets."""
    book = openpyxl.Workbook()
    book.remove(book.worksheets[0])
    for title in source.titles:
        sheet = book.create_sheet(title)
        for row in source.grids[title].rows if title in source.grids else ():
            sheet.append([None if cell == "" else cell for cell in row])
    book.save(path)
    return path
