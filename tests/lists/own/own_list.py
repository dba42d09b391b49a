"""A list of our own invention, and the words in which its gold is written."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

Wanted = Any
"""A value, or a list of values of which each will do; None is a blank."""


@dataclass(frozen=True, slots=True)
class OwnList:
    """A list as a file, and what a patient keeper makes of it."""

    file: str
    write: Callable[[Path], None]
    """Writes the file at a path."""
    shape: str
    """What is nasty about it, in a sentence."""
    columns: Mapping[str, Wanted]
    engines: Mapping[str, Mapping[str, Wanted]]
    extras: Sequence[tuple[str, int, int]] = ()
    consists: Sequence[tuple[str, int, str]] = ()
    speed_tables: Sequence[Sequence[int]] = ()
    doubts: Sequence[str] = ()
    """The cells at which a doubt has to stand."""
    either: Sequence[str] = ()
    """Beginnings of the keys of records that may be engines or not."""
    optional: bool = False
    """A careful reader may find no engines at all."""

    def gold(self) -> dict[str, Any]:
        """Return the entry of gold.json."""
        return {
            "file": self.file,
            "columns": dict(self.columns),
            "engines": {key: dict(engine) for key, engine in self.engines.items()},
            "extras": [list(one) for one in self.extras],
            "consists": [list(one) for one in self.consists],
            "speed_tables": [list(one) for one in self.speed_tables],
            "doubts": list(self.doubts),
            "either": list(self.either),
            "optional": self.optional,
            "notes": self.shape,
        }


def columns(sheet: str, **letters: Wanted) -> dict[str, Wanted]:
    """Return what the columns of a sheet are read as, by letter."""
    return {f"{sheet}!{letter}": wanted for letter, wanted in letters.items()}


def engines(
    sheet: str, fields: str, rows: Mapping[Any, Sequence[Wanted]], **same: Wanted
) -> dict[str, dict[str, Wanted]]:
    """Return engines by the key of their record: under ``fields`` the values of each, and what all have.

    Where nothing is said of the label it is the railway and the number, or the number alone.
    """
    names = fields.split()
    found = {}
    for row, values in rows.items():
        engine = {**same, **dict(zip(names, values, strict=True))}
        if "loco" not in engine:
            engine = {"loco": labels(engine.get("railway"), engine["number"]), **engine}
        found[f"{sheet}!{row}"] = engine
    return found


def labels(railway: Wanted, number: Wanted) -> list[str]:
    """Return every label that railway and number may come to."""
    railways = [one for one in (railway if isinstance(railway, list) else [railway]) if one]
    numbers = [one for one in (number if isinstance(number, list) else [number]) if one]
    return [*(f"{line} {one}" for one in numbers for line in railways), *numbers]


def or_blank(*values: Wanted) -> list[Wanted]:
    """Return values of which each will do, and so will a blank."""
    return [*values, None]


def text_file(content: str, encoding: str, *, newline: str = "\r\n") -> Callable[[Path], None]:
    """Return what writes a text file in an encoding."""

    def write(path: Path) -> None:
        path.write_bytes(content.lstrip("\n").replace("\n", newline).encode(encoding))

    return write
