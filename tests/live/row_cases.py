"""Rows of Consists and Accessories: the whole domain of what their formulas read, and samples of it."""

from collections.abc import Iterable, Sequence
from itertools import combinations, product
from random import Random
from typing import Any

from rosterkit.roster.schema import sheet
from rosterkit.standards.accessories import USER_NUMBERS
from rosterkit.standards.consists import LONG_CONSIST_ADDRESSES
from rosterkit.standards.function_notation import NAMES
from rosterkit.standards.functions import CONSIST_HIGH_FUNCTIONS, LOW_FUNCTIONS
from tests.live.row_sheets import RowSheets

Row = dict[str, Any]

ADDRESSES = range(1, LONG_CONSIST_ADDRESSES[-1] + 1)
ENDS_OF_ADDRESSES = (1, 2, 99, 100, 127, 128, 199, 200, 999, 1000, 9999, 10000, 10238, 10239)
FACINGS = ("", *sorted(sheet("Consists")["facing"].synonyms))
ALL_FUNCTIONS = (*LOW_FUNCTIONS, *CONSIST_HIGH_FUNCTIONS)
COMBINATIONS = [" ".join(some) for n in range(17) for some in combinations(ALL_FUNCTIONS, n)]
"""All that CV21 and CV22 can say."""
NAMES_BY_TWO = [*NAMES, *(" ".join(two) for two in product(NAMES, repeat=2))]

NUMBERS = USER_NUMBERS
ENDS_OF_NUMBERS = (1, 4, 5, 252, 253, 255, 256, 257, 1020, 1021, 1024, 2039, 2040, 2041, 2044, 2045, 2048)
METHODS = ("", "decoder", "output")
BIDI_STATES, ASPECTS_STATES = ("", "on", "off"), ("", 0, 3)
OFFSETS = (0, 4)
SOME_READINGS = (0, 127, 128, 129, 136, 144, 160, 192, 200, 232, 254, 255, "")


def consist(
    address: object = 10, facing: object = "", functions: object = "", loco: object = "E1"
) -> dict[str, Any]:
    """Make a row of Consists."""
    return {"Consist": "C", "Address": address, "Loco": loco, "Facing": facing, "Functions": functions}


def consists(rows: Sequence[Row]) -> RowSheets:
    """Make a sheet of them."""
    return RowSheets("Consists", rows)


def device(
    address: object = 1, method: object = "", bidi: object = "", aspects: object = "", label: object = "T1"
) -> Row:
    """Make a row of Accessories."""
    return {"Accessory": label, "Address": address, "Aspects": aspects, "Method": method, "BiDi": bidi}


def read(value: object, label: object = "T1", cv: int = 29, date: str = "2026-01-05") -> Row:
    """Make a row of Readings."""
    return {"Date": date, "Loco": label, "CV": cv, "Value": value}


def devices(rows: Sequence[Row], readings: Sequence[Row] = (), offset: object = None) -> RowSheets:
    """Make a sheet of devices, with readings of them and the layout's offset."""
    layout = None if offset is None else {"Accessory offset": offset}
    return RowSheets("Accessories", rows, layout=layout, readings=readings)


def every_number(numbers: Iterable[int], offset: int, bidi: object, aspects: object) -> RowSheets:
    """Make a sheet of numbers with each method; rows of one decoder say the same."""
    every = list(numbers)
    rows = [device(n, method, bidi, aspects, f"{method}{n}") for method in METHODS for n in every]
    return devices(rows, offset=offset)


def every_reading(values: Iterable[object], method: str) -> RowSheets:
    """Make a sheet of readings with every state of BiDi and Aspects, each row of a decoder of its own."""
    rows, readings = [], []
    for n, (value, bidi, aspects) in enumerate(product(values, BIDI_STATES, ASPECTS_STATES)):
        rows.append(device(1 + 4 * n, method, bidi, aspects, f"T{n}"))
        readings.append(read(value, f"T{n}"))
    assert len(rows) <= 511
    return devices(rows, readings)


def shared_decoders(seed: int) -> RowSheets:
    """Make a sheet in which rows of a few decoders say and leave open this and that."""
    random = Random(seed)  # noqa: S311 - rows, no secrets
    labels = [f"T{n}" for n in range(40)]
    numbers = [*range(1, 13), *range(2037, 2049), "3", "none yet", 0]
    rows = [
        device(
            random.choice(numbers),
            random.choice(["", *METHODS]),
            random.choice(["", *BIDI_STATES]),
            random.choice(["", *ASPECTS_STATES]),
            label,
        )
        for label in labels
    ]
    values = [136, 151, 160, 200, 255, 127, ""]
    readings = [
        read(random.choice(values), label, random.choice([29, 541]), f"2026-01-{random.randint(1, 28):02}")
        for label in random.choices(labels, k=20)
    ]
    return devices(rows, readings, random.choice([None, *OFFSETS]))


def below_other_rows() -> list[RowSheets]:
    """Make sheets of which the headings do not stand in the first row."""
    of_consists = [consist(number, "b", "F1") for number in ENDS_OF_ADDRESSES]
    of_devices = [device(number, "", "on" if number % 2 else "", "", f"T{number}") for number in range(1, 20)]
    return [
        RowSheets("Consists", of_consists, heading_row=4),
        RowSheets("Accessories", of_devices, readings=[read(151, "T4")], heading_row=7),
    ]
