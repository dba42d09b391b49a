"""What headings are read as, compared with what a patient keeper reads them as."""

import re
from collections import defaultdict
from collections.abc import Mapping

from rosterkit.cell_names import column_letters
from rosterkit.lists.adopted import Adopted
from tests.lists.figures import Score
from tests.lists.gold import Gold, field_name

_NOT_A_FIELD = {"own", "nothing", ""}
_COLUMN = re.compile(r"(?P<sheet>.*)!(?P<letters>[A-Z]{1,3})")


def compare_columns(gold: Gold, adopted: Adopted, score: Score) -> None:
    """Compare each heading: what stays the member's own where it could be ours is missed, not wrong."""
    read, by_column = _readings(adopted)
    pairs = _pairs(adopted)
    for key, accepted in gold.columns.items():
        found = read.get(key) or read.get(_other_key(key, read, gold)) or pairs.get(key)
        found = found or _within_column(key, by_column)
        fields = {name for name in found if name not in _NOT_A_FIELD}
        if accepted & {"cv", "value"} and any(
            name.startswith("cv:") or name in {"cv", "value"} for name in fields
        ):
            score.note("columns right")
        elif fields - accepted:
            score.note(
                "columns wrong",
                f"{key} read as {', '.join(sorted(fields))}, not {' or '.join(sorted(accepted))}",
            )
        elif fields or accepted & found or (not found and accepted & _NOT_A_FIELD):
            score.note("columns right")
        else:
            score.note("columns missed", f"{key} is {' or '.join(sorted(accepted))}")
    for key in sorted(read.keys() - gold.columns.keys()):
        for name in sorted(read[key] - _NOT_A_FIELD):
            score.counts["columns beyond"] += 1
            score.faults.append(f"columns beyond: {key} read as {name}, of which the gold says nothing")


def _readings(adopted: Adopted) -> tuple[dict[str, set[str]], dict[tuple[str, str], set[str]]]:
    """Return what headings are read as, by their keys and by the columns of their cells."""
    read: dict[str, set[str]] = defaultdict(set)
    by_column: dict[tuple[str, str], set[str]] = defaultdict(set)
    for reading in adopted.readings:
        for one in reading.columns:
            heading = reading.table.headings[one.heading]
            name = field_name(one.read_as) if reading.subject else "own"
            read[heading.key].add(name)
            cells = [
                *heading.at,
                *(r.cells[one.heading] for r in reading.table.records if one.heading in r.cells),
            ]
            for cell in cells:
                by_column[cell.place.sheet, column_letters(cell.place.column)].add(name)
        for record in reading.table.records:
            for number, value in record.pairs:
                by_column[number.place.sheet, column_letters(number.place.column)].add("cv")
                by_column[value.place.sheet, column_letters(value.place.column)].add("value")
    return read, by_column


def _pairs(adopted: Adopted) -> dict[str, set[str]]:
    """Return what the CVs of forms are read as, by the keys that labels of theirs would have."""
    read: dict[str, set[str]] = defaultdict(set)
    for reading in adopted.readings:
        for record in reading.table.records:
            for number, _ in record.pairs:
                read["*!CV"].add("cv")
                read["*!Value"].add("value")
                read[f"{number.place.sheet}!{number.cell.text.rstrip(' :')}"].add(_cv(number.cell.text))
    return read


def _cv(text: str) -> str:
    return field_name("cv:" + "".join(sign for sign in text if sign.isdigit()))


def _other_key(key: str, read: Mapping[str, set[str]], gold: Gold) -> str:
    """Return the key of a later table's column without its row, or with it, where it names no other."""
    place = re.fullmatch(r"(.*![A-Z]{1,3})([0-9]*)", key)
    if place and place[2]:
        return "" if place[1] in gold.columns else place[1]
    later = [one for one in read if re.fullmatch(re.escape(key) + "[0-9]+", one) and one not in gold.columns]
    return later[0] if place and len(later) == 1 else ""


def _within_column(key: str, by_column: Mapping[tuple[str, str], set[str]]) -> set[str]:
    """Return what a column of forms is read as, whose headings are keyed by their labels."""
    if not (place := _COLUMN.fullmatch(key)):
        return set()
    return by_column.get((place["sheet"], place["letters"]), set())
