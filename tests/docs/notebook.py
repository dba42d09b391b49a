"""Python shown in documents, run cell by cell in one session as in a notebook.

Run as a module it is that session: it takes a JSON list of cells on stdin, and prints one of what each shows.
"""

import ast
import io
import json
import os
import re
import subprocess
import sys
from collections.abc import Sequence
from contextlib import redirect_stdout
from pathlib import Path
from typing import Any

import pandas as pd

_CODE = re.compile(r"```python\n(.*?)\n```", re.DOTALL)
_WIDTH = 100


def code_in(part: str) -> str:
    """Return the code of a part of a document; ValueError if it has none."""
    found = _CODE.search(part)
    if found is None:
        raise ValueError(f"there is no code in {part!r}")
    return found[1]


def shown_by(cells: Sequence[str], folder: Path, checkout: Path) -> list[str]:
    """Run cells in a process of their own, in a folder, and return what each shows.

    Raises:
        subprocess.CalledProcessError: one of them fails.
    """
    done = subprocess.run(
        [sys.executable, "-W", "error", "-m", "tests.docs.notebook"],
        cwd=folder,
        env=os.environ | {"PYTHONPATH": str(checkout)},
        input=json.dumps(cells),
        stdout=subprocess.PIPE,
        text=True,
        timeout=120,
        check=True,
    )
    shown: list[str] = json.loads(done.stdout)
    return shown


def part_of(code: str, shown: str) -> str:
    """Return a cell and what it shows as Markdown."""
    below = f"\n\n```text\n{shown}\n```" if shown else ""
    return f"```python\n{code}\n```{below}"


def main() -> None:
    """Run the cells of stdin, and print what they show."""
    pd.set_option("display.width", _WIDTH, "display.max_columns", 20)
    session: dict[str, Any] = {}
    sys.stdout.write(json.dumps([_run(cell, session) for cell in json.load(sys.stdin)]))


def _run(cell: str, session: dict[str, Any]) -> str:
    """Run a cell; it shows what it prints, and the value of an expression at its end unless that is None."""
    tree = ast.parse(cell)
    last = tree.body.pop() if isinstance(tree.body[-1], ast.Expr) else None
    with redirect_stdout(io.StringIO()) as printed:
        exec(compile(tree, "cell", "exec"), session)  # noqa: S102 - it is our own document
        if isinstance(last, ast.Expr):
            value = eval(compile(ast.Expression(last.value), "cell", "eval"), session)  # noqa: S307
            if value is not None:
                sys.stdout.write(repr(value))
    return "\n".join(line.rstrip() for line in printed.getvalue().splitlines())


if __name__ == "__main__":
    main()
