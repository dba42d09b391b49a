"""The documents of the checkout; derived parts stand between ``<!-- kind -->`` and ``<!-- end -->``."""

import os
import re
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path

from tests.docs.notebook import code_in, part_of, shown_by
from tests.docs.outputs import output_tables
from tests.docs.rooms import layer_list, room_tree, xlsx_list
from tests.docs.tables import check_tables, column_tables, command_table, limit_table

CHECKOUT = Path(__file__).parents[2]
_FOLDERS = ("rosterkit", "sample_workbooks", "schema", "tests")
README = CHECKOUT / "README.md"
DEVELOPERS = CHECKOUT / "DEVELOPERS.md"

MAKERS: Mapping[str, Callable[[], str]] = {
    "checks": check_tables,
    "columns": column_tables,
    "commands": command_table,
    "layers": layer_list,
    "layers of xlsx": xlsx_list,
    "limits": limit_table,
    "outputs": output_tables,
    "rooms": room_tree,
}
"""What makes each kind of derived part; a part ``run: COMMAND`` is what that command prints.

A part ``python`` is a cell of code with what it shows; the cells of a document are one session.
"""

_PART = re.compile(
    r"<!-- (?P<kind>[a-z]+(?: [a-z]+)*)(?:: (?P<command>.*?))? -->\n.*?<!-- end -->", re.DOTALL
)


def documents() -> list[Path]:
    """Return every Markdown file at the top of the checkout and in its own folders."""
    below = [path for folder in _FOLDERS for path in (CHECKOUT / folder).rglob("*.md")]
    return sorted([*CHECKOUT.glob("*.md"), *below])


def derived(text: str, *, runs: bool = True) -> str:
    """Return a document with every derived part as it should be; without ``runs`` the tables and lists only.

    Raises:
        KeyError: if there is no maker for a kind of part.
    """
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        shutil.copytree(CHECKOUT / "sample_workbooks", folder / "sample_workbooks")
        cells = [code_in(part[0]) for part in _PART.finditer(text) if part["kind"] == "python"]
        shown = iter(shown_by(cells, folder, CHECKOUT) if runs and cells else ())
        return _PART.sub(lambda part: _made(part, folder, shown, runs=runs), text)


def _made(part: re.Match[str], folder: Path, shown: Iterator[str], *, runs: bool) -> str:
    command = part["command"]
    if part["kind"] == "python":
        return f"<!-- python -->\n{part_of(code_in(part[0]), next(shown))}\n<!-- end -->" if runs else part[0]
    if command is None:
        return f"<!-- {part['kind']} -->\n{MAKERS[part['kind']]()}\n<!-- end -->"
    if part["kind"] != "run":
        raise KeyError(part["kind"])
    if not runs:
        return part[0]
    return f"<!-- run: {command} -->\n```text\n$ {command}\n{_printed(command, folder)}\n```\n<!-- end -->"


def _printed(command: str, folder: Path) -> str:
    """Run a command line as a member does, and return what the terminal shows."""
    binaries = str(Path(sys.executable).parent)
    environment = os.environ | {
        "PATH": f"{binaries}{os.pathsep}{os.environ['PATH']}",
        "PYTHONPATH": str(CHECKOUT),  # this checkout's rosterkit, whichever one is installed
        "COLUMNS": "80",
    }
    done = subprocess.run(
        ["bash", "-c", command],
        cwd=folder,
        env=environment,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        timeout=120,
        check=False,
    )
    return done.stdout.rstrip()
