"""What changed between two workbooks, as text, JSON and CSV."""

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from itertools import groupby

from rosterkit.commands.compare.engines import Comparison, EngineChange
from rosterkit.formats import as_csv, as_json, as_lines
from rosterkit.versions.rows import ChangeKind, Difference, RowChange

_KEYS = ("change", "owner", "loco", "what", "name", "old", "new", "sheet", "row")


def compare_text(found: Comparison) -> str:
    """Return a block per engine, a block per sheet with a line per row, and a line of sums."""
    lines: list[str] = []
    if found.settings:
        lines += ["Layout changed", *_lines(found.settings)]
    for engine in found.engines:
        owner = f" ({engine.owner})" if engine.owner else ""
        said = f"{engine.loco + owner} {engine.fate.value}"
        if engine.fate is ChangeKind.GONE:
            # What it had stands in the old workbook: the address is what is free again.
            had = next((one.old for one in engine.columns if one.name == "Address"), None)
            lines.append(said if had is None else f"{said}, Address {_shown(had)}")
            continue
        lines += [said, *_lines(engine.columns)]
        lines += [f"    CVs: {_cvs(engine)}"] if engine.cvs else []
    for title, rows in groupby(found.rows, key=lambda one: one.sheet):
        lines += _sheet_lines(title, list(rows))
    return as_lines([*lines, _sums(found)])


def _sheet_lines(title: str, rows: Sequence[RowChange]) -> list[str]:
    number = Counter(one.fate for one in rows)
    sums = ", ".join(f"{number[fate]} {fate.value}" for fate in ChangeKind if number[fate])
    return [f"{title}: {sums}", *(f"    {_row_line(one)}" for one in rows)]


def _row_line(one: RowChange) -> str:
    if one.fate is ChangeKind.CHANGED:
        values = [_change(each) for each in one.columns]
    else:
        further = (each for each in one.columns if each.name not in one.known_by)
        values = [f"{each.name} = {_shown(_there(each))}" for each in further]
    said = f"{one.row} {one.fate.value}"
    return f"{said}: {', '.join(values)}" if values else said


def _lines(differences: Iterable[Difference]) -> list[str]:
    return [f"    {_change(one)}" for one in differences]


def _change(one: Difference) -> str:
    return f"{one.name}: {_shown(one.old)} -> {_shown(one.new)}"


def _there(one: Difference) -> object:
    """Return the value of what was added or is gone."""
    return one.new if one.old is None else one.old


def _cvs(engine: EngineChange) -> str:
    if engine.fate is ChangeKind.CHANGED:
        return ", ".join(f"{one.name} {_shown(one.old)} -> {_shown(one.new)}" for one in engine.cvs)
    return ", ".join(f"{one.name} = {_there(one)}" for one in engine.cvs)


def _shown(value: object) -> str:
    if value is None:
        return "blank"
    if isinstance(value, str):
        return f"'{value}'"
    return f"{value:.15g}" if isinstance(value, float) else str(value)


def _sums(found: Comparison) -> str:
    number = Counter(one.fate for one in found.engines)
    parts = [f"{number[fate]} {fate.value}" for fate in ChangeKind]
    return f"engines: {', '.join(parts)}, {found.same} as before"


def compare_json(found: Comparison) -> str:
    """Return one object with the settings, the engines and the rows (schema/outputs/compare.json)."""
    return as_json(
        {
            "old": found.old,
            "new": found.new,
            "settings": _records(found.settings),
            "engines": [
                {
                    "change": one.fate.value,
                    "loco": one.loco,
                    "owner": one.owner,
                    "columns": _records(one.columns),
                    "cvs": _records(one.cvs),
                }
                for one in found.engines
            ],
            "rows": [
                {"change": one.fate, "sheet": one.sheet, "row": one.row, "columns": _records(one.columns)}
                for one in found.rows
            ],
            "same": found.same,
        }
    )


def _records(differences: Iterable[Difference]) -> list[dict[str, object]]:
    return [{"name": one.name, "old": one.old, "new": one.new} for one in differences]


def compare_csv(found: Comparison) -> str:
    """Return one row per value that changed."""
    rows = list(_csv_rows(found.settings, ("changed", None, None, "setting"), ("Layout", None)))
    for engine in found.engines:
        who, where = (engine.fate.value, engine.owner, engine.loco), ("Locomotives", None)
        rows += _csv_rows(engine.columns, (*who, "column"), where)
        rows += _csv_rows(engine.cvs, (*who, "CV"), where)
    for row in found.rows:
        rows += _csv_rows(row.columns, (row.fate.value, None, None, "column"), (row.sheet, row.row))
    return as_csv(_KEYS, rows)


def _csv_rows(
    differences: Iterable[Difference], before: tuple[object, ...], after: tuple[object, ...]
) -> Iterator[tuple[object, ...]]:
    return ((*before, one.name, one.old, one.new, *after) for one in differences)


COMPARE_FORMATS: Mapping[str, Callable[[Comparison], str]] = {
    "text": compare_text,
    "json": compare_json,
    "csv": compare_csv,
}
