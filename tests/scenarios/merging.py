"""The first half of the spring: copies are sent, edited, merged, and what only people know is decided."""

import shutil
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from openpyxl.utils.cell import get_column_letter

from tests.live.uno_session import Office
from tests.scenarios.account import Account, Tables, Verdict, account, holds, renames
from tests.scenarios.commands import Ran, rosterkit
from tests.scenarios.edits import BESIDE_CELLS, Edit
from tests.scenarios.merge_sheet import COLUMN, KEEP, ROW, TITLE, MergeSheet, Section, merge_sheet
from tests.scenarios.story import AFTERWARDS, DECISIONS, KEEPER, PARTS, edits
from tests.scenarios.tables import lies_there, tables
from tests.scenarios.typing_in import edit_copy, in_libreoffice


@dataclass(frozen=True, slots=True, kw_only=True)
class Sent:
    """What went out, and what came home."""

    base: Path
    """The master as it was when the copies were sent."""
    master: Path
    """The master as it is now."""
    copies: Sequence[Path]

    def sheets(self) -> dict[str, Tables]:
        """Return the sheets of each copy by who edited it."""
        return {path.stem: tables(path) for path in self.copies}


def sent_and_edited(folder: Path, office: Office) -> Sent:
    """Make the demo club, send it, and have everybody edit; the keeper goes on with the master meanwhile.

    Raises:
        AssertionError: if an edit is not in the file that the program saved, or a command ends otherwise.
    """
    base, master, copies = folder / "base.xlsx", folder / "master.xlsx", folder / "copies"
    copies.mkdir()
    rosterkit("new", base, "--sample")
    rosterkit("fill", base, status=1)
    base.with_name("base.earlier.xlsx").unlink()
    shutil.copy(base, master)
    for part in PARTS:
        copy = copies / f"{part.who}.xlsx"
        rosterkit("send", base, "-o", copy, *(["--member", part.who] if part.own_rows_only else []))
        edit_copy(part, copy, office)
        assert not (missing := _not_saved(part.edits, copy)), missing
    edit_copy(KEEPER, master, office)
    return Sent(base=base, master=master, copies=sorted(copies.glob("M0?.xlsx")))


def _not_saved(made: Sequence[Edit], copy: Path) -> list[str]:
    """Return what is not in the copy: a fault of this story, not of the project."""
    sheets, renamed = tables(copy), renames(made)
    at_cells = [edit for edit in made if edit.kind in BESIDE_CELLS]
    missing = [edit for edit in made if edit not in at_cells and not holds(edit, sheets, renamed)]
    missing += [edit for edit in at_cells if not lies_there(copy, edit, sheets[edit.sheet].where(edit))]
    return [str(edit) for edit in missing]


@dataclass(frozen=True, slots=True, kw_only=True)
class Together:
    """What a merge came to."""

    path: Path
    ran: Ran
    sheets: Tables
    merge: MergeSheet
    account: Account


def merged(sent: Sent, out: Path, *, copies: Sequence[Path] = ()) -> Together:
    """Merge the copies that came home into the master as it is now, and account for every edit."""
    came = copies or sent.copies
    ran = rosterkit("merge", "--base", sent.base, "--into", sent.master, *came, "-o", out, status=1)
    sheets = tables(out)
    merge = merge_sheet(sheets.get(TITLE))
    return Together(
        path=out,
        ran=ran,
        sheets=sheets,
        merge=merge,
        account=account(edits(), sheets, merge, sent.sheets()),
    )


def decide(path: Path, merge: MergeSheet, office: Office) -> None:
    """Type into the column Keep, in LibreOffice, whose side the keeper keeps, and have that applied.

    Raises:
        AssertionError: if there is a conflict of which the story knows no decision, or the reverse.
    """
    book = office.open(path)
    headings = next(row for row in tables(path)[TITLE].rows if KEEP in row)
    column = get_column_letter(headings.index(KEEP) + 1)
    undecided = dict(DECISIONS)
    for line in merge.of(Section.CONFLICTS):
        found = [what for what in undecided if what == (line.get(ROW), line.get(COLUMN))]
        assert found, f"the story decides nothing of {line}"
        book.enter(TITLE, f"{column}{line.number}", undecided.pop(found[0]))
    assert not undecided, f"no conflicts of {undecided}"
    book.save(path)
    book.close()
    rosterkit("merge", "--resolve", path, status=(0, 1))


def settle(path: Path, office: Office) -> None:
    """Give one of the two engines that took the same address another one."""
    in_libreoffice(AFTERWARDS, office.open(path), path)


def final_account(together: Together, now: Tables) -> Account:
    """Return what became of each edit once all is decided.

    What was no conflict is still as it was; of a conflict the side that was kept is in the workbook, the
    other is not; what the keeper typed over afterwards counts as decided.
    """
    entries = [(edit, _final(edit, verdict, now)) for edit, verdict in together.account.entries]
    return Account([*entries, *((edit, _there(edit, now)) for edit in AFTERWARDS.edits)])


def _there(edit: Edit, now: Tables) -> Verdict:
    return Verdict.IN_THE_RESULT if holds(edit, now, renames(edits())) else Verdict.LOST


def _final(edit: Edit, verdict: Verdict, now: Tables) -> Verdict:
    over = any(
        edit.key == later.key and (edit.sheet, edit.heading) == (later.sheet, later.heading)
        for later in AFTERWARDS.edits
    )
    if verdict is Verdict.CONFLICT:
        side = DECISIONS.get((edit.label, edit.heading)) or DECISIONS.get((edit.label, ""))
        return _there(edit, now) if side == edit.who else Verdict.DECIDED if side else Verdict.LOST
    if verdict is Verdict.IN_THE_RESULT and not over:
        return _there(edit, now)
    return Verdict.DECIDED if over else verdict
