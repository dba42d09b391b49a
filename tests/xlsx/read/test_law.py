"""Whatever texts and numbers are put into a sheet come out of it again."""

from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
import xlsxwriter
from hypothesis import given, settings
from hypothesis import strategies as st

from rosterkit.xlsx.grid import Raw
from rosterkit.xlsx.read.workbook import read_workbook

_TEXTS = st.text(st.characters(codec="utf-8"), min_size=1, max_size=30)
_NUMBERS = st.floats(-1e300, 1e300).map(lambda number: float(f"{number:.15g}"))
"""As many digits as XlsxWriter writes without loss."""
_CELLS = st.dictionaries(
    st.tuples(st.integers(0, 40), st.integers(0, 30) | st.integers(700, 720)),
    _TEXTS | _NUMBERS | st.booleans() | st.sampled_from(["_x000D_", "_x005F_", "=1+1", " ", "]]>", "a;"]),
    max_size=25,
)


@settings(max_examples=150, deadline=None)
@given(cells=_CELLS, in_sheet=st.booleans())
@pytest.mark.slow
def test_what_is_written_is_read(cells: dict[tuple[int, int], str | float | bool], in_sheet: bool) -> None:
    with TemporaryDirectory() as folder:
        path = Path(folder, "club.xlsx")
        book = xlsxwriter.Workbook(str(path), {"in_memory": True, "constant_memory": in_sheet})
        sheet = book.add_worksheet("Locomotives")
        for (row, column), value in sorted(cells.items()):
            if isinstance(value, bool):
                sheet.write_boolean(row, column, value)
            elif isinstance(value, str):
                sheet.write_string(row, column, value)
            else:
                sheet.write_number(row, column, value)
        book.close()
        rows: list[list[Raw]] = read_workbook(path, lambda _: True).grids["Locomotives"].rows

    found = {(i, j): value for i, row in enumerate(rows) for j, value in enumerate(row) if value != ""}
    assert found == cells
