"""Damage many workbooks: ``python -m tests.fuzz --cases N --seed S [--fill] [--only NUMBER]``.

It prints counts by kind, and each case that went wrong; its exit status is 1 if there was one.
"""

import argparse
import json
import os
import subprocess
import sys
import tempfile
from collections import Counter
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

from tests.fuzz.cases import Case, tried

_CHUNK = 50
_MEMORY = 1 << 30
_SECONDS = 60


def main() -> None:
    """Run the cases asked for."""
    parser = argparse.ArgumentParser(prog="python -m tests.fuzz", description=__doc__)
    parser.add_argument("--cases", type=int, default=300)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--first", type=int, default=0, help="number of the first case")
    parser.add_argument("--fill", action="store_true", help="fill each workbook, and compare")
    parser.add_argument("--only", type=int, help="one case, whose damaged workbook is kept as case.xlsx")
    parser.add_argument("--chunk", action="store_true", help=argparse.SUPPRESS)
    asked = parser.parse_args()
    if asked.only is not None:
        name, kind, content = Case(asked.seed, asked.only).made()
        Path("case.xlsx").write_bytes(content)
        print(f"case.xlsx is {name}, {kind}")
        with tempfile.TemporaryDirectory() as folder:
            print(tried(content, Path(folder), filled=asked.fill))
    elif asked.chunk:
        _run_chunk(asked.seed, asked.first, asked.cases, filled=asked.fill)
    else:
        results = list(run(asked.seed, asked.first, asked.cases, filled=asked.fill))
        sys.exit(_print(results))


def run(seed: int, first: int, cases: int, *, filled: bool) -> Iterator[dict[str, Any]]:
    """Yield number, kind, outcome and faults of each case; each fifty run in a process of their own."""
    begins = range(first, first + cases, _CHUNK)
    with ThreadPoolExecutor(os.cpu_count()) as pool:
        for results in pool.map(
            lambda begin: _chunk(seed, begin, min(_CHUNK, first + cases - begin), filled=filled), begins
        ):
            yield from results


def _chunk(seed: int, first: int, cases: int, *, filled: bool) -> list[dict[str, Any]]:
    """Run some cases; one that ends or stops its process is a fault, and the rest go on after it."""
    results: list[dict[str, Any]] = []
    while len(results) < cases:
        begin, left = first + len(results), cases - len(results)
        command = [sys.executable, "-m", "tests.fuzz", "--chunk", f"--seed={seed}"]
        command += [f"--first={begin}", f"--cases={left}", *(["--fill"] if filled else [])]
        try:
            done = subprocess.run(
                command, capture_output=True, text=True, timeout=_SECONDS * left, check=False
            )
            said, why = done.stdout, f"its process ended with {done.returncode}: {done.stderr[-300:]}"
        except subprocess.TimeoutExpired as error:
            said, why = (error.stdout or b"").decode(), "it did not end"
        results += [json.loads(line) for line in said.splitlines()]
        if len(results) < cases:
            number = first + len(results)
            kind = Case(seed, number).made()[1]
            results.append({"number": number, "kind": kind, "what": "failed", "faults": [why]})
    return results


def _run_chunk(seed: int, first: int, cases: int, *, filled: bool) -> None:
    """Run cases in this process, with a limit to its memory where the system knows one."""
    try:
        import resource  # noqa: PLC0415 - Windows has none
    except ImportError:
        pass
    else:
        resource.setrlimit(resource.RLIMIT_AS, (_MEMORY, _MEMORY))
    for number in range(first, first + cases):
        name, kind, content = Case(seed, number).made()
        with tempfile.TemporaryDirectory() as folder:
            outcome = tried(content, Path(folder), filled=filled)
        line = {"number": number, "original": name, "kind": kind, "what": outcome.what}
        print(json.dumps(line | {"faults": outcome.faults}), flush=True)


def _print(results: list[dict[str, Any]]) -> int:
    counted = Counter((one["kind"], one["what"]) for one in results)
    whats = sorted({what for _, what in counted})
    print(f"{'':48}" + "".join(f"{what:>9}" for what in whats))
    for kind in sorted({kind for kind, _ in counted}):
        print(f"{kind:48}" + "".join(f"{counted[kind, what]:>9}" for what in whats))
    faulty = [one for one in results if one["faults"]]
    for one in faulty:
        print(
            f"case {one['number']}: {one.get('original')}, {one['kind']}, {one['what']}: {one['faults'][:3]}"
        )
    print(f"{len(results)} cases, {len(faulty)} with a fault")
    return bool(faulty)


if __name__ == "__main__":
    main()
