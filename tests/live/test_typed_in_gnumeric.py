"""The demo club's workbook, typed into and saved by Gnumeric, and read back."""

from pathlib import Path

import pytest

from tests.command_line import run
from tests.live.agreement import alerts_in, alerts_wanted, compared, differing
from tests.live.demo import write_demo_club
from tests.live.gnumeric import saved_by_gnumeric

pytestmark = [
    pytest.mark.external,
    pytest.mark.slow,
    pytest.mark.filterwarnings("ignore:Workbook contains no default style"),
]


@pytest.fixture(scope="module")
def demo_club(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    """Return the demo club's workbook, as ``new`` and ``fill`` make it."""
    return write_demo_club(tmp_path_factory.mktemp("club") / "club.xlsx").read_bytes()


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        pytest.param(
            {},
            "NE 5201: long 5201 is also the address of 'NE 5203'",
            id="nothing is typed",
            marks=pytest.mark.domain,
        ),
        pytest.param(
            {"Locomotives!I5": "2101"},
            "JV 2101: long 2101 is also the address of 'JV 0418'",
            id="an address that another engine has",
        ),
        pytest.param(
            {"Locomotives!I2": "10240"},
            "JV 2101: 10240 is too large: Address takes 1 to 10239",
            id="an address too large",
            marks=pytest.mark.domain,
        ),
        pytest.param(
            {"Locomotives!A38": "JV 99", "Locomotives!I38": "4099", "Locomotives!J38": "Long"},
            "NE 5201: long 5201 is also the address of 'NE 5203'",
            id="an engine in the first free row",
        ),
        pytest.param(
            {"Locomotives!K2": "sideways"},
            "JV 2101: 'sideways' is not one of normal, reversed",
            id="a setting that there is not",
            marks=pytest.mark.domain,
        ),
        pytest.param(
            {"Layout!B8": "128-5000"},
            "NE 5202: long 5202 is outside the long addresses of this layout, 128 to 5000",
            id="a setting of the layout",
            marks=pytest.mark.domain,
        ),
        pytest.param(
            {"Consists!B2": "31", "Consists!B3": "31"},
            "JV 31: short 31 is also the address of the consist 'Valley freight'",
            id="the address of a consist",
        ),
        pytest.param(
            {"Accessories!C2": "260", "Accessories!F2": "output"},
            "NE 5201: long 5201 is also the address of 'NE 5203'",
            id="number and method of a turnout",
            marks=pytest.mark.domain,
        ),
    ],
)
def test_values_and_alerts_are_right_before_fill_and_after(
    tmp_path: Path, demo_club: bytes, typed: dict[str, str], says: str
) -> None:
    source = tmp_path / "club.xlsx"
    source.write_bytes(demo_club)

    saved = saved_by_gnumeric(source, tmp_path / "saved.xlsx", typed)
    ran = run("fill", saved, "-o", tmp_path / "filled.xlsx")

    assert ran.status == 1, ran.err
    for path, filled in ((saved, False), (tmp_path / "filled.xlsx", True)):
        found, alerts = compared(path), alerts_in(path)
        label, _, words = says.partition(": ")
        assert (found.wrong, found.blank) == ((), ())
        assert differing(alerts, alerts_wanted(path), filled=filled) == []
        assert any(row.startswith(f"{label} in row ") and words in " ".join(alerts[row]) for row in alerts)
