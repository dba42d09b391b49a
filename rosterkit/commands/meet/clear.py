"""Members' workbooks emptied of their Meet addresses once the meet is over."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from rosterkit.commands.common import each_file_once
from rosterkit.commands.meet.given import LeftOut, as_earlier, as_plan
from rosterkit.errors import CannotRunError
from rosterkit.findings import Place
from rosterkit.roster.load import known_sheets, package_at, roster_from
from rosterkit.writeback.meet_addresses import Cleared, cleared
from rosterkit.xlsx.save.save import Prepared, prepared
from rosterkit.xlsx.save.together import put_together


@dataclass(frozen=True, slots=True, kw_only=True)
class ClearedWorkbook:
    """A workbook that was emptied of its Meet addresses."""

    path: Path
    engines: int
    consists: int
    formulas: Sequence[Place]
    """Cells that were left, as a formula of the member's stands there."""
    kept: Path | None
    """The earlier file; None where nothing was written."""


def require_one_task(out: Path | None, folder: Path | None, *, clear: bool) -> None:
    """See that a plan is to go somewhere, or addresses are to be cleared, and not both.

    Raises:
        CannotRunError: if not.
    """
    if clear and (out or folder):
        raise CannotRunError(
            "--clear empties Meet addresses and makes no plan", "Give it without -o and --apply."
        )
    if not (clear or out or folder):
        raise CannotRunError(
            "nothing is said about where the plan goes",
            "Give -o MEET.xlsx for the meet workbook, --apply FOLDER for copies with the plan, or both.",
        )


def clear_meet_addresses(paths: Sequence[Path]) -> list[ClearedWorkbook | LeftOut]:
    """Empty Meet address and Meet kind in workbooks, in place, the earlier files kept beside them.

    Earlier files and plans of rosterkit's own are left out.

    Raises:
        CannotRunError: one cannot be read, edited or written; none is changed then.
    """
    emptied: list[tuple[Prepared, Cleared]] = []
    left_out: list[LeftOut] = []
    for path in each_file_once(paths):
        one = _prepared(path)
        if isinstance(one, LeftOut):
            left_out.append(one)
        else:
            emptied.append(one)
    saved = put_together([made for made, _ in emptied])
    done = [
        ClearedWorkbook(
            path=made.asked, engines=one.engines, consists=one.consists, formulas=one.formulas, kept=file.kept
        )
        for (made, one), file in zip(emptied, saved, strict=True)
    ]
    return [*left_out, *done]


def _prepared(path: Path) -> tuple[Prepared, Cleared] | LeftOut:
    if left := as_earlier(path):
        return left
    package = package_at(path)
    if left := as_plan(package):
        return left
    workbook = known_sheets(package)
    one = cleared(roster_from(workbook), workbook.grids)
    return prepared(package, one.change), one
