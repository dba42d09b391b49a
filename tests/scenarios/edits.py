"""What somebody does to a copy of the club's workbook, typed by one module, sought by another."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum


class Kind(StrEnum):
    """What is done."""

    CELL = "cell"
    NEW_ROW = "new row"
    GONE_ROW = "row deleted"
    LOOSE = "cell outside the table"
    OWN_SHEET = "cell of a sheet of their own"
    NOTE = "note"
    PHOTO = "photo"
    PAINT = "fill colour"


BESIDE_CELLS = (Kind.NOTE, Kind.PHOTO, Kind.PAINT)
"""What lies at a cell and is no content of it."""

Key = Mapping[str, str]
"""What a row is known by: texts by heading, as the base has them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Edit:
    """One thing that one member does."""

    who: str
    """The member's code, or the keeper's."""
    kind: Kind
    sheet: str
    key: Key
    """Of a cell outside a table or of an own sheet: its name, under the key "cell"."""
    heading: str = ""
    """Of a cell: the heading of its column; where the sheet has none such, a column is added."""
    text: str = ""
    """As it is typed; {row} stands for the number of its row. "" empties the cell."""

    @property
    def label(self) -> str:
        """What the row is called: the first of what it is known by."""
        return next(iter(self.key.values()))

    def __str__(self) -> str:
        row = " ".join(self.key.values())
        return f"{self.who}: {self.kind} {self.sheet} / {row} / {self.heading} = {self.text!r}"


@dataclass(frozen=True, slots=True)
class Member:
    """Somebody who edits, as a maker of their edits."""

    code: str

    def cell(self, sheet: str, key: Key | str, heading: str, text: str) -> Edit:
        """Type into a cell."""
        return Edit(
            who=self.code, kind=Kind.CELL, sheet=sheet, key=_key(sheet, key), heading=heading, text=text
        )

    def column(self, sheet: str, heading: str, texts: Mapping[str, str]) -> list[Edit]:
        """Add a column of their own, with a text for some rows."""
        return [self.cell(sheet, label, heading, text) for label, text in texts.items()]

    def new_row(self, sheet: str, key: Key | str, **cells: str) -> list[Edit]:
        """Add a row: by heading, with _ for a blank in it."""
        known = _key(sheet, key)
        row = Edit(who=self.code, kind=Kind.NEW_ROW, sheet=sheet, key=known)
        return [row, *(self.cell(sheet, known, name.replace("_", " "), text) for name, text in cells.items())]

    def delete(self, sheet: str, key: Key | str) -> Edit:
        """Delete a row."""
        return Edit(who=self.code, kind=Kind.GONE_ROW, sheet=sheet, key=_key(sheet, key))

    def loose(self, sheet: str, cell: str, text: str) -> Edit:
        """Type where there is no table."""
        return Edit(who=self.code, kind=Kind.LOOSE, sheet=sheet, key={"cell": cell}, text=text)

    def own_sheet(self, sheet: str, cells: Mapping[str, str]) -> list[Edit]:
        """Add a sheet of their own, with texts by the name of the cell."""
        return [
            Edit(who=self.code, kind=Kind.OWN_SHEET, sheet=sheet, key={"cell": cell}, text=text)
            for cell, text in cells.items()
        ]

    def beside(self, kind: Kind, sheet: str, key: Key | str, heading: str, text: str = "") -> Edit:
        """Put a note, a photo or a colour at a cell."""
        return Edit(who=self.code, kind=kind, sheet=sheet, key=_key(sheet, key), heading=heading, text=text)


LABELS = {"Layout": "Setting", "Accessories": "Accessory"}
"""The heading by which a row is known where it is not Loco."""


def _key(sheet: str, key: Key | str) -> Key:
    return {LABELS.get(sheet, "Loco"): key} if isinstance(key, str) else key
