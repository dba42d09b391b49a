"""Tables of a worksheet: a heading written at a table's right side becomes its next column."""

import re
from collections.abc import Mapping
from dataclasses import dataclass

from rosterkit.xlsx.changes import CellChange
from rosterkit.xlsx.package.errors import shown
from rosterkit.xlsx.patch.cells import RowChanges
from rosterkit.xlsx.patch.refusal import EditRefused
from rosterkit.xlsx.patch.splices import Splice, set_attribute, spliced
from rosterkit.xlsx.read.shared_strings import unescaped
from rosterkit.xlsx.xml import tags
from rosterkit.xlsx.xml.areas import Area, area
from rosterkit.xlsx.xml.outline import Element, outline
from rosterkit.xlsx.xml.values import blank, cell_text, escaped


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """One table of a sheet."""

    part: str
    data: bytes
    root: Element
    area: Area
    headed: bool
    totals: int
    """Rows at its end that hold totals."""
    names: tuple[str, ...]
    """The headings of its columns."""

    @property
    def name(self) -> str:
        """What the table is called."""
        return self.root.attributes.get("displayName", "")

    @property
    def grows(self) -> bool:
        """Whether a column can be added; not to one that is fed from outside."""
        fed = self.root.attributes.get("tableType", "worksheet") != "worksheet"
        return self.headed and not fed and len(self.names) == self.area.right - self.area.left + 1


def table(part: str, data: bytes) -> Table:
    """Read a table's part.

    Args:
        part: The part's name.
        data: Its XML in UTF-8.

    Raises:
        MarkupError: it is not well-formed.
        ValueError: it does not say which cells it covers.
    """
    root = outline(data, depth=2)
    columns = root.child("tableColumns")
    named = columns.named("tableColumn") if columns else iter(())
    return Table(
        part=part,
        data=data,
        root=root,
        area=area(root.attributes.get("ref", "")),
        headed=root.attributes.get("headerRowCount", "1") != "0",
        totals=int(root.attributes.get("totalsRowCount", "0")),
        names=tuple(unescaped(column.attributes.get("name", "")) for column in named),
    )


def refuse_harm(table: Table, changes: Mapping[int, RowChanges]) -> None:
    """Refuse to write over a table's headings or into its totals.

    Raises:
        EditRefused: a change does.
    """
    where = table.area
    for row in range(where.bottom - table.totals + 1, where.bottom + 1):
        for column, change in changes.get(row, {}).items():
            if where.left <= column <= where.right and not blank(change.value):
                why = f"lies among the totals of the table {shown(table.name)}"
                raise EditRefused(row, column, why, "Turn the table's total row off, then try again.")
    if not table.headed:
        return
    for column, change in changes.get(where.top, {}).items():
        place = column - where.left
        if 0 <= place < len(table.names) and change.value != table.names[place]:
            why = f"is the heading {shown(table.names[place])} of a column of the table {shown(table.name)}"
            raise EditRefused(
                where.top, column, why, "Move that column away, or give it back its earlier heading."
            )


def joining_headings(table: Table, changes: Mapping[int, RowChanges], obstacles: list[Area]) -> list[str]:
    """Return the headings written directly right of a table that can become its columns, from left to right.

    Args:
        table: The table.
        changes: The changes of its sheet.
        obstacles: Areas that no table may overlap: other tables, merged cells, array formulas, filters.
    """
    headings: list[str] = []
    if not table.grows:
        return headings
    taken = {name.casefold() for name in table.names}
    where = table.area
    row = changes.get(where.top, {})
    while (heading := _text(row.get(where.right + len(headings) + 1))) and heading.casefold() not in taken:
        column = where.right + len(headings) + 1
        if any(other.meets(Area(where.top, column, where.bottom, column)) for other in obstacles):
            break
        headings.append(heading)
        taken.add(heading.casefold())
    return headings


def _text(change: CellChange | None) -> str:
    return cell_text(change.value) if change is not None and isinstance(change.value, str) else ""


def extended(table: Table, headings: list[str]) -> bytes:
    """Return the table's part with columns added at its right side."""
    where = table.area
    wide = Area(where.top, where.left, where.bottom, where.right + len(headings))
    splices = set_attribute(table.data, table.root, "ref", str(wide))
    columns = table.root.child("tableColumns")
    if columns is None:
        return table.data
    filtered = table.root.child("autoFilter")
    if filtered is not None and "ref" in filtered.attributes:
        old = area(filtered.attributes["ref"])
        widened = Area(old.top, old.left, old.bottom, wide.right)
        splices += set_attribute(table.data, filtered, "ref", str(widened))
    count = str(len(table.names) + len(headings))
    splices += set_attribute(table.data, columns, "count", count)
    splices.append(Splice(columns.outside, columns.outside, _columns(table, columns, headings)))
    return spliced(table.data, splices)


def _columns(table: Table, columns: Element, headings: list[str]) -> bytes:
    prefix = tags.prefix(table.data[columns.start : columns.inside])
    numbers = [one.attributes.get("id", "0") for one in columns.named("tableColumn")]
    last = max((int(number) for number in numbers if number.isascii() and number.isdigit()), default=0)
    return b"".join(
        b'<%btableColumn id="%d" name="%b"/>' % (prefix, last + place, _heading(heading))
        for place, heading in enumerate(headings, start=1)
    )


def _heading(text: str) -> bytes:
    return tags.quoted(re.sub("[\n\t]", lambda sign: f"_x{ord(sign[0]):04x}_", escaped(text)))
