"""Tells whether a cell of a sheet holds a value, or a formula with its result, already."""

import re
from collections.abc import Callable, Mapping, Sequence
from functools import cached_property

from rosterkit.xlsx.changes import CellChange
from rosterkit.xlsx.patch.shared_formulas import Group, shared_formulas
from rosterkit.xlsx.patch.worksheet import SheetText
from rosterkit.xlsx.read.shared_strings import unescaped
from rosterkit.xlsx.xml import tags
from rosterkit.xlsx.xml.values import Value, cell_text

Texts = Callable[[], Sequence[str]]
"""Gives the texts that the cells of the workbook share."""


class StoredCells:
    """What the cells of one sheet hold, in the spelling of whatever program wrote them."""

    def __init__(self, sheet: SheetText, texts: Texts) -> None:
        """Begin with a sheet.

        Args:
            sheet: The sheet.
            texts: Gives the shared texts; called only if a cell that is asked for holds one of them.
        """
        self._sheet = sheet
        self._texts = texts
        names = {b"p": re.escape(sheet.prefix)}
        self._number = re.compile(rb"\s*<%(p)bv>([^<]*)</%(p)bv>" % names)
        self._computed = re.compile(
            rb"\s*(<%(p)bf(?:\s[^<>]*)?>)(?:(?<=/>)|([^<]*)</%(p)bf>)\s*"
            rb"(?:<%(p)bv>([^<]*)</%(p)bv>|<%(p)bv\s?/>)?\s*" % names
        )

        self._shared = re.compile(
            rb'<%(p)bf t="shared"( ref="[A-Z0-9:]+")? si="([0-9]+)"(?:/>|>([^<]*)</%(p)bf>)' % names
        )

    @cached_property
    def groups(self) -> Mapping[str, Group]:
        """The groups of cells that share a formula, by their numbers."""
        return shared_formulas(self._sheet)

    def holds(self, tag: bytes, content: bytes, change: CellChange) -> bool:
        """Tell whether a cell needs no writing.

        Args:
            tag: Its start tag.
            content: What is inside, with all that is not markup but looks like it blanked out.
            change: What it is to hold.
        """
        kind = tags.attributes(tag).get("t", "n")
        try:
            if change.formula is not None:
                return self._holds_formula(kind, content, change)
            stored = self._number.match(content)
            if stored is None or change.value is None:
                return False
            return kind in {"s", "n"} and self._gives(kind, stored[1], change.value)
        except (ValueError, IndexError):
            return False

    def _holds_formula(self, kind: str, content: bytes, change: CellChange) -> bool:
        stored = self._computed.fullmatch(content)
        if stored is None:
            return False
        stated, text = tags.attributes(stored[1]), tags.plain((stored[2] or b"").decode())
        known: str | None = text
        if stated.get("t") == "shared" and not text:
            known = self._derived(stated.get("si", ""), change)
        ordinary = stated.get("t", "normal") in {"normal", "shared"}
        return ordinary and known == change.formula and self._gives(kind, stored[3] or b"", change.value)

    def _derived(self, number: str, change: CellChange) -> str | None:
        group = self.groups.get(number)
        return None if group is None else group.text_at((change.row, change.column))

    def shared_element(self, content: bytes, change: CellChange) -> bytes | None:
        """Return the element of a formula that a cell shares with others, if it is to have that one.

        Args:
            content: What is inside the cell, as above.
            change: What it is to hold.
        """
        stored = None if change.formula is None else self._shared.match(content)
        if stored is None:
            return None
        if stored[3] is None:
            known = self._derived(stored[2].decode(), change)
        else:
            known = tags.plain(stored[3].decode()) if stored[1] else None
        return stored[0] if known == change.formula else None

    def _gives(self, kind: str, stored: bytes, value: Value) -> bool:
        if value is None or isinstance(value, str):
            wanted = cell_text(value or "")
            if kind == "s":
                return self._texts()[int(stored)] == wanted
            return kind == "str" and unescaped(tags.plain(stored.decode())) == wanted
        if isinstance(value, bool):
            return kind == "b" and stored == b"%d" % value
        return kind == "n" and float(stored) == value
