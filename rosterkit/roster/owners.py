"""Whose each row of a workbook is: an engine's by its owner, another sheet's by the engine that it names."""

from collections.abc import Mapping, Sequence

from rosterkit.errors import CannotRunError
from rosterkit.roster.model import Roster
from rosterkit.roster.schema import folded
from rosterkit.roster.tables import Table
from rosterkit.spelling import Spelling

_ENGINES = "Locomotives"


def owner_codes(roster: Roster) -> list[str]:
    """Return whose engine each row of Locomotives is, as it is written there; "" for nobody's."""
    return [str(value or "").strip() for value in _values(roster.book.tables[_ENGINES], "owner")]


def owners_of_labels(roster: Roster) -> Mapping[str, set[str]]:
    """Return the folded codes of the owners of each engine by its folded label; several may share one."""
    labels = _values(roster.book.tables[_ENGINES], "loco")
    found: dict[str, set[str]] = {}
    for label, code in zip(labels, owner_codes(roster), strict=True):
        if label:
            found.setdefault(folded(str(label)), set()).add(folded(code))
    return found


def owners_of_rows(table: Table, owner_of: Mapping[str, set[str]]) -> list[set[str]] | None:
    """Return whose each row of a sheet is, nothing where it is nobody's; None of a sheet of the club's.

    Args:
        table: The sheet.
        owner_of: What ``owners_of_labels`` returns for its workbook.
    """
    if table.sheet.title == _ENGINES:
        return [{folded(str(value))} if value else set() for value in _values(table, "owner")]
    column = next((one for one in table.sheet.columns if one.schema.get("refers") == _ENGINES), None)
    if column is None or table.sheet.transposed:
        return None
    codes = (owner_of.get(folded(str(value or "")), set()) for value in _values(table, column.name))
    return [set() if "" in found else found for found in codes]


def nobody_owns(where: str, member: str, known: Sequence[str], option: str) -> CannotRunError:
    """Return what to raise where no engine belongs to a member.

    Args:
        where: The workbook or workbooks, such as ``club.xlsx: ``, before the sentence.
        member: The code that was given.
        known: The codes of all owners.
        option: The option that it was given with, such as ``--member``.
    """
    near = Spelling(list(dict.fromkeys(known)), likeness=0.3).nearest(member)
    message = f"{where}no engine belongs to '{member}'"
    if near is None:
        return CannotRunError(message, f"Give a code that stands in the column Owner, or leave {option} out.")
    return CannotRunError(f"{message}; the nearest code is '{near}'", f"Give {option} '{near}'.")


def _values(table: Table, name: str) -> Sequence[object]:
    return table.values.get(name) or [None] * len(table.rows)
