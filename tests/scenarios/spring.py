"""A club's spring, from the copies that are sent to the meet that is over, told and accounted for.

Run ``python -m tests.scenarios.spring --keep FOLDER`` to try it by hand: the files stay in the folder, and
what each command said is printed. It needs LibreOffice with python3-uno, and Gnumeric.
"""

import argparse
import json
import tempfile
from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from tests.live.uno_session import Office
from tests.scenarios.account import Account, Tables, Verdict, holds, renames
from tests.scenarios.clubs import write_other_clubs
from tests.scenarios.commands import rosterkit
from tests.scenarios.edits import BESIDE_CELLS, Edit, Kind
from tests.scenarios.meeting import (
    Planned,
    cleared,
    planned,
    readings,
    shared_addresses,
    today,
    type_read_back,
)
from tests.scenarios.merge_sheet import REMARK, Section
from tests.scenarios.merging import (
    Sent,
    Together,
    decide,
    final_account,
    gone_from,
    merged,
    sent_and_edited,
    settle,
)
from tests.scenarios.story import DECISIONS, TAKEN_TWICE, UNTOUCHED, edits
from tests.scenarios.tables import tables
from tests.scenarios.unexplained import invented, stale_references

Say = Callable[[object], None]
MOVED, READ_BACK = "NE 5203", "JV 32"
"""An engine that gets a Meet address, and one that is keyed in and read back."""


def spring(folder: Path, office: Office, say: Say) -> Account:
    """Go through the whole of it, and return what became of everybody's edits.

    Raises:
        AssertionError: that says what went wrong, as soon as something does.
    """
    say("== sent to four members and to one who changes nothing, and edited")
    sent = sent_and_edited(folder, office)
    say("== merged")
    together = merged(sent, folder / "club.xlsx")
    say(together.ran)
    say(together.account)
    require_all_accounted_for(sent, together)
    the_other_way = merged(sent, folder / "the_other_way.xlsx", copies=sent.copies[::-1])
    assert not (differing := invented(together.sheets, the_other_way.sheets, ())), differing
    say("== decided by the column Keep, and the address that two took is settled")
    decide(together.path, together.merge, office)
    settle(together.path, office)
    require_checked(sent, together.path)
    rosterkit("fill", together.path, status=(0, 1))
    say("== planned with two other clubs, keyed in, read back")
    plan = planned(folder, [together.path, *write_other_clubs(folder)])
    require_planned(together.path, plan)
    for phase in ("before", "after"):
        card = rosterkit("cards", plan.copies[0], "--meet", phase, "--loco", MOVED)
        assert MOVED in card.out, card
        say(card)
    recorded = require_read_back(plan.copies[0], office)
    say("== the meet is over")
    over = [cleared(path) for path in plan.copies]
    require_cleared(folder, plan, over, recorded)
    final = final_account(together, over[0])
    say(final)
    assert not final.lost, final.lost
    assert not (gone := gone_from(plan.copies[0])), gone
    return final


def require_all_accounted_for(sent: Sent, together: Together) -> None:
    """Require of a merge that it lost nothing, invented nothing, and asks only what only people know."""
    account = together.account
    assert not account.lost, account.lost
    assert not (gone := gone_from(together.path)), gone
    asked_about = account.of(Verdict.CONFLICT)
    as_sent = [_as_sent(edit, tables(sent.base)) for edit in asked_about if edit.kind is Kind.CELL]
    wrong = [str(edit) for edit in as_sent if not holds(edit, together.sheets, renames(edits()))]
    assert not wrong, wrong
    assert not (more := invented(tables(sent.master), together.sheets, [*edits(), *as_sent])), more
    wrong = stale_references(tables(sent.base), together.sheets, renames(edits()))
    assert not wrong, wrong
    asked = {_decision(edit) for edit in asked_about}
    assert asked == set(DECISIONS), asked
    listed = {edit.kind for edit in account.of(Verdict.NOT_MERGED)}
    assert listed <= {*BESIDE_CELLS, Kind.LOOSE, Kind.CELL}, listed
    cells = [edit for edit in account.of(Verdict.NOT_MERGED) if edit.kind is Kind.CELL]
    assert all(edit.text.startswith("=") for edit in cells), cells
    told = [line.cells for line in together.merge.lines if line.get(UNTOUCHED.who)]
    assert not told, told
    only_together = [line.get(REMARK) for line in together.merge.of(Section.TOGETHER)]
    assert len(only_together) == 2, only_together
    assert all(TAKEN_TWICE in remark for remark in only_together), only_together
    assert TAKEN_TWICE in together.ran.out, together.ran


