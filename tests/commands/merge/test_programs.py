"""The sheet Merge in other programs: saved by them, it offers the same choices, and these are carried out."""

import subprocess
import warnings
from collections.abc import Callable
from datetime import date, datetime
from pathlib import Path

import openpyxl
import pytest

from tests.command_line import run
from tests.commands.merge.workbooks import cells, chosen, club, copied, deleted, merge_lines, table


def _by_libreoffice(path: Path, name: str) -> Path:
    out = path.parent / "saved"
    profile = (path.parent / "profile").as_uri()
    command = ["soffice", f"-env:UserInstallation={profile}", "--headless", "--convert-to", "xlsx"]
    subprocess.run([*command, "--outdir", str(out), str(path)], check=True, capture_output=True, timeout=300)
    return (out / path.name).replace(path.with_name(name))


def _by_gnumeric(path: Path, name: str) -> Path:
    out = path.with_name(name)
    subprocess.run(["ssconvert", str(path), str(out)], check=True, capture_output=True, timeout=300)
    return out


@pytest.mark.external
@pytest.mark.parametrize(
    "saved",
    [pytest.param(_by_libreoffice, id="LibreOffice"), pytest.param(_by_gnumeric, id="Gnumeric")],
)
def test_conflicts_are_resolved_in_a_workbook_that_another_program_saved(
    tmp_path: Path, saved: Callable[[Path, str], Path]
) -> None:
    base, out = club(tmp_path / "sent.xlsx"), tmp_path / "out.xlsx"
    one = copied(base, "M01.xlsx", cells(E2=99, F3=date(2026, 5, 31), D2="007"), deleted(4))
    two = copied(base, "M02.xlsx", cells(E2=98, F3=date(2026, 6, 1), D2=None, G4="z"))
    assert run("merge", "--base", base, one, two, "-o", out).status == 1

    with warnings.catch_warnings():
        warnings.simplefilter("ignore", UserWarning)  # Gnumeric writes no default style
        first = saved(out, "first.xlsx")
        sheet = openpyxl.load_workbook(first)["Merge"]
        (rule,) = sheet.data_validations.dataValidation
        lines = merge_lines(first)
        wanted: dict[object, str] = {"Number": "M01", "Address": "m02", "Checked on": "M01", None: "M01"}
        chosen(first, {n: wanted[line.get("Column")] for n, line in enumerate(lines[:4], 2)})
        second = saved(first, "second.xlsx")
        ran = run("merge", "--resolve", second)
        engines = table(second)

    assert (str(rule.sqref), str(rule.formula1)) == (f"I2:I{len(lines) + 1}", "$F2:$H2")
    assert [line["What"] for line in lines[:4]] == ["conflict"] * 4
    assert ran.status == 0, ran.out
    assert set(engines) == {"A", "B", "D"}
    assert (engines["A"]["Number"], engines["A"]["Address"]) == ("007", 98)
    assert engines["B"]["Checked on"] == datetime(2026, 5, 31)
