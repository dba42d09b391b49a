"""How well lists are read: ``python -m tests.lists.score FOLDER [--json] [--brief] [--only FILE]``.

The folder holds lists and gold.json, which says what a patient keeper makes of each. Exit status 1 if
anything is read wrongly or a list not at all; what stays the member's own where it could be ours is missed.
"""

import argparse
import json
import sys
import traceback
from pathlib import Path

from tests.lists.compared import compared
from tests.lists.figures import Score
from tests.lists.gold import Gold, golds
from tests.lists.pipeline import adopted_from

_SHOWN = {
    "columns": ("right", "wrong", "missed", "beyond"),
    "engines": ("found", "missing", "invented"),
    "values": ("right", "wrong", "missed"),
    "extras": ("right", "wrong", "missed"),
    "consists": ("right", "wrong", "missed"),
    "tables": ("right", "missed"),
}


def scored(gold: Gold, folder: Path) -> Score:
    """Return how far one list is read as its gold says; an exception counts as a list unread."""
    try:
        return compared(gold, adopted_from(folder / gold.file))
    except Exception as error:  # noqa: BLE001 - one list that cannot be read must not hide the others
        score = Score(gold.file)
        last = traceback.extract_tb(error.__traceback__)[-1]
        score.note("unread", f"{type(error).__name__}: {error} ({Path(last.filename).name}:{last.lineno})")
        score.counts["columns missed"] = len(gold.columns)
        score.counts["engines missing"] = 0 if gold.optional else len(gold.engines)
        return score


def together(scores: list[Score]) -> Score:
    """Return the sums of several scores."""
    total = Score("all")
    for score in scores:
        for name, number in score.counts.items():
            total.counts[name] += number
    return total


def main() -> int:
    """Print the scores of a folder, and return the exit status."""
    parser = argparse.ArgumentParser(prog="python -m tests.lists.score", description=__doc__)
    parser.add_argument("folder", type=Path)
    parser.add_argument("--json", action="store_true", help="print JSON")
    parser.add_argument("--only", help="one list, by its file name or a part of it")
    parser.add_argument("--brief", action="store_true", help="figures only")
    parser.add_argument(
        "--beyond", action="store_true", help="name readings too of which the gold says nothing"
    )
    asked = parser.parse_args()
    scores = [scored(gold, asked.folder) for gold in golds(asked.folder) if (asked.only or "") in gold.file]
    total = together(scores)
    if asked.json:
        printed = [
            {"file": one.file, "wrong": one.wrong, **one.counts, "faults": one.faults}
            for one in [*scores, total]
        ]
        sys.stdout.write(json.dumps(printed, ensure_ascii=False, indent=1) + "\n")
    else:
        for one in [*scores, total]:
            sys.stdout.write(f"{one.file}: {_figures(one)}\n")
            if not asked.brief:
                faults = [f for f in one.faults if asked.beyond or not f.startswith("columns beyond")]
                sys.stdout.writelines(f"    {fault}\n" for fault in faults)
        columns = total.counts["columns right"]
        all_columns = columns + total.counts["columns wrong"] + total.counts["columns missed"]
        sys.stdout.write(f"columns right: {columns / max(all_columns, 1):.1%}; wrong in all: {total.wrong}\n")
    return 1 if total.wrong else 0


def _figures(score: Score) -> str:
    parts = ["UNREAD"] if score.counts.get("unread") else []
    for what, kinds in _SHOWN.items():
        found = [
            f"{score.counts[f'{what} {kind}']} {kind}" for kind in kinds if f"{what} {kind}" in score.counts
        ]
        parts += [f"{what} {', '.join(found)}"] if found else []
    parts.append(f"doubts {score.counts.get('doubts', 0)}")
    due = score.counts.get("doubts right", 0) + score.counts.get("doubts missed", 0)
    parts += [f"{score.counts.get('doubts right', 0)} of {due} due"] if due else []
    return "; ".join(parts)


if __name__ == "__main__":
    sys.exit(main())
