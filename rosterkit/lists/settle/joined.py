"""Records that are one engine: a CV with its value in each row, and one engine in two tables."""

from collections.abc import Iterable, Sequence

from rosterkit.lists.reading import PAIR_CV, PAIR_VALUE, TableReading
from rosterkit.lists.settle.draft import Draft
from rosterkit.lists.settle.known_engines import KnownEngines, is_one_railway, label_of
from rosterkit.lists.settle.typed_cvs import INDEX_CVS
from rosterkit.roster.schema import folded
from rosterkit.standards.service_mode import INDEXED_CVS

_PROSE = frozenset({"notes", "fault"})
_INDEX = frozenset({*INDEX_CVS, *INDEXED_CVS})
_OF_A_ROW = frozenset({PAIR_CV, PAIR_VALUE})


def has_pair_columns(reading: TableReading) -> bool:
    """Tell whether a table has a CV and its value in each row."""
    return {column.read_as for column in reading.columns} >= _OF_A_ROW


def merged_joined(drafts: Iterable[Draft]) -> list[Draft]:
    """Join the rows beside which one merged cell holds the label: they are lines of one engine."""
    found: list[Draft] = []
    for draft in drafts:
        if found and _one_label_cell(found[-1], draft) and not conflicts(found[-1], draft):
            keys = list(found[-1].keys)
            _join(found[-1], draft)
            found[-1].keys = keys
        else:
            found.append(draft)
    return found


def _one_label_cell(first: Draft, other: Draft) -> bool:
    cells = [(first.typed_at.get(name), other.typed_at.get(name)) for name in ("loco", "number")]
    there = [(one, another) for one, another in cells if one or another]
    return bool(there) and all(one == another for one, another in there)


def rows_joined(drafts: Iterable[Draft]) -> list[Draft]:
    """Join the rows of a table with a CV and its value in each, where they are of one engine.

    A row without a label goes on with the engine above it.
    """
    found: list[Draft] = []
    by_label: dict[str, Draft] = {}
    for draft in drafts:
        label = label_of(draft)
        first = by_label.get(folded(label)) if label else (found[-1] if found else None)
        if first is not None and draft.cvs and not conflicts(first, draft):
            _join(first, draft)
            continue
        found.append(draft)
        if label:
            by_label.setdefault(folded(label), draft)
    return found


def tables_joined(tables: Sequence[Sequence[Draft]]) -> list[Draft]:
    """Join what two tables say of one engine: the same label with letters, and nothing that contradicts.

    Rows of one table are not joined here, but with the engine of an earlier one, as those of a log of work.
    """
    found: list[Draft] = []
    known = KnownEngines()
    for drafts in tables:
        touched = []
        for draft in drafts:
            before = known.fitting(draft)
            if before is not None and not _differ(before, draft):
                _join(before, draft)
                touched.append(before)
            else:
                found.append(draft)
                touched.append(draft)
        known.add(touched)
    return found


def _differ(first: Draft, other: Draft) -> bool:
    return first.exact or other.exact or bool(conflicts(first, other))


def conflicts(first: Draft, other: Draft) -> list[str]:
    """Return the columns and CVs of which two records say different things.

    The CVs of an index have values of their own under each, and notes may tell of earlier days.
    """
    values = {one.cv: one.value for one in first.cvs if one.cv not in _INDEX and not one.of_note}
    return [
        *(
            name
            for name, value in other.values.items()
            if name not in _PROSE
            and name != "loco"
            and not _is_short_railway(name, first, other)
            and first.values.get(name, value) != value
        ),
        *(
            f"CV{one.cv}"
            for one in other.cvs
            if not one.of_note and values.get(one.cv, one.value) != one.value
        ),
    ]


def _is_short_railway(name: str, first: Draft, other: Draft) -> bool:
    """Tell whether a railway is only written shorter in one of two records."""
    both = str(first.values.get(name, "")), str(other.values.get(name, ""))
    return name == "railway" and all(both) and is_one_railway(*both)


def _join(first: Draft, other: Draft) -> None:
    """Add what another record says of an engine to the first."""
    for name in _PROSE & other.values.keys() & first.values.keys():
        if first.values[name] != other.values[name]:
            first.values[name] = f"{first.values[name]}; {other.values[name]}"
    railways = [str(one.values["railway"]) for one in (first, other) if "railway" in one.values]
    first.values = {**other.values, **first.values}
    if railways:
        first.values["railway"] = max(railways, key=len)
    first.places = {**other.places, **first.places}
    first.typed = {**other.typed, **first.typed}
    first.typed_at = {**other.typed_at, **first.typed_at}
    first.kinds = {**other.kinds, **first.kinds}
    first.of_label = {**other.of_label, **first.of_label}
    first.as_typed = {**other.as_typed, **first.as_typed}
    for name, value in other.own.items():
        if first.own.setdefault(name, value) != value:
            first.own[name] = f"{first.own[name]} / {value}"
    first.noted += other.noted
    first.cvs += other.cvs
    first.doubts += other.doubts
    first.colour = first.colour or other.colour
    first.keys += other.keys
