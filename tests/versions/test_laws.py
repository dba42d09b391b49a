"""What holds of every merge, whatever the copies did: laws on rows, tried with many made-up edits."""

from collections.abc import Iterator, Sequence
from itertools import count
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from rosterkit.versions.merged import ConflictKind, Merged, SideValue
from rosterkit.versions.three_way import merge
from rosterkit.versions.version import Version
from tests.rosters import grid, sheet_of
from tests.versions.results import after_merge, in_any_order, rows_of
from tests.versions.workbooks import version

Row = dict[str, object]
Book = tuple[list[Row], list[Row]]
"""The rows of Locomotives and of Consists."""

_ENGINE: dict[str, Sequence[object]] = {
    "Loco": ("", "A", "B", "C", "D"),
    "Owner": ("", "M01", "M02"),
    "Railway": ("", "Elm"),
    "Number": ("", "7", "8"),
    "Address": ("", 12, 13),
    "Direction": ("", "normal", "reversed", "Reversed"),
    "Colour": ("", "red", 0.25),
}
_PLACE: dict[str, Sequence[object]] = {
    "Consist": ("", "Hill", "Low"),
    "Loco": ("", "A", "B", "C", "D"),
    "Position": ("", 1, 2),
}
_SHEETS = (_ENGINE, _PLACE)


def _rows(columns: dict[str, Sequence[object]], most: int) -> st.SearchStrategy[list[Row]]:
    row = st.fixed_dictionaries({name: st.sampled_from(values) for name, values in columns.items()})
    return st.lists(row, max_size=most)


_BOOKS: st.SearchStrategy[Book] = st.tuples(_rows(_ENGINE, 5), _rows(_PLACE, 4))
_EDITS = st.lists(
    st.tuples(
        st.sampled_from(("change", "change", "remove", "add", "rename")),
        st.integers(0, 1),
        st.integers(0, 5),
        st.integers(0, 6),
        st.integers(0, 4),
    ),
    max_size=5,
)


def _edited(book: Book, edits: Sequence[tuple[str, int, int, int, int]]) -> Book:
    rows: Book = ([dict(row) for row in book[0]], [dict(row) for row in book[1]])
    for what, sheet, at, column, value in edits:
        name = list(_SHEETS[sheet])[column % len(_SHEETS[sheet])]
        content = _SHEETS[sheet][name][value % len(_SHEETS[sheet][name])]
        some = rows[sheet]
        if what == "add":
            some.append({**dict.fromkeys(_SHEETS[sheet], ""), name: content, "Loco": f"N{value}"})
        elif some and what == "remove":
            del some[at % len(some)]
        elif some and what == "change":
            some[at % len(some)][name] = content
        elif rows[0]:
            _rename(rows, rows[0][at % len(rows[0])]["Loco"], f"R{value}")
    return rows


def _rename(rows: Book, old: object, new: str) -> None:
    """Give engines another label, everywhere."""
    for row in (*rows[0], *rows[1]):
        if row["Loco"] == old != "":
            row["Loco"] = new


def _version(name: str, book: Book) -> Version:
    headings: list[Row] = [dict.fromkeys(columns, "") for columns in _SHEETS]
    sheets = zip(("Locomotives", "Consists"), headings, book, strict=True)
    return version(name, {title: sheet_of(title, [first, *rows]) for title, first, rows in sheets})


_TRIED = settings(max_examples=60, deadline=None)
_CASES = st.tuples(_BOOKS, st.lists(_EDITS, min_size=1, max_size=3)).map(
    lambda case: (case[0], [_edited(case[0], edits) for edits in case[1]])
)


def _held(found: Merged, master: Version) -> dict[str, list[str]]:
    return {title: in_any_order(rows) for title, rows in after_merge(master, found).items()}


def _split(found: Merged) -> list[str]:
    """Return the conflicts without who wants what, and in any order."""
    return sorted(
        repr((one.kind, one.row.label, one.column, one.base, _values(one.sides))) for one in found.conflicts
    )


def _values(sides: Sequence[SideValue]) -> list[str]:
    return sorted(str(one.value) for one in sides)