def _as_sent(edit: Edit, base: Tables) -> Edit:
    """Return what a cell in conflict holds until somebody decides: what it held when the copies were sent."""
    table = base[edit.sheet]
    number = table.row(edit.key, {})
    was = table.cell(number, table.top(list(edit.key)), edit.heading) if number is not None else ""
    return replace(edit, text=was)


def _decision(edit: Edit) -> tuple[str, str]:
    both = (edit.label, edit.heading)
    return both if both in DECISIONS else (edit.label, "")


def require_checked(sent: Sent, path: Path) -> None:
    """Require that no engine has an error that it had not before, and that the address is nobody else's."""
    before, now = (_errors(one) for one in (sent.base, path))
    assert not now - before, now - before


def _errors(path: Path) -> set[tuple[str, str]]:
    findings = json.loads(rosterkit("check", path, "--format", "json", status=(0, 1)).out)["findings"]
    return {(one["rule"], str(one["loco"])) for one in findings if one["severity"] == "error"}


def require_planned(club: Path, plan: Planned) -> None:
    """Require that the copies have the plan's addresses and nothing else new, and no two engines one."""
    now = [tables(path) for path in plan.copies]
    assert any(edit.label == MOVED for edit in plan.moves[0]), plan.moves
    came = [club, *(club.with_name(path.name) for path in plan.copies[1:])]
    for path, sheets, moves in zip(came, now, plan.moves, strict=True):
        assert not (missing := [str(edit) for edit in moves if not _entered(edit, sheets)]), missing
        assert not (more := invented(tables(path), sheets, moves)), more
    assert not (shared := shared_addresses(now)), shared


def _entered(edit: Edit, sheets: Tables) -> bool:
    """Return whether a move is in the workbook; a blank kind is one that the address says itself."""
    blank = Edit(who=edit.who, kind=edit.kind, sheet=edit.sheet, key=edit.key, heading=edit.heading)
    return holds(edit, sheets, {}) or (edit.heading == "Meet kind" and holds(blank, sheets, {}))


def require_read_back(path: Path, office: Office) -> Counter[tuple[str, str, str]]:
    """Have the sheet Cards written into, and require that the next fill takes it into Readings."""
    rosterkit("fill", path, status=(0, 1))
    before = readings(tables(path), READ_BACK)
    typed = type_read_back(path, READ_BACK, office)
    rosterkit("fill", path, status=(0, 1))
    wanted = Counter((today(), cv, value) for cv, value in typed)
    assert readings(tables(path), READ_BACK) - before == wanted, (typed, readings(tables(path), READ_BACK))
    return wanted


def require_cleared(
    folder: Path, plan: Planned, over: list[Tables], recorded: Counter[tuple[str, str, str]]
) -> None:
    """Require that the workbooks are as they were before the plan, but for what was read back."""
    for path, sheets in zip(plan.copies, over, strict=True):
        more = invented(tables(folder / path.name), sheets, ())
        read = [line for line in more if line.startswith("Readings") and READ_BACK in line]
        assert more == read, more
    assert recorded <= readings(over[0], READ_BACK), recorded


def main() -> None:
    """Try it by hand."""
    parser = argparse.ArgumentParser(prog="python -m tests.scenarios.spring", description=__doc__)
    parser.add_argument("--keep", type=Path, help="a folder that is made, and in which all files stay")
    folder = parser.parse_args().keep
    with tempfile.TemporaryDirectory() as name, Office(Path(name) / "profile") as office:
        if folder is not None:
            folder.mkdir(parents=True)
        spring(folder or Path(name), office, print)


if __name__ == "__main__":
    main()
