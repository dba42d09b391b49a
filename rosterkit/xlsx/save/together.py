"""Saves several workbooks together: all of them or, as far as the system lets us, none."""

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager, suppress
from hashlib import sha256
from pathlib import Path

from rosterkit.errors import CannotRunError
from rosterkit.xlsx.save.atomic_replace import explained
from rosterkit.xlsx.save.copying import digest
from rosterkit.xlsx.save.save import Prepared, Saved, put


def put_together(many: Sequence[Prepared], then: Callable[[], object] | None = None) -> list[Saved]:
    """Put prepared workbooks in their places, one after the other; where one fails, take the others back.

    Args:
        many: The workbooks, each for a file of its own.
        then: Done when all of them are in place; where it fails, they are taken back too.

    Raises:
        CannotRunError: one of them cannot be written; all workbooks are what they were. An earlier state that
            an earlier run had kept of one that was taken back may be gone.
    """
    done: list[tuple[Prepared, Saved]] = []
    try:
        for one in many:
            saved = put(one)
            done.append((one, saved))
        if then is not None:
            then()
    except BaseException:
        for one, saved in reversed(done):
            _take_back(one, saved)
        raise
    return [saved for _, saved in done]


def _take_back(one: Prepared, saved: Saved) -> None:
    """Undo what was put in place, unless somebody has written there since."""
    if one.in_place and not saved.changed:
        return
    # Whatever goes wrong here, the first failure is what is told of.
    with suppress(OSError):
        if digest(one.path) != sha256(one.made.data).hexdigest():
            return
        if saved.kept is not None:
            saved.kept.replace(one.path)
        else:
            one.path.unlink()


@contextmanager
def folder_for(folder: Path) -> Iterator[None]:
    """Make a folder if it is missing, with those above it; gone again if the work in it fails.

    Raises:
        CannotRunError: it cannot be made, or a file has its name.
    """
    if folder.exists() and not folder.is_dir():
        raise CannotRunError(f"'{folder}' is a file", "Give the name of a folder.")
    missing = [one for one in (folder, *folder.parents) if not one.exists()]
    with explained(folder):
        folder.mkdir(parents=True, exist_ok=True)
    try:
        yield
    except BaseException:
        for one in missing:
            with suppress(OSError):
                one.rmdir()
        raise
