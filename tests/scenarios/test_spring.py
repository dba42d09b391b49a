"""A club's spring, in the programs that members use: nobody's change is lost."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.live.uno_session import Office
from tests.scenarios.account import Verdict
from tests.scenarios.spring import spring
from tests.scenarios.story import AFTERWARDS, edits

pytestmark = [
    pytest.mark.external,
    pytest.mark.slow,
    pytest.mark.filterwarnings("ignore:Workbook contains no default style"),
]


@pytest.fixture
def office(tmp_path: Path) -> Iterator[Office]:
    with Office(tmp_path / "profile") as started:
        yield started


def test_everything_that_anybody_did_in_a_clubs_spring_is_accounted_for(
    tmp_path: Path, office: Office
) -> None:
    folder = tmp_path / "spring"
    folder.mkdir()
    account = spring(folder, office, print)
    assert len(account.entries) == len(edits()) + len(AFTERWARDS.edits)
    assert account.of(Verdict.LOST) == []
