"""The command ``merge``: copies that members edited in, one workbook with everybody's changes out."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from rosterkit.commands.merge.inputs import Inputs, read_inputs, require_out, require_paths
from rosterkit.commands.merge.lines import Line
from rosterkit.commands.merge.merging import merged_workbook
from rosterkit.commands.merge.together import ErrorMark, error_marks
from rosterkit.errors import CannotRunError
from rosterkit.findings import Finding
from rosterkit.versions.merged import Merged
from rosterkit.versions.three_way import merged
from rosterkit.xlsx.save.save import save_edited


@dataclass(frozen=True, slots=True, kw_only=True)
class MergeReport:
    """What a merge came to."""

    out: Path
    kept: Path | None
    """The earlier file in its place."""
    base: Path | None
    names: Sequence[tuple[str, str]]
    """Name and file of each copy, and of the master where it moved on."""
    lines: Sequence[Line]
    """All that the sheet Merge says."""
    together: Sequence[Finding]
    changed: bool
    """False where the merged workbook is the master, byte for byte."""


def merge(
    copies: Sequence[Path],
    base: Path | None,
    into: Path | None,
    out: Path | None,
    *,
    force: bool = False,
) -> MergeReport:
    """Merge copies, and write the merged workbook.

    Args:
        copies: the copies that came back.
        base: the workbook as it was sent, or the master as it was then; None where nobody has it.
        into: the master, where it moved on since.
        out: where the merged workbook is made.
        force: a file that is there is replaced, and kept beside it.

    Raises:
        CannotRunError: if one cannot be read or merged, or the result not be written: then nothing is.
    """
    if out is None:
        raise CannotRunError("it is not said where the merged workbook is made", "Give -o OUT.xlsx.")
    require_paths(base, into, copies, out)
    require_out(into or base or copies[0], out, force=force)
    inputs = read_inputs(base, into, copies)
    found = merged(inputs.base, inputs.master, [one.changes for one in inputs.copies])
    missed = [each for one in inputs.copies for each in one.not_merged]
    found = replace(found, not_merged=(*found.not_merged, *missed))
    if not found.changes_nothing:
        doubts = [one.doubt for one in inputs.copies if one.doubt is not None]
        found = replace(found, not_merged=(*found.not_merged, *doubts))
    sides = [(one.name, one.path) for one in inputs.copies]
    if inputs.master is not inputs.base:
        sides.insert(0, (inputs.master.name, inputs.master.package.name))
    known = frozenset[ErrorMark]().union(*(one.errors for one in inputs.copies), *_errors(inputs, found))
    made = merged_workbook(found, inputs.master, [name for name, _ in sides], known, str(out))
    saved = save_edited(inputs.master.package, made.data, out)
    return MergeReport(
        out=out,
        kept=saved.kept,
        base=base,
        names=sides,
        lines=made.lines,
        together=made.together,
        changed=not found.changes_nothing,
    )


def _errors(inputs: Inputs, found: Merged) -> list[frozenset[ErrorMark]]:
    if found.changes_nothing:
        return []
    versions = {id(one): one for one in (inputs.base, inputs.master) if one is not None}
    return [error_marks(one.roster) for one in versions.values()]
