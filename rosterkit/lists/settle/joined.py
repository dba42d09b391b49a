"""Records that are one engine: a CV with its value in each row, and one engine in two tables."""

from collections.abc import Callable, Iterable, Sequence

from rosterkit.lists.reading import PAIR_CV, PAIR_VALUE, TableReading
from rosterkit.lists.settle.draft import Draft
from rosterkit.lists.settle.labels import is_short_for, made_label
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
    for drafts in tables:
        by_label, by_number = _by(label_of, found), _by(number_of, found)
        for draft in drafts:
            key = folded(label_of(draft) or "")
            before = [] if key.isdecimal() else by_label.get(key, [])
            if not before:
                numbered = by_number.get(folded(number_of(draft) or ""), [])
                before = [one for one in numbered if _may_be_one(one, draft)]
            if len(before) == 1 and not _differ(before[0], draft):
                _join(before[0], draft)
            else:
                found.append(draft)
    return found


def number_of(draft: Draft) -> str | None:
    """Return the number that an engine has, in its column or its label; None without one."""
    number = draft.values.get("number") or draft.of_label.get("number", (None,))[0]
    return str(number) if number else None


def _railway_of(draft: Draft) -> str:
    return str(draft.values.get("railway") or draft.of_label.get("railway", ("",))[0])


def _may_be_one(first: Draft, other: Draft) -> bool:
    """Tell whether engines with one number are one: one railway is short for the other's.

    Or CVs stand beside the number alone, and the first has a railway.
    """
    railways = _railway_of(first), _railway_of(other)
    if all(railways):
        return is_short_for(*railways) or is_short_for(*reversed(railways))
    return bool(railways[0]) and bool(other.cvs) and "loco" not in other.typed


def _by(name_of: Callable[[Draft], str | None], drafts: Iterable[Draft]) -> dict[str, list[Draft]]:
    found: dict[str, list[Draft]] = {}
    for draft in drafts:
        if name := name_of(draft):
            found.setdefault(folded(name), []).append(draft)
    return found


def label_of(draft: Draft) -> str | None:
    """Return the label that an engine has or would get by its railway and number; None without either."""
    railway, number = draft.values.get("railway"), draft.values.get("number")
    return draft.label or made_label(str(railway) if railway else None, str(number) if number else None, ())


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
    return name == "railway" and all(both) and (is_short_for(*both) or is_short_for(*reversed(both)))


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
