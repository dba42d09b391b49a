"""Random clubs and questions for the sheet Live, and what the command free answers to them."""

import random
from collections.abc import Mapping
from pathlib import Path

import openpyxl

from rosterkit.commands.free.command import free
from rosterkit.planning.addresses import Wanted
from rosterkit.xlsx.grid import Workbook
from tests.rosters import workbook

Question = Mapping[str, object]
"""What is typed, by the name of the input."""

_LAYOUTS: tuple[dict[str, object] | None, ...] = (
    None,
    {"Long addresses from": 100},
    {"Short address range": "1-99", "Address rule": "last three digits"},
    {"Long address range": "200-9000", "Address rule": "last two digits"},
    {"Short address range": "50-20", "Address rule": "Last Four Digits"},
)
_USES = (*["engines"] * 3, "meet only", "consists", "devices", "new decoders", "never")
_NEAR = (None, 0, 3, 25, 100, 2107, 2150, 47022, 123456, 9999, 99999, 10240, "0042", "007", " 2101 ")


def random_club(seed: int) -> Workbook:
    """Make a club whose engines crowd around some numbers, with ranges that overlap."""
    rnd = random.Random(seed)  # noqa: S311 - no secrets
    engines = [
        {
            "Loco": f"E{n}",
            "Address": rnd.choice(
                (rnd.randrange(1, 130), rnd.randrange(2000, 2300), rnd.randrange(1, 10240))
            ),
            "Address kind": rnd.choice(("", "", "short", "long", "L")),
            "Meet address": rnd.choice(("", rnd.randrange(1, 400))),
            "Meet kind": rnd.choice(("", "s", "Long")),
        }
        for n in range(rnd.choice((1, 40, 160)))
    ]
    ranges = []
    for _ in range(rnd.choice((0, 2, 5, 9))):
        kind = rnd.choice(("short", "long", "long", "consist", "accessory"))
        first = rnd.choice((rnd.randrange(100, 9000), rnd.randrange(2000, 2200)))
        first = first if kind == "long" else rnd.randrange(1, 120)
        last = first + rnd.choice((0, 5, 20, 90, 900))
        member = rnd.choice(("", "", "M01", "M02", "M 03"))
        ranges.append({"Kind": kind, "From": first, "To": last, "Use": rnd.choice(_USES), "Member": member})
    consists = [
        {
            "Consist": f"C{n}",
            "Address": rnd.choice((rnd.randrange(1, 128), rnd.randrange(128, 3000))),
            "Loco": f"E{n}",
            "Meet address": rnd.choice(("", rnd.randrange(1, 128), rnd.randrange(2000, 2300))),
        }
        for n in range(rnd.choice((0, 3)))
    ]
    return workbook(engines, layout=rnd.choice(_LAYOUTS), ranges=ranges, consists=consists)


def random_question(rnd: random.Random) -> Question:
    """Ask for free addresses."""
    question = {
        "near": rnd.choice((*_NEAR, rnd.randrange(1, 12000))),
        "free_kind": rnd.choice((None, None, "short", "Long", "consist")),
        "member": rnd.choice((None, "M01", "m02", "M 03", "M9")),
    }
    return {name: one for name, one in question.items() if one is not None}


def answer_of_free(path: Path, question: Question) -> list[tuple[str, str]]:
    """Return what the command free offers: addresses, each with its reason."""
    near, kind, member = (question.get(name) for name in ("near", "free_kind", "member"))
    wanted = Wanted(
        near=None if near is None else str(near).strip(),
        kind=None if kind is None else str(kind).lower(),
        member=None if member is None else str(member),
    )
    return [(f"{one.kind} {one.number}", one.because) for one in free([path], wanted, 10).addresses]


def saved(source: Workbook, path: Path) -> Path:
    """Write the sheets of a workbook into a file."""
    book = openpyxl.Workbook()
    book.remove(book.worksheets[0])
    for title, grid in source.grids.items():
        sheet = book.create_sheet(title)
        for row, cells in enumerate(grid.rows, 1):
            for column, cell in enumerate(cells, 1):
                if cell != "":
                    sheet.cell(row, column, cell)
    book.save(path)
    return path
