"""A file that may not be read is refused in a sentence of ours, whichever word names it."""

import os
from pathlib import Path

import pytest

from tests.command_line import run


@pytest.mark.parametrize(
    "words",
    [
        pytest.param(["check", "club.xlsx"], id="a workbook to check"),
        pytest.param(["fill", "club.xlsx"], id="a workbook to fill"),
        pytest.param(["fill", "club.xlsx", "-o", "club.xlsx"], id="a copy"),
        pytest.param(["compare", "club.xlsx", "club.xlsx"], id="the workbooks to compare"),
        pytest.param(["meet", "club.xlsx", "-o", "club.xlsx"], id="the workbook of a meet"),
        pytest.param(["new", "club.xlsx"], id="a new workbook where a file is"),
        pytest.param(["adopt", "club.xlsx"], id="a list"),
        pytest.param(["adopt", "club.xlsx", "--reading", "club.xlsx"], id="a sheet Reading"),
    ],
)
def test_the_library_of_commands_does_not_judge_whether_a_file_may_be_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, words: list[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("club.xlsx").touch()
    monkeypatch.setattr(os, "access", lambda *_, **__: False)

    ran = run(*words)

    assert ran.status == 2
    assert "club.xlsx" in ran.err
    assert "as --help says" not in ran.err
