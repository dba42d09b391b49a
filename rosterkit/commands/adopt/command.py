"""The command adopt: a list read, what was said of it taken in, and a workbook made of it."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from rosterkit.commands.adopt.corrections import Read, Said, read_with
from rosterkit.commands.adopt.long_texts import fitted
from rosterkit.commands.adopt.no_engines import no_engines
from rosterkit.commands.adopt.reading_file import reading_at
from rosterkit.commands.adopt.workbook import workbook_of
from rosterkit.commands.common import require_room
from rosterkit.errors import CannotRunError
from rosterkit.lists.adopted import Adopted
from rosterkit.lists.files.opening import read_list
from rosterkit.lists.plain import PlainList
from rosterkit.lists.settle.settle import settled
from rosterkit.xlsx.save.save import save_new


@dataclass(frozen=True, slots=True, kw_only=True)
class AdoptReport:
    """What a list came to."""

    path: Path
    plain: PlainList
    read: Read
    adopted: Adopted
    out: Path | None = None
    """The workbook that was made, if one was to be."""
    kept: Path | None = None
    """The earlier file, where one was replaced."""

    @property
    def has_doubts(self) -> bool:
        """Whether somebody has to look at something."""
        return bool(self.adopted.doubts)


def adopt(
    path: Path,
    out: Path | None = None,
    *,
    reading: Path | None = None,
    as_words: Sequence[str] = (),
    heading_rows: Sequence[str] = (),
    force: bool = False,
) -> AdoptReport:
    """Read a list, and make a workbook of it if one is wanted; the list itself is never written.

    Args:
        path: The list.
        out: The new workbook; None to make none.
        reading: A workbook that came of the list, whose sheet Reading says what its columns are.
        as_words: What columns are, such as Fleet!C=Address; they go before ``reading``.
        heading_rows: Where the headings of sheets stand, such as Fleet!6.
        force: A file that is there is replaced, and kept beside.

    Raises:
        CannotRunError: if the list cannot be read, has no row of any sheet of ours, what was said does not
            fit it, or the workbook cannot be written; nothing is written then.
    """
    if out is not None:
        require_room(out, force=force)
        _require_other(path, out)
    said = Said(as_words, heading_rows, reading_at(reading) if reading else None)
    fits = fitted(read_list(path))
    plain = fits.read
    read = read_with(plain, said)
    adopted = settled(read.layout, read.readings, plain)
    adopted = replace(adopted, doubts=(*fits.doubts, *read.doubts, *adopted.doubts))
    if not any(adopted.rows.values()):
        raise no_engines(plain, read.readings)
    kept = None
    if out is not None:
        kept = save_new(out, workbook_of(fits.copied, read, adopted, str(out)), keep=True)
    return AdoptReport(path=path, plain=plain, read=read, adopted=adopted, out=out, kept=kept)


def _require_other(path: Path, out: Path) -> None:
    if out.exists() and path.exists() and out.samefile(path):
        raise CannotRunError(f"'{out}' is the list itself, which is never written", "Give another name.")
