"""A workbook that stands where a new one is to be made."""

from pathlib import Path

from rosterkit.commands.new.command import make_workbook
from tests.command_line import run


def test_a_workbook_that_is_replaced_by_force_is_kept_beside_the_new_one(tmp_path: Path) -> None:
    path = tmp_path / "club.xlsx"
    path.write_bytes(b"a member's workbook")

    done = run("new", path, "--force")

    kept = tmp_path / "club.earlier.xlsx"
    assert kept.read_bytes() == b"a member's workbook"
    assert done.err == f"made {path}; the earlier file is {kept}\n"
    assert make_workbook(tmp_path / "other.xlsx") is None
