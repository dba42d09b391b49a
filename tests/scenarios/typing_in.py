"""Edits made with the programs themselves, on a copy as it was received."""

from collections.abc import Sequence
from pathlib import Path

from openpyxl.utils.cell import get_column_letter

from tests.live.gnumeric import saved_by_gnumeric
from tests.live.uno_document import Document
from tests.live.uno_session import Office
from tests.scenarios.edits import BESIDE_CELLS, Edit, Kind
from tests.scenarios.story import ENGINES, Part
from tests.scenarios.tables import Table, tables, text

YELLOW = 0xFFFF00
PHOTO = Path(__file__).parents[2] / "sample_workbooks" / "live.png"
"""Some picture."""


def edit_copy(part: Part, copy: Path, office: Office) -> None:
    """Make somebody's edits in their program, and save under the same name.

    Raises:
        AssertionError: if a row or column that is to be edited is not there.
    """
    if part.program == "LibreOffice":
        in_libreoffice(part, office.open(copy), copy)
    else:
        in_gnumeric(part.edits, copy)


def in_libreoffice(part: Part, book: Document, path: Path) -> None:
    """Type, sort, delete, paint and paste in LibreOffice, and save.

    Protection, which has no password, is taken off where somebody sorts or deletes rows.
    """
    for sheet in book.titles():
        if part.sorted_by or any(edit.kind is not Kind.CELL for edit in part.edits):
            book.unprotect(sheet)
    known: dict[str, Table] = {}
    if part.sorted_by:
        _sort(book, part.sorted_by)
    for edit in part.edits:
        if edit.sheet not in book.titles():
            book.add_sheet(edit.sheet)
        if edit.sheet not in known:
            known[edit.sheet] = _shown(book, edit.sheet)
        _do(book, known[edit.sheet], edit)
    book.save(path)
    book.close()


def _do(book: Document, table: Table, edit: Edit) -> None:
    if edit.kind is Kind.GONE_ROW:
        number = table.row(edit.key, {})
        assert number is not None, f"no row for {edit}"
        book.delete_rows(edit.sheet, number)
        del table.rows[number - 1]
    elif edit.kind is Kind.PHOTO:
        book.insert_picture(edit.sheet, table.where(edit), PHOTO)
    elif edit.kind is Kind.NOTE:
        book.annotate(edit.sheet, table.where(edit), edit.text)
    elif edit.kind is Kind.PAINT:
        book.paint(edit.sheet, table.where(edit), YELLOW)
    else:
        for cell, content in table.place(edit):
            if content:
                book.enter(edit.sheet, cell, content)
            else:
                book.clear(edit.sheet, cell)


def _sort(book: Document, heading: str) -> None:
    table = _shown(book, ENGINES)
    top = table.top([heading])
    by = table.column(top, heading)
    assert by is not None
    last = max(n for n, cell in enumerate(table.rows[top - 1]) if cell)
    rows = max(n for n, row in enumerate(table.rows, 1) if row[0])
    area = f"A{top}:{get_column_letter(last + 1)}{rows}"
    book.sort(ENGINES, area, get_column_letter(by + 1), descending=True)


def _shown(book: Document, sheet: str) -> Table:
    return Table([[text(cell) for cell in row] for row in book.values(sheet)])


def in_gnumeric(edits: Sequence[Edit], path: Path) -> None:
    """Type and put notes with Gnumeric, and have it calculate and save.

    Raises:
        NotImplementedError: of an edit that its converter has no way to make.
    """
    known = tables(path)
    typed: dict[str, str] = {}
    notes: dict[str, str] = {}
    for edit in edits:
        if edit.kind is Kind.NOTE:
            notes[f"{edit.sheet}!{known[edit.sheet].where(edit)}"] = edit.text
        elif edit.kind in {*BESIDE_CELLS, Kind.GONE_ROW, Kind.OWN_SHEET}:
            raise NotImplementedError(f"{edit}")
        else:
            placed = known[edit.sheet].place(edit)
            typed |= {f"{edit.sheet}!{cell}": content for cell, content in placed}
    saved = saved_by_gnumeric(path, path.with_name(f"{path.stem}_saved.xlsx"), typed, notes)
    saved.replace(path)
    path.with_name(f"{path.stem}_saved_own.gnumeric").unlink()
