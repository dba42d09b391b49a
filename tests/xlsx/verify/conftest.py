"""A small workbook before and after the usual change."""

from pathlib import Path

import pytest

from rosterkit.xlsx.package.opening import Package, opened
from rosterkit.xlsx.save.edit import edited
from tests.xlsx.clubs import HEADINGS, club, locomotives, usual_change


@pytest.fixture(scope="session")
def package(tmp_path_factory: pytest.TempPathFactory) -> Package:
    path = tmp_path_factory.mktemp("verify") / "club.xlsx"
    book = club(path)
    sheet = locomotives(book)
    sheet.conditional_format("C2:C6", {"type": "duplicate", "format": book.add_format({"bold": True})})
    sheet.data_validation("C2:C9", {"validate": "integer", "criteria": ">", "value": 0})
    sheet.set_column("A:C", 14)
    sheet.write_formula("A9", "=SUM(C2:C6)", None, 5852)
    columns = [{"header": heading} for heading in HEADINGS]
    book.add_worksheet("Notes").write("A1", "kept")
    book.define_name("Addresses", "=Locomotives!$C$2:$C$6")
    sheet.add_table("A1:E6", {"columns": columns, "name": "Engines"})
    book.close()
    return opened(path)


@pytest.fixture(scope="session")
def after(package: Package, tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("verify") / "after.xlsx"
    path.write_bytes(edited(package, usual_change(first=6)).data)
    return path
