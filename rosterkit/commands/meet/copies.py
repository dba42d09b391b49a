"""Members' workbooks as copies with the Meet addresses of a plan in them."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path

from rosterkit.commands.meet.meet import Meet
from rosterkit.cv.addresses import Address
from rosterkit.errors import CannotRunError
from rosterkit.roster.load import known_sheets, package_at, roster_from
from rosterkit.roster.schema import folded
from rosterkit.writeback.meet_addresses import entered
from rosterkit.xlsx.changes import WorkbookChange
from rosterkit.xlsx.package.opening import Package
from rosterkit.xlsx.save.atomic_replace import changed_since
from rosterkit.xlsx.save.save import prepared
from rosterkit.xlsx.save.together import put_together


@dataclass(frozen=True, slots=True, kw_only=True)
class _NewAddresses:
    """What moves in one workbook."""

    engines: dict[int, Address]
    """By sheet row."""
    consists: dict[str, int]
    """By folded label."""


def make_copies(
    meet: Meet,
    folder: Path,
    *,
    out: Path | None = None,
    force: bool = False,
    then: Callable[[], object] | None = None,
) -> dict[Path, int]:
    """Write a copy of each workbook of a meet into a folder, its Meet addresses entered.

    All are edited in memory first, then put in place, and taken back if one of them, or what is done
    ``then``, fails. A file that is replaced is kept as its earlier state. ``out`` is a file that is no copy.

    Returns:
        How many engines and consists got an address, by the path of the copy.

    Raises:
        CannotRunError: one cannot be read, edited or written, or was changed since it was planned; none is
            written then.
    """
    targets = _targets([Path(name) for name, _ in meet.workbooks], folder, force=force)
    if out is not None and any(_followed(out) == _followed(target) for target in targets.values()):
        raise CannotRunError(f"'{out}' is where the copy of a workbook goes", "Give -o another name.")
    new = _by_workbook(meet)
    copies, counts = [], {}
    for path, target in targets.items():
        package = package_at(path)
        if sha256(package.raw).hexdigest() != meet.digests[str(path)]:
            raise changed_since(package.name)
        copies.append(prepared(package, _change(package, new[str(path)]), target))
        counts[target] = len(new[str(path)].engines) + len(new[str(path)].consists)
    put_together(copies, then)
    return counts


def _followed(path: Path) -> Path:
    return path.parent.resolve() / path.name.casefold()


def _targets(paths: Sequence[Path], folder: Path, *, force: bool) -> dict[Path, Path]:
    """Return where each copy goes; CannotRunError if that is the place of another file."""
    names: dict[str, Path] = {}
    for path in paths:
        other = names.setdefault(path.name.casefold(), path)
        if other is not path:
            raise CannotRunError(
                f"'{other}' and '{path}' would be copied to one file of the same name", "Rename one of them."
            )
    targets = {path: folder / path.name for path in paths}
    for target in targets.values():
        if target.exists() and any(target.samefile(path) for path in paths):
            raise CannotRunError(f"'{target}' is one of the members' workbooks", "Give another folder.")
    there = [target for target in targets.values() if target.exists()]
    if there and not force:
        more = f", and {len(there) - 1} more" if len(there) > 1 else ""
        raise CannotRunError(
            f"'{there[0]}' is there already{more}", "Give another folder, or --force to replace it."
        )
    return targets


def _by_workbook(meet: Meet) -> Mapping[str, _NewAddresses]:
    found = {name: _NewAddresses(engines={}, consists={}) for name, _ in meet.workbooks}
    attendees = meet.attendance.attendees
    for key, address in meet.new_addresses.items():
        engine = attendees[key].engine
        rows = found[attendees[key].roster.book.name].engines
        rows[engine.table.rows[engine.index]] = address
    for key, address in meet.new_consists.items():
        one = attendees[key]
        member = one.roster.consist_of[folded(one.engine.loco or "")]
        found[one.roster.book.name].consists[folded(member.consist or "")] = address.number
    return found


def _change(package: Package, new: _NewAddresses) -> WorkbookChange:
    if not new.engines and not new.consists:
        return WorkbookChange()
    workbook = known_sheets(package)
    return entered(roster_from(workbook), workbook.grids, new.engines, new.consists)
