"""The workbooks of a merge: named, refused where they cannot be merged, and read side by side."""

import os
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache, partial
from itertools import count
from pathlib import Path

from rosterkit.commands.common import require_free, require_same_kind
from rosterkit.commands.merge.record import BASE
from rosterkit.commands.merge.sheet import HEADINGS
from rosterkit.commands.merge.together import ErrorMark, error_marks
from rosterkit.errors import CannotRunError
from rosterkit.parallel import map_parallel
from rosterkit.roster.load import package_at
from rosterkit.roster.schema import folded
from rosterkit.versions.changes import Changes, changes, rows_in
from rosterkit.versions.merged import NotMerged
from rosterkit.versions.not_merged import things_not_merged
from rosterkit.versions.stamp import member_of, require_base, unverified
from rosterkit.versions.version import Version, version_of

MASTER = "master"
"""What the side is called that moved on after the base was sent."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CopyRead:
    """What a copy comes to, small enough to be sent from another process."""

    name: str
    path: str
    changes: Changes
    errors: frozenset[ErrorMark]
    """The errors that it has alone."""
    not_merged: tuple[NotMerged, ...]
    doubt: NotMerged | None
    """That nobody can tell of which base it is a copy."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Inputs:
    """The workbooks of a merge, read."""

    base: Version | None
    master: Version
    copies: tuple[CopyRead, ...]


def require_paths(base: Path | None, into: Path | None, copies: Sequence[Path], out: Path) -> None:
    """See that each workbook of a merge has one part in it, and that the result replaces none of them.

    Raises:
        CannotRunError: if one is given twice, or as two things, or there is nothing to merge.
    """
    if not copies or (base is None and into is None and len(copies) < 2):
        raise CannotRunError("there is nothing to merge", "Give the copies that came back.")
    named = [("the base", base), ("the master", into), *(("a copy", path) for path in copies)]
    given = [(word, path) for word, path in named if path is not None]
    first: dict[str, tuple[str, Path]] = {}
    for word, path in given:
        was, _ = first.setdefault(os.path.realpath(path), (word, path))
        if (was, word) == ("a copy", "a copy") and first[os.path.realpath(path)][1] is not path:
            raise CannotRunError(f"'{path}' is given twice", "Give each copy once.")
        if word != was and (was, word) != ("the base", "the master"):
            raise CannotRunError(
                f"'{path}' is given as {was} and as {word}", "Give it once, and the copies that came back."
            )
    taken = first.get(os.path.realpath(out))
    if taken is not None:
        raise CannotRunError(
            f"'{out}' is {taken[0]} of this merge, which is left alone", "Give -o another name."
        )


def require_out(master: Path, out: Path, *, force: bool) -> None:
    """See that the merged workbook can stand at a path.

    Raises:
        CannotRunError: if it has another ending than the master, is a folder, or is there already.
    """
    require_same_kind(master, out)
    require_free(out, force=force)


def read_inputs(base: Path | None, into: Path | None, copies: Sequence[Path]) -> Inputs:
    """Read the workbooks of a merge, the copies side by side.

    The master is edited: where none is given, the base, or without both the first copy.

    Raises:
        CannotRunError: if one cannot be read, or a copy is one of another base.
    """
    sent = _base_at(base) if base is not None else None
    same = into is not None and base is not None and os.path.realpath(base) == os.path.realpath(into)
    moved_on = version_of(package_at(into), MASTER) if into is not None and not same else None
    if sent is not None and moved_on is None and (member := member_of(sent.package)):
        raise CannotRunError(
            f"'{base}' was sent to {member}, the rows of others locked: the merged workbook would be too",
            "Give --into the master.",
        )
    reads = _named(map_parallel(partial(_copy_at, base), copies))
    if moved_on is None and sent is None:
        first = version_of(package_at(copies[0]), reads[0].name)
        return Inputs(base=None, master=first, copies=tuple(reads[1:]))
    master = moved_on or sent
    if master is None:  # it is one of the two
        raise AssertionError
    return Inputs(base=sent, master=master, copies=tuple(reads))


@lru_cache(maxsize=1)
def _base_at(path: Path) -> Version:
    """Read the base, once in each process that reads copies."""
    return version_of(package_at(path), BASE)


def _copy_at(base: Path | None, path: Path) -> CopyRead:
    """Read a copy, which goes by the code of the member whom it was sent to, or by its name."""
    package = package_at(path)
    sent = None if base is None else _base_at(base)
    if sent is not None:
        require_base(sent, package)
    copy = version_of(package, member_of(package) or path.stem)
    missed = things_not_merged(sent, copy, rows_in(sent, copy), copy.name) if sent else []
    return CopyRead(
        name=copy.name,
        path=str(path),
        changes=changes(sent, copy),
        errors=error_marks(copy.roster),
        not_merged=tuple(missed),
        doubt=unverified(package, copy.name) if sent else None,
    )


def _named(copies: Iterable[CopyRead]) -> list[CopyRead]:
    """Return copies under names of their own, in letters of any case."""
    taken = {BASE, MASTER, *map(folded, HEADINGS)}
    named: list[CopyRead] = []
    for one in copies:
        wanted = " ".join(one.name.split())
        names = (wanted if number == 1 else f"{wanted} ({number})" for number in count(1))
        name = next(name for name in names if folded(name) not in taken)
        taken.add(folded(name))
        named.append(
            replace(
                one,
                name=name,
                changes=replace(one.changes, name=name),
                not_merged=tuple(replace(each, source=name) for each in one.not_merged),
                doubt=one.doubt and replace(one.doubt, source=name),
            )
        )
    return named
