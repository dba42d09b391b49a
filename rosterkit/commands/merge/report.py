"""What a merge came to, as text that fits a screen."""

from collections import Counter
from collections.abc import Callable, Iterator, Mapping

from rosterkit.commands.merge.command import MergeReport
from rosterkit.commands.merge.lines import BLANK_SIDE, Line, What
from rosterkit.commands.merge.record import BASE
from rosterkit.commands.merge.report_json import merge_json
from rosterkit.commands.merge.sheet import KEEP, TITLE
from rosterkit.formats import as_lines
from rosterkit.roster.cell_values import shown
from rosterkit.xlsx.grid import Raw

_FIRST = 3
"""Lines of each kind that are printed; the sheet has all."""
_COUNTED = {
    What.TAKEN: "cell taken",
    What.ADDED: "row added",
    What.REMOVED: "row removed",
    What.CONFLICT: "conflict",
    What.NOT_MERGED: "thing not merged",
}
_PLURALS = {
    "cell taken": "cells taken",
    "row added": "rows added",
    "row removed": "rows removed",
    "thing not merged": "things not merged",
    "error only together": "errors only together",
}
_MOST_NAMES = 8
"""Sides of which the sums are printed, each in its line."""


def merge_text(report: MergeReport) -> str:
    """Return the sums of each side, the first conflicts and errors only together, and what is next."""
    return as_lines(_text(report))


def made_text(report: MergeReport) -> str:
    """Say which file was made, and where the earlier one is."""
    return f"made {report.out}" + (f"; the earlier file is {report.kept}" if report.kept else "")


def _text(report: MergeReport) -> Iterator[str]:
    if report.base is None:
        yield "without --base nobody can tell what was deleted, and every difference is a conflict"
        yield "notes, photos, formats and cells outside the lists were not compared either"
    if not report.changed:
        yield "the copies change nothing: the merged workbook is the same, byte for byte"
        return
    yield from _sums(report)
    stands = "the cell is blank" if report.base is None else "what was sent stands there"
    if any(not line.column for line in report.of(What.CONFLICT)):
        stands += ", and a row that was deleted and changed is as it was changed,"
    yield from _section(report, What.CONFLICT, f"{stands} until you choose")
    yield from _section(report, What.TOGETHER, "which no workbook had alone")
    yield from _section(report, What.NOT_MERGED, "for you to look at")
    if report.of(What.CONFLICT):
        yield f"choose under {KEEP} in the sheet {TITLE}, then run 'rosterkit merge --resolve {report.out}'"
    yield f"run 'rosterkit fill {report.out}' next, for CVs, Check, Findings and Cards"


def _sums(report: MergeReport) -> Iterator[str]:
    for name, _ in report.names[:_MOST_NAMES]:
        found = Counter(line.what for line in report.lines if name in line.sides)
        parts = [_number(found[what], word) for what, word in _COUNTED.items() if found[what]]
        yield f"{name}: {', '.join(parts) or 'nothing changed'}"
    if len(report.names) > _MOST_NAMES:
        yield f"… {len(report.names) - _MOST_NAMES} more sides"


def _number(count: int, word: str) -> str:
    return f"{count} {word if count == 1 else _PLURALS.get(word, word + 's')}"


def number_of_conflicts(count: int) -> str:
    """Return so many conflicts in words."""
    return _number(count, "conflict")


def _section(report: MergeReport, what: What, meaning: str) -> Iterator[str]:
    lines = report.of(what)
    if not lines:
        return
    word = _COUNTED.get(what, what.value)
    yield f"{_number(len(lines), word)}: {meaning}"
    yield from (f"    {_line(line)}" for line in lines[:_FIRST])
    if len(lines) > _FIRST:
        yield f"    … {len(lines) - _FIRST} more in the sheet {TITLE}"


def _line(line: Line) -> str:
    place = " ".join(part for part in (line.sheet, line.cell) if part)
    about = ", ".join(part for part in (line.row, line.column) if part)
    if line.what is What.NOT_MERGED:
        value = "" if line.after == "" else f" ({shown(line.after)})"
        of = f", {place}{f' [{line.row}]' if line.row else ''}" if place else ""
        return f"{', '.join(line.sides)}{of}{value}: {line.remark}"
    said = line.rule
    if line.what is What.CONFLICT:
        if not line.column:
            return f"{place} [{about}] " + ", ".join(f"{name} {said}" for name, said in line.sides.items())
        values = [*line.sides.items(), (BASE, line.before)]
        said = ", ".join(f"{name} {_quoted(value)}" for name, value in values)
        return f"{place} [{about}] {said}{f'; {line.remark}' if line.remark else ''}"
    return f"{place} [{about}] {said}: {line.remark}"


def _quoted(value: Raw) -> str:
    if value in ("", BLANK_SIDE):
        return "blank"
    return f"'{shown(value)}'" if isinstance(value, str) else shown(value)


MERGE_FORMATS: Mapping[str, Callable[[MergeReport], str]] = {"text": merge_text, "json": merge_json}


def is_failing(report: MergeReport) -> bool:
    """Tell whether somebody has to decide: a conflict is there, or an error that arises only together."""
    return bool(report.together) or any(line.what is What.CONFLICT for line in report.lines)