@_TRIED
@given(_BOOKS, st.randoms())
def test_identical_copies_change_nothing_in_whatever_order_their_rows_are(book: Book, chance: Any) -> None:
    base = _version("base", book)
    sorted_otherwise = _shuffled(book, chance)

    found = merge(base, base, [_version("c1", book), _version("c2", sorted_otherwise)])

    assert found.changes_nothing


def _shuffled(book: Book, chance: Any) -> Book:
    engines, places = ([dict(row) for row in rows] for rows in book)
    chance.shuffle(engines)
    chance.shuffle(places)
    return engines, places


@_TRIED
@given(_CASES)
def test_one_copy_is_taken_whole_but_for_what_follows_new_labels(case: tuple[Book, list[Book]]) -> None:
    base, copy = _version("base", case[0]), _version("c1", case[1][0])

    found = merge(base, base, [copy])

    assert found.conflicts == ()
    there = {row.get("Loco") for row in rows_of(copy)["Locomotives"]}
    new = (one for one in found.taken if (one.row.sheet, one.column) == ("Locomotives", "Loco"))
    labels = {one.old: one.new.value for one in new if one.old != ""}
    places = [
        row if row["Loco"] in there else row | {"Loco": labels.get(str(row["Loco"]), row["Loco"])}
        for row in case[1][0][1]
    ]
    wanted = _version("wanted", (case[1][0][0], places))
    expected = {title.casefold(): in_any_order(rows) for title, rows in rows_of(wanted).items()}
    assert _in_small_letters(_held(found, base)) == _in_small_letters(expected)


def _in_small_letters(held: dict[str, list[str]]) -> dict[str, list[str]]:
    """Pass over how a choice is spelt: another spelling of it is no change."""
    return {title: sorted(row.lower() for row in rows) for title, rows in held.items()}


@_TRIED
@given(_CASES)
def test_the_same_copy_twice_is_once(case: tuple[Book, list[Book]]) -> None:
    base = _version("base", case[0])
    copies = [_version(f"c{n}", book) for n, book in enumerate(case[1])]
    again = [_version(f"d{n}", book) for n, book in enumerate(case[1])]

    once, twice = merge(base, base, copies), merge(base, base, [*copies, *again])

    assert _held(twice, base) == _held(once, base)
    assert _split(twice) == _split(once)


@_TRIED
@given(_CASES, _EDITS, st.randoms())
def test_neither_the_order_of_copies_and_of_their_rows_nor_their_names_decide_a_value(
    case: tuple[Book, list[Book]], of_master: Sequence[tuple[str, int, int, int, int]], chance: Any
) -> None:
    base, master = _version("base", case[0]), _version("master", _edited(case[0], of_master))
    copies = [_version(f"c{n}", book) for n, book in enumerate(case[1])]
    others = [_version(f"z{-n}", _shuffled(book, chance)) for n, book in enumerate(case[1])]
    chance.shuffle(others)

    one, other = merge(base, master, copies), merge(base, master, others)

    assert _held(one, master) == _held(other, master)
    assert _split(one) == _split(other)


@_TRIED
@given(_BOOKS, st.lists(_EDITS, min_size=1, max_size=3), _EDITS)
def test_nothing_that_anybody_typed_is_lost_and_nothing_is_invented(
    book: Book,
    edits: Sequence[Sequence[tuple[str, int, int, int, int]]],
    of_master: Sequence[tuple[str, int, int, int, int]],
) -> None:
    base = _version("base", book)
    signs = count(1000)
    master = _version("master", _signed(_edited(book, of_master), of_master, signs))
    copies = [_version(f"c{n}", _signed(_edited(book, some), some, signs)) for n, some in enumerate(edits)]

    found = merge(base, master, copies)

    held = _typed(after_merge(master, found))
    said = {(one.column, str(side.value).lower()) for one in found.conflicts for side in one.sides}
    before = _typed(rows_of(base))
    for side in (master, *copies):
        assert _typed(rows_of(side)) - before <= held | said
    everything = before.union(*(_typed(rows_of(side)) for side in (master, *copies)))
    assert held <= everything
    assert said <= everything | {(None, "removed"), (None, "changed")} | {
        (name, "") for name in _ENGINE | _PLACE
    }


