"""Workbooks of the kinds .xls and .xlsb, as far as they can be made without a spreadsheet program."""

import struct
from pathlib import Path

import pytest

from rosterkit.errors import CannotRunError
from rosterkit.lists.files.containers import ContainerError, stream
from rosterkit.lists.files.old_records import _rk
from rosterkit.lists.plain import PlainCell
from tests.lists.files.binary_workbook import binary_workbook
from tests.lists.files.reading import read

REMARK = (
    "Only the values of this workbook are read: what number formats (007), colours, notes and error values"
    " say stays behind; save the list as .xlsx if they matter."
)


def test_a_binary_workbook_is_read_and_what_it_loses_is_said(tmp_path: Path) -> None:
    raw = binary_workbook({(1, 1): "Road", (1, 2): "Address", (2, 1): "007", (2, 2): 5210.0, (4, 2): 182.5})

    found = read(tmp_path, raw, "list.xlsb")

    assert found.remarks == (REMARK,)
    assert found.sheets[0].title == "Engines"
    assert found.sheets[0].cells == {
        (1, 1): PlainCell("Road", "Road"),
        (1, 2): PlainCell("Address", "Address"),
        (2, 1): PlainCell("007", "007"),
        (2, 2): PlainCell("5210", 5210),
        (4, 2): PlainCell("182.5", 182.5),
    }


def test_two_cells_in_opposite_corners_of_a_binary_workbook_are_refused(tmp_path: Path) -> None:
    raw = binary_workbook({(1, 1): "a", (1_048_576, 16_384): "z"})

    with pytest.raises(CannotRunError) as refused:
        read(tmp_path, raw, "list.xlsb")

    assert "\n" not in refused.value.message


def test_a_binary_workbook_that_is_damaged_is_refused(tmp_path: Path) -> None:
    raw = binary_workbook({(1, 1): "a"}).replace(b"worksheets/sheet1.bin", b"worksheets/sheet2.bin")

    with pytest.raises(CannotRunError):
        read(tmp_path, raw, "list.xlsb")


@pytest.mark.parametrize(
    ("stored", "number"),
    [
        # [MS-XLS], 2.5.122: bit 0 divides by 100, bit 1 says that it is a whole number.
        pytest.param(0x3FF00000, 1.0, id="half of a floating-point number"),
        pytest.param(0x3FF00001, 0.01, id="half of one, in hundredths"),
        pytest.param(5210 << 2 | 2, 5210.0, id="a whole number"),
        pytest.param(18250 << 2 | 3, 182.5, id="a whole number of hundredths"),
        pytest.param((-7 & 0x3FFFFFFF) << 2 | 2, -7.0, id="a negative whole number"),
    ],
)
def test_numbers_that_are_kept_in_four_bytes(stored: int, number: float) -> None:
    assert _rk(stored) == number


@pytest.mark.parametrize(
    "raw",
    [
        pytest.param(b"\xd0\xcf\x11\xe0", id="cut short"),
        pytest.param(b"\xd0\xcf\x11\xe0" + bytes(600), id="without sizes of sectors"),
        pytest.param(
            b"\xd0\xcf\x11\xe0" + bytes(26) + b"\x09\x00\x06\x00" + bytes(2000), id="without a directory"
        ),
    ],
)
def test_a_compound_file_that_is_damaged(raw: bytes) -> None:
    with pytest.raises(ContainerError):
        stream(raw, "Workbook")


def test_sectors_that_lead_back_to_themselves_are_refused_at_once(tmp_path: Path) -> None:
    # [MS-CFB], 2.2: sectors of 512 bytes; the first holds the table, in which the second, the directory,
    # follows itself.
    header = bytearray(512)
    header[:8] = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
    struct.pack_into("<HHHHH", header, 24, 0x3E, 3, 0xFFFE, 9, 6)
    struct.pack_into("<IIIIIIIII", header, 44, 1, 1, 0, 4096, 0xFFFFFFFE, 0, 0xFFFFFFFE, 0, 0)
    table = struct.pack("<II", 0xFFFFFFFD, 1) + b"\xff" * 504
    name = "Workbook\0".encode("utf-16-le")

    with pytest.raises(CannotRunError, match="a part of it leads back to itself"):
        read(tmp_path, bytes(header) + table + name.ljust(512, b"\0"), "list.xls")
