"""Accessories at a meet: the Address map counts every number that they answer, with all their outputs."""

from pathlib import Path

from openpyxl import load_workbook

from rosterkit.commands.meet.command import make_meet_workbook
from rosterkit.template.new_workbook import new_workbook

Cell = str | int | float | None


def _book(path: Path, address: int, *devices: dict[str, Cell], offset: str = "0") -> Path:
    rows: dict[str, list[dict[str, Cell]]] = {
        "Layout": [{"scale": "HO", "accessory_offset": offset}],
        "Address ranges": [{"kind": "accessory", "first": 1, "last": 40, "use": "devices"}],
        "Locomotives": [{"loco": f"E {address}", "address": address, "owner": "M01", "at_meet": "yes"}],
        "Accessories": list(devices),
    }
    path.write_bytes(new_workbook(rows))
    return path


def test_the_address_map_counts_the_numbers_of_accessories_with_all_their_outputs(tmp_path: Path) -> None:
    books = [
        _book(tmp_path / "a.xlsx", 12, {"accessory": "T", "address": 17}, {"accessory": "U", "address": 18}),
        _book(tmp_path / "b.xlsx", 13, {"accessory": "V", "address": 20, "method": "output", "outputs": 3}),
        _book(tmp_path / "c.xlsx", 14, {"accessory": "W", "address": 39, "method": "output", "outputs": 3}),
    ]

    make_meet_workbook(books, tmp_path / "MEET.xlsx")

    rows = [[cell.value for cell in row] for row in load_workbook(tmp_path / "MEET.xlsx")["Address map"]]
    # 17 to 20 of the decoder, 20 to 22 of the outputs, and 39 and 40 of the last; 41 is outside the range.
    assert [row[:7] for row in rows if row[0] == "accessory"] == [
        ["accessory", "1", "40", "kept for devices", None, "all", 8]
    ]
