"""The stored results of formulas, which programs show and calculate with until something changes them."""

from pathlib import Path

import openpyxl

from tests.live.demo import write_demo_club


def test_no_stored_text_begins_or_ends_with_a_blank_which_libreoffice_would_strip(tmp_path: Path) -> None:
    path = write_demo_club(tmp_path / "club.xlsx")
    formulas, results = openpyxl.load_workbook(path), openpyxl.load_workbook(path, data_only=True)

    texts = [
        (sheet.title, cell.coordinate, str(result))
        for sheet in formulas
        for row in sheet.iter_rows()
        for cell in row
        if cell.data_type == "f" and isinstance(result := results[sheet.title][cell.coordinate].value, str)
    ]

    assert len(texts) > 100
    assert [one for one in texts if one[2] != one[2].strip()] == []
