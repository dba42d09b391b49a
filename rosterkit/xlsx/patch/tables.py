"""Tables of a worksheet: what is written at the right side of the list in a table, or below it, joins it."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace

from rosterkit.xlsx.package.errors import shown
from rosterkit.xlsx.package.markup import whole
from rosterkit.xlsx.patch.cell_writer import RowChanges
from rosterkit.xlsx.patch.growth import Growth, in_the_way, sort_splices
from rosterkit.xlsx.patch.refusal import MOVE, EditRefused
from rosterkit.xlsx.patch.splices import Splice, masked, set_attribute, spliced
from rosterkit.xlsx.patch.worksheet import SheetText
from rosterkit.xlsx.read.shared_strings import unescaped
from rosterkit.xlsx.xml import tags
from rosterkit.xlsx.xml.areas import Area, area
from rosterkit.xlsx.xml.outline import Element, outline
from rosterkit.xlsx.xml.values import Value, blank, cell_text, escaped


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


def grown(table: Table, sheet: SheetText, growth: Growth, obstacles: list[Area]) -> bytes | None:
    """Return the table's part with the columns and rows that join it; None if none does.

    Args:
        table: The table.
        sheet: Its sheet.
        growth: How the list grows that it may lie over.
        obstacles: Areas that no table may overlap: other tables, merged cells, array formulas, filters.

    Raises:
        EditRefused: a row below the table cannot join it.
    """
    where = table.area
    if not table.grows or not growth.is_of(where):
        return None
    lowered = growth.lowered(where)
    if lowered != where:
        _refuse_rows(table, sheet, replace(lowered, top=where.bottom + 1), obstacles)
    headings = _fitting(growth.headings(lowered, obstacles), table.names)
    wide = replace(lowered, right=where.right + len(headings))
    return None if wide == where else _extended(table, wide, headings)


def _refuse_rows(table: Table, sheet: SheetText, below: Area, obstacles: list[Area]) -> None:
    if table.totals:
        why = f"would lie below the totals of the table {shown(table.name)}"
        raise EditRefused(below.bottom, below.left, why, "Turn the table's total row off, then try again.")
    if met := in_the_way(sheet, below, obstacles):
        why = f"stands below the table {shown(table.name)}, where a new row has to join it"
        raise EditRefused(*met, why, MOVE)


def _fitting(headings: list[Value], names: tuple[str, ...]) -> list[str]:
    """Return the first of the headings, up to one that no column of the table can have."""
    taken = {name.casefold() for name in names}
    fitting: list[str] = []
    for heading in headings:
        if not isinstance(heading, str) or cell_text(heading).casefold() in taken:
            break
        fitting.append(cell_text(heading))
        taken.add(fitting[-1].casefold())
    return fitting


def _extended(table: Table, wide: Area, headings: list[str]) -> bytes:
    splices = set_attribute(table.data, table.root, "ref", str(wide))
    columns, filtered = (table.root.child(name) for name in ("tableColumns", "autoFilter"))
    if columns is None:
        return table.data
    if filtered is not None and "ref" in filtered.attributes:
        old = area(filtered.attributes["ref"])
        lower = replace(old, bottom=old.bottom + wide.bottom - table.area.bottom, right=wide.right)
        splices += set_attribute(table.data, filtered, "ref", str(lower))
    old, lower = (replace(one, bottom=one.bottom - table.totals) for one in (table.area, wide))
    splices += sort_splices(masked(table.data), table.root.inside, table.root.outside, old, lower)
    count = str(len(table.names) + len(headings))
    splices += set_attribute(table.data, columns, "count", count)
    splices.append(Splice(columns.outside, columns.outside, _columns(table, columns, headings)))
    return spliced(table.data, splices)


def _columns(table: Table, columns: Element, headings: list[str]) -> bytes:
    prefix = tags.prefix(table.data[columns.start : columns.inside])
    last = max((whole(one.attributes.get("id")) or 0 for one in columns.children), default=0)
    return b"".join(
        b'<%btableColumn id="%d" name="%b"/>' % (prefix, last + place, _heading(heading))
        for place, heading in enumerate(headings, start=1)
    )


def _heading(text: str) -> bytes:
    return tags.quoted(re.sub("[\n\t]", lambda sign: f"_x{ord(sign[0]):04x}_", escaped(text)))
