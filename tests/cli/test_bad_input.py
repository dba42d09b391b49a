"""What is no workbook with engines: one sentence and what to do, exit status 2, and nothing written."""

import shutil
import subprocess
from collections.abc import Mapping
from pathlib import Path

import pytest

from tests.command_line import Ran, run, started, written
from tests.rosters import Rows, grid, workbook, workbook_of

ENGINES: Rows = [{"Loco": "A", "Address": 12}]
_OLE = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
"""How a password-protected workbook begins: [MS-CFB] 2.2, the header signature of a compound file."""

_ADOPT = "Make a workbook of it with 'rosterkit adopt {}'."

SENTENCES: Mapping[str, tuple[str, str]] = {
    "missing.xlsx": (
        "cannot read {}: there is no such file",
        "Check the spelling of the name and the folder.",
    ),
    "folder.xlsx": ("cannot read {}: it is a folder", "Give a workbook inside it."),
    "empty.xlsx": (
        "cannot read {}: it is empty (0 bytes)",
        "Copy the file again, or take the last good backup.",
    ),
    "text.xlsx": ("cannot read {}: it is a text file, not a workbook", _ADOPT),
    "password.xlsx": (
        "cannot read {}: it is protected by a password",
        "Open it in a spreadsheet program, remove the password for opening, and save it again.",
    ),
    "old.xls": ("cannot read {}: it is a workbook of the old .xls kind", _ADOPT),
    "old_renamed.xlsx": ("cannot read {}: it is a workbook of the old .xls kind", _ADOPT),
    "open.ods": ("cannot read {}: it is an OpenDocument spreadsheet (.ods)", _ADOPT),
    "cut.xlsx": (
        "cannot read {}: the file is damaged or only half copied",
        "Copy or download the file again, or take the last good backup.",
    ),
    "no_sheet.xlsx": (
        "{}: there is no sheet 'Locomotives'",
        "Make a workbook of it with 'rosterkit adopt {}', or name the sheet with the engines 'Locomotives'.",
    ),
    "near_sheet.xlsx": (
        "{}: there is no sheet 'Locomotives', only 'Locomotive'",
        "Rename the sheet 'Locomotive' to 'Locomotives'.",
    ),
    "no_headings.xlsx": (
        "{}: the sheet 'Locomotives' has no heading row",
        "Make a workbook of it with 'rosterkit adopt {}', or give it a row of headings, 'Loco' and 'Address' "
        "at least, above the engines.",
    ),
    "twice.xlsx": (
        "{}: the sheet 'Locomotives' has 'Loco' more than once (A1 and C1)",
        "Rename or remove all but one of them.",
    ),
    "no_rows.xlsx": (
        "{}: the sheet 'Locomotives' has headings but no engines",
        "Enter at least one engine below the headings.",
    ),
}
"""By name of the file: why it cannot be used, {} being its path, and what to do."""


@pytest.fixture(scope="module")
def bad(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with one workbook that is in order and one of each bad kind."""
    folder = tmp_path_factory.mktemp("bad")
    good = written(folder / "good.xlsx", workbook(ENGINES))
    (folder / "folder.xlsx").mkdir()
    (folder / "empty.xlsx").touch()
    (folder / "text.xlsx").write_text("Loco Address\nA 12\n", encoding="utf-8")
    (folder / "password.xlsx").write_bytes(
        _OLE
        + bytes(504)
        + "EncryptionInfo".encode("utf-16-le")
        + bytes(90)
        + "EncryptedPackage".encode("utf-16-le")
    )
    for target in ("old.xls", "open.ods"):
        subprocess.run(["ssconvert", good, folder / target], check=True, timeout=60, capture_output=True)
    shutil.copy(folder / "old.xls", folder / "old_renamed.xlsx")
    (folder / "cut.xlsx").write_bytes(good.read_bytes()[:-200])
    written(folder / "no_sheet.xlsx", workbook_of(titles=["Sheet1", "Photos"]))
    written(folder / "near_sheet.xlsx", workbook_of(titles=["Locomotive", "Photos"]))
    written(folder / "no_headings.xlsx", workbook_of(grid("Locomotives", ("A", 12), ("B", 13))))
    written(
        folder / "twice.xlsx", workbook_of(grid("Locomotives", ("Loco", "Address", "loco"), ("A", 12, "B")))
    )
    written(folder / "no_rows.xlsx", workbook_of(grid("Locomotives", ("Loco", "Address"), ())))
    return folder


def _everything(folder: Path) -> dict[str, bytes | None]:
    return {str(path): path.read_bytes() if path.is_file() else None for path in sorted(folder.rglob("*"))}


@pytest.mark.parametrize("command", ["check", "fill", "cards"])
@pytest.mark.parametrize("name", SENTENCES)
def test_a_command_says_what_is_wrong_and_writes_nothing(bad: Path, name: str, command: str) -> None:
    before = _everything(bad)
    why, fix = SENTENCES[name]

    ran = run(command, bad / name)

    assert ran == Ran(
        status=2, out="", err=f"rosterkit: {why.format(bad / name)}. {fix.format(bad / name)}\n"
    )
    assert _everything(bad) == before


def test_fill_into_a_copy_writes_nothing_either(bad: Path) -> None:
    before = _everything(bad)

    assert run("fill", bad / "cut.xlsx", "-o", bad / "out.xlsx").status == 2
    assert _everything(bad) == before


@pytest.mark.parametrize("name", SENTENCES)
def test_one_that_cannot_be_read_does_not_hide_the_findings_of_others(
    bad: Path, tmp_path: Path, name: str
) -> None:
    why, fix = SENTENCES[name]
    other = written(tmp_path / "other.xlsx", workbook([*ENGINES, {"Loco": "B", "Address": 12}]))

    ran = run("check", bad / name, other)

    assert (ran.status, ran.err) == (1, "")
    assert ran.out.count("error address-shared") == 2
    assert (
        f"{bad / name} error workbook-unread: {why.format(bad / name)}\n    fix: {fix.format(bad / name)}\n"
        in ran.out
    )
    assert ran.out.endswith("2 engines: 3 errors, 0 warnings, 0 notes\n")


def test_where_not_one_of_several_can_be_read_the_first_is_named(bad: Path) -> None:
    ran = run("check", bad / "missing.xlsx", bad / "empty.xlsx")

    assert (ran.status, ran.out) == (2, "")
    assert ran.err.startswith(f"rosterkit: cannot read {bad / 'missing.xlsx'}: ")


@pytest.mark.parametrize("name", ["missing.xlsx", "folder.xlsx", "cut.xlsx", "twice.xlsx"])
def test_a_process_ends_without_traceback(bad: Path, name: str) -> None:
    ran = started("check", bad / name)

    assert (ran.status, ran.out, len(ran.err.splitlines())) == (2, "", 1)