def _signed(book: Book, edits: Sequence[tuple[str, int, int, int, int]], signs: Iterator[int]) -> Book:
    """Type into some cells of a book what nobody else types."""
    for _, sheet, at, column, _ in edits:
        rows, names = book[sheet], list(_SHEETS[sheet])
        if rows:
            rows[at % len(rows)][names[column % len(names)]] = next(signs)
    return book


def _typed(sheets: dict[str, list[Any]]) -> set[tuple[str, str]]:
    return {
        (name, str(value).lower()) for rows in sheets.values() for row in rows for name, value in row.items()
    }


@_TRIED
@given(_CASES)
def test_a_row_is_gone_only_if_a_copy_removed_it_and_nobody_changed_it(case: tuple[Book, list[Book]]) -> None:
    base = _version("base", case[0])
    copies = [_version(f"c{n}", book) for n, book in enumerate(case[1])]

    found = merge(base, base, copies)

    gone = {(one.row.sheet, one.row.row) for one in found.removed}
    rows = (*(one.row for one in found.taken), *(one.row for one in found.conflicts))
    touched = {(row.sheet, row.row) for row in rows}
    assert not gone & touched


@_TRIED
@given(_CASES)
def test_without_a_base_nothing_is_removed(case: tuple[Book, list[Book]]) -> None:
    master = _version("master", case[0])
    copies = [_version(f"c{n}", book) for n, book in enumerate(case[1])]

    found = merge(None, master, copies)

    assert found.removed == ()
    assert all(one.kind is ConflictKind.CELL for one in found.conflicts)
    held = _typed(after_merge(master, found))
    said = {(one.column, str(side.value).lower()) for one in found.conflicts for side in one.sides}
    for side in (master, *copies):
        assert _typed(rows_of(side)) <= held | said


_LOG = st.lists(st.tuples(*[st.sampled_from(("", "a", "b", "c"))] * 3), min_size=1, max_size=6)
_LOG_EDITS = st.lists(
    st.tuples(st.sampled_from(("change", "insert", "delete", "move")), st.integers(0, 6), st.integers(0, 2)),
    max_size=4,
)


@_TRIED
@given(_LOG, st.lists(_LOG_EDITS, min_size=1, max_size=3))
def test_nothing_that_is_typed_into_a_sheet_of_their_own_is_lost(
    rows: Sequence[tuple[str, ...]], edits: Sequence[Sequence[tuple[str, int, int]]]
) -> None:
    signs = count()
    base = _log("base", rows)
    logs = [_log_edited(rows, some, signs) for some in edits]

    found = merge(base, base, [_log(f"c{n}", log) for n, log in enumerate(logs)])

    said = {one.value for one in found.not_merged} | {one.new.value for one in found.taken}
    said |= {side.value for one in found.conflicts for side in one.sides}
    for log in logs:
        assert {cell for row in log for cell in row if cell.startswith("sign")} <= said
    assert len({(one.row.row, one.column) for one in found.taken}) == len(found.taken)


def _log(name: str, rows: Sequence[Sequence[str]]) -> Version:
    sheets = {
        "Locomotives": sheet_of("Locomotives", [{"Loco": "A", "Address": 3}]),
        "Log": grid("Log", *rows),
    }
    return version(name, sheets)


def _log_edited(
    rows: Sequence[tuple[str, ...]], edits: Sequence[tuple[str, int, int]], signs: Iterator[int]
) -> list[list[str]]:
    log = [list(row) for row in rows]
    for what, at, column in edits:
        if what == "insert":
            log.insert(at, [f"sign {next(signs)}", "a", ""])
        elif log and what == "change":
            log[at % len(log)][column] = f"sign {next(signs)}"
        elif log and what == "delete":
            del log[at % len(log)]
        elif log:
            log.append(log.pop(at % len(log)))
    return log
