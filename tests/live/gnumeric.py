"""Gnumeric as a member uses it, as far as its converter goes: values set, all calculated, saved and read."""

import subprocess
from collections.abc import Mapping
from pathlib import Path
from types import MappingProxyType

_NOTHING: Mapping[str, str] = MappingProxyType({})


def saved_by_gnumeric(source: Path, target: Path, typed: Mapping[str, str] = _NOTHING) -> Path:
    """Type into cells, named like Sheet!A1, calculate all, and save as the kind that the name ends with.

    Raises:
        subprocess.CalledProcessError: if Gnumeric does not read or write the file.
        subprocess.TimeoutExpired: if it takes more than two minutes.
    """
    edits = [word for cell, text in typed.items() for word in ("--set", f"{cell}={text}")]
    command = ["ssconvert", "--recalc", *edits, str(source), str(target)]
    subprocess.run(command, check=True, capture_output=True, timeout=120)
    return target
