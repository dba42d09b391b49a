"""The demo club's workbook with formulas, as rosterkit makes it."""

from pathlib import Path

from tests.command_line import run


def write_demo_club(path: Path) -> Path:
    """Make the demo club with ``new``, fill it, and return where it is."""
    made = run("new", path, "--sample")
    assert made.status == 0, made.err
    filled = run("fill", path)
    # The demo club has faults on purpose.
    assert filled.status == 1, filled.err
    return path
