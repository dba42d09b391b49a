"""What fill says it did, for the person at the terminal."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from rosterkit.checks.result import CheckReport
from rosterkit.commands.common import each_file_once
from rosterkit.formats import as_lines
from rosterkit.xlsx.save.save import Saved


@dataclass(frozen=True, slots=True, kw_only=True)
class Filled:
    """What fill did."""

    target: Path
    """The file that holds the result."""
    kept: Path | None
    """The earlier file, where the workbook was filled in place."""
    written: bool
    """False where the workbook already was as it should be, and no copy was asked for."""
    renamed: Mapping[str, str]
    """Our sheets that had to take another title, because a sheet of the member's has theirs."""
    report: CheckReport
    remarks: Sequence[str] = ()
    """What was taken over from the earlier sheets, and what the workbook cannot do, and another would."""


def filled_from(
    saved: Saved, path: Path, out: Path | None, report: CheckReport, remarks: Sequence[str] = ()
) -> Filled:
    """Return what a saved workbook or copy came to."""
    is_copy = out is not None and len(each_file_once((path, out))) > 1
    return Filled(
        target=out or path,
        kept=saved.kept,
        written=saved.changed or is_copy,
        renamed={title: used for title, used in saved.titles.items() if title != used},
        report=report,
        remarks=remarks,
    )


def fill_text(filled: Filled) -> str:
    """Say which file was filled, where the earlier one is, and which sheets took another title."""
    if not filled.written:
        return as_lines([f"{filled.target} is filled already; nothing was written", *filled.remarks])
    lines = [f"filled {filled.target}" + (f"; the earlier file is {filled.kept}" if filled.kept else "")]
    lines += [
        f"your own sheet '{title}' was left alone: ours is '{used}'" for title, used in filled.renamed.items()
    ]
    return as_lines([*lines, *filled.remarks])
