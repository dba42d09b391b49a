"""What the command about meets does: everybody's workbooks in, a plan and one workbook for the meet out."""

from collections.abc import Sequence
from contextlib import nullcontext
from dataclasses import replace
from pathlib import Path

from rosterkit import __version__
from rosterkit.checks import findings_across
from rosterkit.checks.framework import scope_of
from rosterkit.commands.common import each_file_once, require_room
from rosterkit.commands.meet.attendance import attendance_of
from rosterkit.commands.meet.by_owner import ordered_by_owner
from rosterkit.commands.meet.copies import make_copies
from rosterkit.commands.meet.given import LeftOut, require_no_copies, without_earlier
from rosterkit.commands.meet.meet import Meet, unplaced, with_twins
from rosterkit.commands.meet.sheets import meet_sheets, number_of_sheets
from rosterkit.commands.meet.workbook import Registered, enrolled, registered
from rosterkit.errors import CannotRunError
from rosterkit.findings import Hit, in_reading_order
from rosterkit.parallel import map_parallel
from rosterkit.planning.addresses import plan_moves
from rosterkit.progress import watched
from rosterkit.xlsx.own_sheets.new_workbook import workbook_of
from rosterkit.xlsx.save.save import save_new
from rosterkit.xlsx.save.together import folder_for


def make_meet_workbook(
    paths: Sequence[Path],
    out: Path | None,
    *,
    copies_to: Path | None = None,
    force: bool = False,
    processes: int = 0,
) -> Meet:
    """Read everybody's workbooks, plan the meet, and write the meet workbook, copies with the plan, or both.

    Args:
        paths: The workbooks.
        out: The meet workbook; None for none.
        copies_to: The folder for a copy of each workbook with its Meet addresses entered; None for none.
        force: Files that are there are replaced.
        processes: How many work side by side; 0 is one a processor.

    Raises:
        CannotRunError: if no workbook can be read, nobody comes, or something cannot be written; then nothing
            is. For copies every workbook must be read.
    """
    with folder_for(copies_to) if copies_to else nullcontext():
        if out is not None:
            require_room(out, force=force)
        meet = plan_meet(paths, processes=processes)
        if out is not None:
            _refuse_member(out, paths, meet)

        def write_plan() -> None:
            if out is not None:
                sheets = watched(meet_sheets(meet), number_of_sheets(meet), "sheets")
                save_new(out, workbook_of(sheets))

        if copies_to is None:
            write_plan()
            return meet
        for finding in meet.findings:
            if finding.rule == "workbook-unread":
                raise CannotRunError(finding.message, finding.fix)
        return replace(meet, copies=make_copies(meet, copies_to, out=out, force=force, then=write_plan))


def _refuse_member(out: Path, paths: Sequence[Path], meet: Meet) -> None:
    """See that no workbook of a member is replaced by the plan."""
    left_out = {one.path for one in meet.left_out}
    for path in paths:
        if str(path) not in left_out and out.exists() and path.exists() and path.samefile(out):
            raise CannotRunError(f"'{out}' is one of the members' workbooks", "Give -o another name.")


def plan_meet(paths: Sequence[Path], *, processes: int = 0) -> Meet:
    """Read everybody's workbooks, check them together, and plan the moves.

    A workbook that cannot be read becomes a finding, and the others go on. Earlier files and plans of
    rosterkit's own are left out.

    Raises:
        CannotRunError: if not one of them can be read, two hold the same engines, or no engine comes.
    """
    results = map_parallel(registered, each_file_once(paths), processes=processes)
    books = [result for result in results if isinstance(result, Registered)]
    unread = [result for result in results if isinstance(result, Hit)]
    left_out = [result for result in results if isinstance(result, LeftOut)]
    if not books and unread:
        raise CannotRunError(unread[0].message, unread[0].fix)
    if not books:
        raise CannotRunError(f"{left_out[0].path}: {left_out[0].because}", "Give the members' workbooks.")
    rosters, earlier = without_earlier([enrolled(book) for book in books])
    require_no_copies(rosters)
    books = [book for book in books if book.book.name not in {one.path for one in earlier}]
    attendance = attendance_of(rosters)
    if not attendance.engines:
        raise CannotRunError("no engine comes to the meet", "Set At meet to yes for those that come.")
    plan = plan_moves(attendance.engines, attendance.consists, attendance.rules_by_layout)
    plan = ordered_by_owner(with_twins(plan, attendance), attendance)
    findings = [finding for book in books for finding in book.findings]
    left = [unplaced(one, attendance) for one in plan.unresolved]
    findings += findings_across(scope_of(rosters, meet=True, unread=unread, unplaced=left))
    return Meet(
        version=__version__,
        workbooks=[(roster.book.name, len(roster.engines)) for roster in rosters],
        event=next((roster.layout.event for roster in rosters if roster.layout.event), None),
        attendance=attendance,
        plan=plan,
        digests={book.book.name: book.digest for book in books},
        at_home={book.book.name: book.at_home for book in books},
        left_out=[*left_out, *earlier],
        findings=in_reading_order(findings),
    )
