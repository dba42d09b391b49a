"""One damaged workbook at a time: what is made of it, and whether that is as it should be."""

import random
import time
import unicodedata
import warnings
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from rosterkit.commands.check import check
from rosterkit.commands.fill import fill
from rosterkit.errors import CannotRunError
from rosterkit.xlsx.package.opening import opened
from rosterkit.xlsx.read.workbook import _Reading, read_workbook
from tests.fuzz.archive_mutations import ARCHIVE, Mutation
from tests.fuzz.comparer import losses
from tests.fuzz.markup_mutations import MARKUP
from tests.fuzz.originals import ORIGINALS, original

KINDS: dict[str, Mutation] = {**ARCHIVE, **MARKUP}
SLOW = 10.0
"""Seconds that no workbook of this size may take."""


@dataclass(frozen=True)
class Case:
    """A damaged workbook, always the same for the same numbers."""

    seed: int
    number: int

    def made(self) -> tuple[str, str, bytes]:
        """Return the name of the original, the kind of damage, and the damaged workbook."""
        chance = random.Random(f"{self.seed}:{self.number}")  # noqa: S311 - it has to repeat itself
        name = chance.choice(list(ORIGINALS))
        # What is in the XML has more to go wrong in than what is around it.
        kind = chance.choice(list(MARKUP if chance.random() < 0.75 else ARCHIVE))
        return name, kind, KINDS[kind](chance, original(name))


@dataclass(frozen=True)
class Outcome:
    """What became of a case, and what is wrong with that.

    It was ``refused``, ``read`` or ``filled``, or ``held back``: the edit was made, and its proof refused it.
    """

    what: str
    faults: tuple[str, ...] = ()


def tried(content: bytes, folder: Path, *, filled: bool) -> Outcome:
    """Check a workbook, or fill it into another, in an empty folder."""
    path = folder / "club.xlsx"
    path.write_bytes(content)
    begin = time.monotonic()
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("error")
            outcome = _filled(path, folder) if filled else _checked(path)
    except Exception as error:  # noqa: BLE001 - whatever it is, it is a fault
        outcome = Outcome("failed", (f"{type(error).__name__}: {error}"[:300],))
    took = time.monotonic() - begin
    faults = [*outcome.faults, *([f"took {took:.0f} s"] if took > SLOW else [])]
    if path.read_bytes() != content:
        faults.append("the workbook itself was changed")
    return Outcome(outcome.what, tuple(faults))


def _refusal(error: CannotRunError) -> Iterator[str]:
    """Look whether a refusal is one sentence and one fix that a person can read."""
    for text in (error.message, error.fix):
        if not text or len(text) > 600:
            yield f"a sentence of {len(text)} signs"
        if any(unicodedata.category(sign) in {"Cc", "Cf", "Zl", "Zp"} for sign in text):
            yield f"signs that do not print: {text[:200]!r}"


def _checked(path: Path) -> Outcome:
    try:
        report = check([path])
    except CannotRunError as error:
        return Outcome("refused", tuple(_refusal(error)))
    faults = [f"a finding without words: {one}" for one in report.findings if not one.message or not one.fix]
    return Outcome("read", (*faults, *_readers_disagree(path)))


def _readers_disagree(path: Path) -> Iterator[str]:
    """Compare what is read the fast way with what is read cell by cell."""
    package = opened(path)
    try:
        workbook = read_workbook(package, lambda _: True)
    except CannotRunError:
        return  # a sheet that is no roster's
    reading = _Reading(package)
    for sheet in package.sheets:
        if sheet.kind == "worksheet":
            try:
                slowly = reading._walked(sheet, None)
            except CannotRunError:
                continue  # the careful reader also refuses what changes no cell, such as a doubled attribute
            if repr(slowly.rows) != repr(workbook.grids[sheet.title].rows):
                yield f"{sheet.title} is read in two ways"


def _filled(path: Path, folder: Path) -> Outcome:
    out = folder / "filled.xlsx"
    try:
        fill(path, out)
    except CannotRunError as error:
        left = sorted(one.name for one in folder.iterdir() if one != path)
        what = "held back" if "a second look" in error.message else "refused"
        return Outcome(what, (*_refusal(error), *(f"left behind: {name}" for name in left)))
    faults = losses(path, out)
    try:
        again = check([out])
    except CannotRunError as error:
        return Outcome("filled", (*faults, f"cannot be read again: {error}"))
    faults += [f"{f.place}: {f.message}" for f in again.findings if f.rule == "computed-stale"]
    return Outcome("filled", tuple(faults))
