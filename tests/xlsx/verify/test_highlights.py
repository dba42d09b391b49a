"""The proof of an edit sees what becomes of a group of our highlights into which somebody put something."""

from pathlib import Path

import pytest

from rosterkit.errors import CannotRunError
from rosterkit.xlsx.changes import CellStyle, Highlight, SheetChange, WorkbookChange
from rosterkit.xlsx.package.opening import Package, opened
from rosterkit.xlsx.patch.conditional_formats import MARK
from tests.xlsx.clubs import TITLE, club
from tests.xlsx.packages import Patch, before, patch, replaced
from tests.xlsx.verify.tampering import SHEET, verify_tampered

RULE = '<cfRule type="expression" dxfId="0" priority="{}"><formula>AND({}=0,{})</formula></cfRule>'
THEIRS = '<extLst><ext uri="{1}" xmlns:y="urn:y"><y:id>7</y:id></ext></extLst>'
FIRST, SECOND, IDLE = (
    RULE.format(priority, MARK, formula) for priority, formula in ((8, "A1=8"), (9, "A1=9"), (8, "FALSE"))
)
NEW = Highlight(ranges=("C5",), formula="C5>2", look=CellStyle.ERROR)
MADE = WorkbookChange(sheets=(SheetChange(title=TITLE, highlights=(NEW,)),))


@pytest.fixture
def package(tmp_path: Path) -> Package:
    path = tmp_path / "club.xlsx"
    club(path).close()
    group = f'<conditionalFormatting sqref="C3">{FIRST}{SECOND}{THEIRS}</conditionalFormatting>'
    patch(path, {SHEET: before("<pageMargins", group)})
    return opened(path)


def test_a_rule_of_ours_that_stays_without_effect_is_proven(package: Package, tmp_path: Path) -> None:
    verify_tampered(package, tmp_path, MADE, SHEET, replaced(IDLE + THEIRS, IDLE + THEIRS))


@pytest.mark.parametrize(
    "change",
    [
        pytest.param(replaced("=0,FALSE)", "=0,TRUE)"), id="it has an effect"),
        pytest.param(replaced(IDLE, IDLE.replace('"8"', '"1"')), id="it comes before others"),
        pytest.param(replaced(IDLE, IDLE.replace("dxfId", "stopIfTrue")), id="it is of another look"),
        pytest.param(replaced(IDLE, ""), id="it is lost, and its group has none"),
        pytest.param(replaced(IDLE, IDLE + SECOND), id="the second of ours stays as well"),
        pytest.param(replaced(IDLE + THEIRS, THEIRS + IDLE), id="it stands behind what is theirs"),
        pytest.param(replaced(THEIRS, ""), id="what is theirs is lost"),
        pytest.param(replaced("<y:id>7<", "<y:id>8<"), id="what is theirs changed"),
        pytest.param(
            replaced(f'<conditionalFormatting sqref="C3">{IDLE}{THEIRS}</conditionalFormatting>', ""),
            id="the group is lost",
        ),
    ],
)
def test_what_became_of_a_group_otherwise_is_seen(package: Package, tmp_path: Path, change: Patch) -> None:
    with pytest.raises(CannotRunError, match="something beside the rows of a sheet changed"):
        verify_tampered(package, tmp_path, MADE, SHEET, change)
