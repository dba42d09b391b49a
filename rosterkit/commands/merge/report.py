"""What a merge came to, as text that fits a screen and as JSON."""

from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from datetime import date, time

from rosterkit import __version__
from rosterkit.checks.report import finding_record
from rosterkit.commands.merge.command import MergeReport
from rosterkit.commands.merge.lines import BLANK_SIDE, Line, What
from rosterkit.commands.merge.record import BASE
from rosterkit.commands.merge.sheet import KEEP, TITLE
from rosterkit.formats import as_json, as_lines
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
    yield from _section(report, What.CONFLICT, "what was sent stands there until you choose")
    yield from _section(report, What.TOGETHER, "which no workbook had alone")
    yield from _section(report, What.NOT_MERGED, "for you to look at")
    if _of(report, What.CONFLICT):
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


def _of(report: MergeReport, what: What) -> list[Line]:
    return [line for line in report.lines if line.what is what]


def _section(report: MergeReport, what: What, meaning: str) -> Iterator[str]:
    lines = _of(report, what)
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
        return f"{', '.join(line.sides)}{f', {place}' if place else ''}{value}: {line.remark}"
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


def merge_json(report: MergeReport) -> str:
    """Return one object with the sums and every line (schema/outputs/merge.json)."""
    kinds = {
        "conflicts": What.CONFLICT,
        "only_together": What.TOGETHER,
        "taken": What.TAKEN,
        "added": What.ADDED,
        "removed": What.REMOVED,
        "not_merged": What.NOT_MERGED,
    }
    return as_json(
        {
            "rosterkit": __version__,
            "out": str(report.out),
            "base": None if report.base is None else str(report.base),
            "sides": [{"name": name, "path": path} for name, path in report.names],
            "changed": report.changed,
            "counts": {key: len(_of(report, what)) for key, what in kinds.items()},
            "conflicts": [_conflict(line) for line in _of(report, What.CONFLICT)],
            "only_together": [finding_record(one) for one in report.together],
            "taken": [
                {**_place(line), "column": line.column, "before": plain_value(line.before), **_from(line)}
                for line in _of(report, What.TAKEN)
            ],
            "added": [
                {
                    **_place(line),
                    "from": list(line.sides),
                    "cells": {name: plain_value(value) for name, value in line.cells.items()},
                }
                for line in _of(report, What.ADDED)
            ],
            "removed": [{**_place(line), "from": list(line.sides)} for line in _of(report, What.REMOVED)],
            "not_merged": [
                {
                    "from": list(line.sides),
                    "sheet": line.sheet,
                    "cell": line.cell,
                    "value": plain_value(line.after),
                    "reason": line.remark,
                }
                for line in _of(report, What.NOT_MERGED)
            ],
        }
    )


def _place(line: Line) -> dict[str, object]:
    return {"sheet": line.sheet, "cell": line.cell or None, "row": line.row}


def _from(line: Line) -> dict[str, object]:
    return {"value": plain_value(line.after), "from": list(line.sides)}


def _conflict(line: Line) -> dict[str, object]:
    record = line.record
    return {
        **_place(line),
        "kind": record.kind.value if record else None,
        "column": line.column or None,
        "base": plain_value(line.before),
        "sides": [
            {"names": list(side.sources), "value": plain_value(side.value), "cell": side.place}
            for side in (record.sides if record else ())
        ],
    }


def plain_value(raw: Raw) -> object:
    """Return what a cell holds as JSON has it: null for a blank one, dates and times as ISO 8601 has them."""
    if raw == "":
        return None
    if isinstance(raw, date | time):
        return raw.isoformat()
    if isinstance(raw, float) and raw.is_integer():
        return int(raw)
    return raw if isinstance(raw, str | int | float) else shown(raw)


MERGE_FORMATS: Mapping[str, Callable[[MergeReport], str]] = {"text": merge_text, "json": merge_json}


def is_failing(report: MergeReport) -> bool:
    """Tell whether somebody has to decide: a conflict is there, or an error that arises only together."""
    return bool(report.together) or any(line.what is What.CONFLICT for line in report.lines)
