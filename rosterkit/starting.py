"""A new workbook, put in place whole and never over a file that is there."""

import os
import tempfile
from pathlib import Path

from rosterkit.demo_club import demo_club
from rosterkit.errors import CannotRunError
from rosterkit.xlsx.template import new_workbook as template


def new_workbook(path: Path, *, sample: bool = False, force: bool = False) -> None:
    """Make a starter workbook, or the demo club.

    Raises:
        CannotRunError: if the path is no .xlsx file, its folder is not there, or a file is there already.
    """
    if path.suffix.lower() != ".xlsx":
        raise CannotRunError(f"'{path}' does not end in .xlsx", f"Name it {path.with_suffix('.xlsx').name}.")
    if path.is_dir():
        raise CannotRunError(f"'{path}' is a folder", "Give another name.")
    if not path.parent.is_dir():
        raise CannotRunError(f"'{path.parent}' is not a folder to write into", "Make the folder first.")
    if path.exists() and not force:
        raise CannotRunError(f"'{path}' is there already", "Give another name, or --force to replace it.")
    _put(path, template(demo_club() if sample else {}))


def _put(path: Path, content: bytes) -> None:
    with tempfile.NamedTemporaryFile(dir=path.parent, prefix=f".{path.stem}-", delete=False) as stream:
        try:
            stream.write(content)
            stream.flush()
            os.fsync(stream.fileno())
            Path(stream.name).chmod(0o644)
            Path(stream.name).replace(path)
        except OSError:
            Path(stream.name).unlink(missing_ok=True)
            raise
