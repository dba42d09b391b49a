"""The second half of the spring: a meet is planned, keyed in, read back, and over."""

import datetime as dt
import json
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from openpyxl.utils.cell import get_column_letter

from tests.live.uno_session import Office
from tests.scenarios.account import Tables
from tests.scenarios.commands import rosterkit
from tests.scenarios.edits import Edit, Member
from tests.scenarios.story import ENGINES
from tests.scenarios.tables import Table, tables, text

_PLAN = Member("the plan")
_LONG_FROM = 128
_CARDS, _CV, _READ_BACK, _DONE = "Cards", "CV", "Read back", "Done"
CV29_BEFORE = "14"
"""What CV29 was before the engine was keyed in."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Planned:
    """The members' workbooks with what the plan says, and what that is."""

    copies: Sequence[Path]
    """In the order of the workbooks that came."""
    moves: Sequence[Sequence[Edit]]
    """What the plan puts into each, as edits."""


def planned(folder: Path, workbooks: Sequence[Path]) -> Planned:
    """Plan the meet, and have the plan put into a copy of each workbook."""
    applied = folder / "applied"
    words = ("meet", *workbooks, "-o", folder / "plan.xlsx", "--apply", applied)
    plan = json.loads(rosterkit(*words, "--format", "json", status=(0, 1)).out)
    moves = plan["moves"]
    return Planned(
        copies=[applied / path.name for path in workbooks],
        moves=[
            [edit for move in moves if Path(move["workbook"]).name == path.name for edit in _as_edits(move)]
            for path in workbooks
        ],
    )


def _as_edits(move: dict[str, dict[str, object]]) -> Iterator[Edit]:
    loco, to = str(move["loco"]), move["to"]
    if to is not None:
        yield _PLAN.cell(ENGINES, loco, "Meet address", str(to["address"]))
        yield _PLAN.cell(ENGINES, loco, "Meet kind", str(to["kind"]))


def shared_addresses(workbooks: Sequence[Tables]) -> list[str]:
    """Return the addresses that two engines at the meet answer, by this story's own reckoning.

    An engine at the meet answers its Meet address, where it has one, else its address; long from 128 on
    where the kind is blank. Engines of one consist may share.
    """
    answers: dict[tuple[str, str], list[str]] = {}
    for sheets in workbooks:
        for _, engine in sheets[ENGINES].records(["Loco", "Address"]):
            meet = "Meet address" in engine
            address = engine.get("Meet address" if meet else "Address", "")
            kind = engine.get("Meet kind" if meet else "Address kind", "")
            if engine.get("At meet") == "yes" and address.isdecimal():
                kind = kind or ("long" if int(address) >= _LONG_FROM else "short")
                answers.setdefault((kind, address), []).append(engine["Loco"])
    return [f"{kind} {address}: {names}" for (kind, address), names in answers.items() if len(names) > 1]


def type_read_back(path: Path, loco: str, office: Office) -> list[tuple[str, str]]:
    """Write into the sheet Cards what was read back of an engine, and ticks; return CVs and values.

    All is as printed; CV29, where it is to be read first, was another value then.

    Raises:
        AssertionError: if the engine has no card with something to key in.
    """
    book = office.open(path)
    table = Table([[text(cell) for cell in row] for row in book.values(_CARDS)])
    top = table.top([_CV, _READ_BACK, _DONE])
    rows = list(_lines(table, loco))
    assert rows, f"no card of {loco}"
    for number, (_, value) in rows:
        for heading, typed in ((_READ_BACK, value), (_DONE, "x")):
            column = table.column(top, heading)
            assert column is not None
            book.enter(_CARDS, f"{get_column_letter(column + 1)}{number}", typed)
    book.save(path)
    book.close()
    return [line for _, line in rows]


def _lines(table: Table, loco: str) -> Iterator[tuple[int, tuple[str, str]]]:
    """Yield row, CV and what is read of it, of the lines of an engine's card that are to be filled in."""
    for number, line in table.records([_CV, _READ_BACK, _DONE]):
        told = line.get("What it means", "")
        if (
            line.get("Loco") == loco
            and line.get(_CV, "").startswith("CV")
            and line[_CV] not in {"CV7", "CV8"}
        ):
            first = told.startswith("read first")
            yield number, (line[_CV].removeprefix("CV"), CV29_BEFORE if first else line["Value"])


def readings(sheets: Tables, loco: str) -> Counter[tuple[str, str, str]]:
    """Return day, CV and value of what was read of an engine."""
    return Counter(
        (reading.get("Date", "").lstrip("'"), reading["CV"], reading.get("Value", ""))
        for _, reading in sheets["Readings"].records(["Date", "Loco", "CV"])
        if reading.get("Loco") == loco
    )


def today() -> str:
    """Return the day on which it is read."""
    return str(dt.datetime.now().astimezone().date())


def cleared(path: Path) -> Tables:
    """Empty the Meet addresses of a workbook, and return its sheets.

    Raises:
        AssertionError: if one is left.
    """
    rosterkit("meet", "--clear", path)
    sheets = tables(path)
    left = [engine for _, engine in sheets[ENGINES].records(["Loco"]) if "Meet address" in engine]
    assert not left, left
    return sheets
