"""The demo club's workbook, edited in LibreOffice as members do, saved by it, and read back.

Before the next fill no cell may hold another value than rosterkit computes of the saved workbook, but for
cells that somebody typed over; alerts say what ``check`` says; and fill mends whatever was damaged.
"""

from collections.abc import Callable
from pathlib import Path

import pytest

from rosterkit.commands.check import check
from tests.command_line import run
from tests.live.agreement import BROKEN, Alerts, alerts_in, alerts_wanted, compared, differing
from tests.live.club import Club
from tests.live.demo import write_demo_club
from tests.live.edit_cases import EDITS, EVERY, Edit
from tests.live.uno_session import Office

pytestmark = [pytest.mark.external, pytest.mark.slow, pytest.mark.xdist_group("edits in LibreOffice")]


@pytest.fixture(scope="module")
def demo_club(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    """Return the demo club's workbook, as ``new`` and ``fill`` make it."""
    return write_demo_club(tmp_path_factory.mktemp("club") / "club.xlsx").read_bytes()


@pytest.fixture(scope="module")
def edited(
    office: Office, demo_club: bytes, tmp_path_factory: pytest.TempPathFactory
) -> Callable[[Edit], Path]:
    """Return what does an edit in LibreOffice, once, and returns the workbook that LibreOffice saved."""
    folder, saved = tmp_path_factory.mktemp("edited"), dict[str, Path]()

    def edited(edit: Edit) -> Path:
        if edit.sentence not in saved:
            source = folder / "club.xlsx"
            source.write_bytes(demo_club)
            book = office.open(source)
            edit.do(Club(book))
            saved[edit.sentence] = book.save(folder / f"{len(saved)}.xlsx")
        return saved[edit.sentence]

    return edited


IN_EVERY_RUN = {
    "an address that another engine has is typed",
    "an address from another member's range is typed",
    "an engine is typed into the first free row",
    "an engine is typed below the last row with formulas",
    "a row is inserted among the engines and typed into",
    "a row is deleted",
    "engines are sorted by their names downwards",
    "a column is inserted before the addresses",
    "the addresses are moved to the front",
    "settings of the layout are sorted",
    "the layout sends 14 speed steps",
    "a consist gets another address",
    "sheets get titles that are read alike",
    "the sheet Live is deleted",
    "a CV is typed over",
    "values are pasted over all formulas",
}
"""The others take minutes, and run where somebody asks for the whole domain."""
assert {edit.sentence for edit in EDITS} >= IN_EVERY_RUN


def _marks(edit: Edit) -> list[pytest.MarkDecorator]:
    return [] if edit.sentence in IN_EVERY_RUN else [pytest.mark.domain]


each_edit = pytest.mark.parametrize(
    "edit", [pytest.param(edit, id=edit.sentence, marks=_marks(edit)) for edit in EDITS]
)


@each_edit
def test_until_the_next_fill_no_value_is_wrong(edited: Callable[[Edit], Path], edit: Edit) -> None:
    found = compared(edited(edit))

    assert found.wrong == edit.wrong
    assert found.blank == edit.blank or (edit.blank == EVERY and set(found.engines) <= set(found.blank))


@each_edit
def test_until_the_next_fill_alerts_say_what_check_says(edited: Callable[[Edit], Path], edit: Edit) -> None:
    saved = edited(edit)

    alerts, wanted = alerts_in(saved), alerts_wanted(saved)

    if edit.alerts:
        assert differing(_but(edit.strayed, alerts), wanted, filled=False) == []
    else:
        assert [row for row, said in alerts.items() if said != {BROKEN}] == []
    assert [one for one in edit.says if not _is_said(one, alerts)] == []
    assert len(wanted) - len(alerts) == edit.without_alert


@each_edit
def test_fill_mends_what_the_edit_did(edited: Callable[[Edit], Path], tmp_path: Path, edit: Edit) -> None:
    filled = tmp_path / "filled.xlsx"

    ran = run("fill", edited(edit), "-o", filled)

    assert ran.status in {0, 1}, ran.err
    found, alerts, wanted = compared(filled), alerts_in(filled), alerts_wanted(filled)
    assert (found.wrong, found.blank) == ((), ())
    assert _but(edit.apart, alerts).keys() == _but(edit.apart, wanted).keys()
    assert differing(_but(edit.apart, alerts), wanted, filled=True) == []
    left = [one.message for one in check([filled]).findings if one.rule.startswith("computed-")]
    assert tuple(left) == edit.left


def _is_said(label_and_words: str, alerts: Alerts) -> bool:
    label, _, words = label_and_words.partition(": ")
    return any(words in said for row, said in alerts.items() if _is_of(row, (label,)))


def _but(labels: tuple[str, ...], alerts: Alerts) -> Alerts:
    return {row: said for row, said in alerts.items() if not _is_of(row, labels)}


def _is_of(row: str, labels: tuple[str, ...]) -> bool:
    return row.startswith(tuple(f"{label} in row " for label in labels))
