"""What a merge came to, as JSON."""

from datetime import date, time

from rosterkit import __version__
from rosterkit.checks.report import finding_record
from rosterkit.commands.merge.command import MergeReport
from rosterkit.commands.merge.lines import Line, What
from rosterkit.formats import as_json
from rosterkit.roster.cell_values import shown
from rosterkit.xlsx.grid import Raw


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
            "counts": {key: len(report.of(what)) for key, what in kinds.items()},
            "conflicts": [_conflict(line) for line in report.of(What.CONFLICT)],
            "only_together": [finding_record(one) for one in report.together],
            "taken": [
                {**_place(line), "column": line.column, "before": plain_value(line.before), **_from(line)}
                for line in report.of(What.TAKEN)
            ],
            "added": [
                {
                    **_place(line),
                    "from": list(line.sides),
                    "cells": {name: plain_value(value) for name, value in line.cells.items()},
                }
                for line in report.of(What.ADDED)
            ],
            "removed": [{**_place(line), "from": list(line.sides)} for line in report.of(What.REMOVED)],
            "not_merged": [
                {
                    "from": list(line.sides),
                    "sheet": line.sheet,
                    "cell": line.cell,
                    "value": plain_value(line.after),
                    "reason": line.remark,
                }
                for line in report.of(What.NOT_MERGED)
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
