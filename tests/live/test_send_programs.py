"""Copies that were sent, in spreadsheet programs: the stamp survives their saving, and locks hold."""

from pathlib import Path

import pytest

from rosterkit.commands.send.command import send
from rosterkit.versions.stamp import content_stamp, member_of, require_base, stamp_of
from rosterkit.xlsx.package.opening import opened
from tests.live.gnumeric import saved_by_gnumeric
from tests.live.uno_session import Office

DEMO = Path(__file__).parents[2] / "sample_workbooks" / "demo_club.xlsx"
pytestmark = [pytest.mark.external, pytest.mark.slow]


def through_libreoffice(office: Office, copy: Path, ending: str) -> Path:
    saved = office.open(copy).save(copy.with_name(f"saved{ending}"))
    if ending == ".xlsx":
        return saved
    return office.open(saved).save(copy.with_name("back.xlsx"))


def through_gnumeric(copy: Path, ending: str) -> Path:
    saved = saved_by_gnumeric(copy, copy.with_name(f"saved{ending}"))
    return saved if ending == ".xlsx" else saved_by_gnumeric(saved, copy.with_name("back.xlsx"))


@pytest.mark.parametrize("member", [pytest.param(None, id="for all"), pytest.param("M01", id="for a member")])
@pytest.mark.parametrize("ending", [".xlsx", ".ods"])
@pytest.mark.parametrize("program", ["LibreOffice", "Gnumeric"])
def test_a_copy_knows_its_base_after_a_program_saved_it(
    tmp_path: Path, office: Office, program: str, ending: str, member: str | None
) -> None:
    copy = tmp_path / "copy.xlsx"
    stamp = send(DEMO, copy, member=member).stamp

    if program == "LibreOffice":
        saved = opened(through_libreoffice(office, copy, ending))
    else:
        saved = opened(through_gnumeric(copy, ending))

    assert (stamp_of(saved), content_stamp(saved), member_of(saved)) == (stamp, stamp, member)
    require_base(opened(DEMO), saved)


def test_a_member_can_type_into_own_and_free_rows_and_no_others(tmp_path: Path, office: Office) -> None:
    copy = tmp_path / "copy.xlsx"
    send(DEMO, copy, member="M01")

    document = office.open(copy)

    owners = [row[1] for row in document.values("Locomotives", "A1:B40")]
    own, other = owners.index("M01") + 1, owners.index("M02") + 1
    free = next(n for n, owner in enumerate(owners, 1) if not owner)
    document.enter("Locomotives", f"E{own}", "typed at the keyboard")
    assert document.cell("Locomotives", f"E{own}").text == "typed at the keyboard"
    taken = {
        cell: document.put("Locomotives", cell, "typed")
        for cell in (f"A{own}", f"AE{own}", f"A{free}", f"AE{free}", "AP1", f"A{other}", f"AE{other}", "A1")
    }
    assert taken == {
        f"A{own}": True,
        f"AE{own}": True,
        f"A{free}": True,
        f"AE{free}": True,
        "AP1": True,
        f"A{other}": False,
        f"AE{other}": False,
        "A1": False,
    }
    assert document.cell("Locomotives", f"A{other}").text != "typed"
