"""Write the README's derived parts: tables of columns and checks, and what the commands print."""

import ast
import os
import re
import shutil
import subprocess
import sys
import tempfile
from itertools import pairwise
from pathlib import Path

from rosterkit.checks import CHECKS
from rosterkit.commands.rules import check_table, column_tables
from rosterkit.roster.schema import all_sheets
from rosterkit.xlsx.package import limits

CHECKOUT = Path(__file__).parents[2]
README = CHECKOUT / "README.md"
_PART = re.compile(r"<!-- (columns|checks|limits|run: (?P<command>.*?)) -->\n.*?<!-- end -->", re.DOTALL)


def derived(text: str) -> str:
    """Return the README with every derived part as it should be."""
    with tempfile.TemporaryDirectory() as folder:
        shutil.copytree(CHECKOUT / "sample_workbooks", Path(folder) / "sample_workbooks")
        return _PART.sub(lambda part: _made(part, Path(folder)), text)


def _made(part: re.Match[str], folder: Path) -> str:
    kind = part[1]
    if kind == "columns":
        body = column_tables(all_sheets())
    elif kind == "checks":
        body = check_table(CHECKS)
    elif kind == "limits":
        body = _limits()
    else:
        body = f"```text\n$ {part['command']}\n{_printed(part['command'], folder)}\n```"
    return f"<!-- {kind} -->\n{body}\n<!-- end -->"


def _limits() -> str:
    """Return the limits of reading as a Markdown table: each constant's value, and the text below it."""
    lines = ast.parse(Path(str(limits.__file__)).read_text(encoding="utf-8")).body
    rows = []
    for line, text in pairwise(lines):
        if isinstance(line, ast.Assign) and isinstance(text, ast.Expr):
            name, meaning = ast.unparse(line.targets[0]), " ".join(ast.literal_eval(text.value).split())
            value = getattr(limits, name)
            shown = f"{value // limits.MIB} MiB" if name.endswith("_BYTES") else f"{value:,}"
            rows.append(f"| {meaning.rstrip('.')} | {shown} |")
    return "\n".join(["| what | at most |", "|---|---|", *rows])


def _printed(command: str, folder: Path) -> str:
    """Run a command line as a member does, and give what the terminal shows."""
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


def main() -> None:
    """Write the README anew."""
    README.write_text(derived(README.read_text(encoding="utf-8")), encoding="utf-8")


if __name__ == "__main__":
    main()
