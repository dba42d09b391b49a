"""Which rows are so plainly typed that their formulas need not be calculated to know what they give.

Tests hold for all addresses, all spellings of all settings and all readings that formulas give what rosterkit
computes itself. Only a cell that holds something else may make a difference.
"""

import re
from collections.abc import Callable, Mapping, Sequence
from functools import partial

from rosterkit.cv.addresses import first_long
from rosterkit.formulas.values import Content
from rosterkit.roster.model import Roster
from rosterkit.roster.schema import Column, Kind, sheet

_TITLE = "Locomotives"
_LABEL = re.compile(r"[!-)+->@-}]+(?: [!-)+->@-}]+)*(?<!:)")
"""Signs that every program compares alike, none of which stands for others; blanks between words only."""
_READ = (
    *("loco", "owner", "address", "address_kind", "direction", "speed_steps", "dc_operation", "bidi"),
    *("speed_curve", "lock", "decoder", "speed_table"),
)
"""The columns of Locomotives that its formulas read."""
_NEVER_PLAIN = {"speed_table"}
"""What is typed there is judged by twenty-eight more cells."""


def plain_rows(
    typed: Mapping[int, Sequence[Content]], columns: Mapping[str, int], rows: Sequence[int]
) -> set[int]:
    """Return those of some rows of Locomotives in which each cell that formulas read is plainly typed.

    Args:
        typed: What stands in the sheet columns, from row 1.
        columns: The sheet columns by name.
        rows: The sheet rows.
    """
    plain = set(rows)
    for name in _READ:
        if name in columns:
            cells = typed.get(columns[name], ())
            judge = _judge(sheet(_TITLE)[name])
            known = {content: judge(content) for content in {(type(cell), cell) for cell in cells}}
            plain -= {row for row, cell in enumerate(cells, 1) if not known[type(cell), cell]}
    return plain


def settings_of(roster: Roster) -> Mapping[str, Content]:
    """Return what formulas must make of the layout's settings, by the names of ``live.settings``."""
    layout = roster.layout
    return {
        "short_first": layout.shorts.start,
        "short_last": layout.shorts.stop - 1,
        "long_first": layout.longs.start,
        "long_last": layout.longs.stop - 1,
        "first_long": first_long(layout.shorts, layout.long_from),
        "steps_28": int(layout.speed_steps == "28/128"),
        "accessory_offset": int(layout.accessory_offset),
    }


def labels_are_plain(roster: Roster) -> bool:
    """Tell whether every label by which formulas find a consist, a reading or a kind of decoder is plain."""
    labels = [
        *(member.loco for member in roster.consist_members),
        *(member.consist for member in roster.consist_members),
        *(kind.decoder for kind in roster.decoder_types),
        *(one.member for one in roster.ranges),
        *roster.readings_of,
    ]
    return all(_LABEL.fullmatch(label) for label in set(labels) - {None, ""} if label)


def _judge(column: Column) -> Callable[[tuple[type, Content]], bool]:
    if column.name in _NEVER_PLAIN:
        return lambda typed: typed[1] is None
    if column.kind is Kind.WHOLE:
        return partial(_is_number, column)
    return partial(_is_choice if column.kind is Kind.CHOICE else _is_label, column)


def _is_number(column: Column, typed: tuple[type, Content]) -> bool:
    _, content = typed
    if content is None:
        return True
    if isinstance(content, bool) or not isinstance(content, int | float):
        return False
    low, high = column.schema["minimum"], column.schema["maximum"]
    return bool(low <= content <= high) and float(content).is_integer()


def _is_choice(column: Column, typed: tuple[type, Content]) -> bool:
    kind, content = typed
    return content is None or (
        kind is str and str(content).isascii() and str(content).lower() in column.synonyms
    )


def _is_label(column: Column, typed: tuple[type, Content]) -> bool:
    kind, content = typed
    longest = column.schema["maxLength"]
    return content is None or (
        kind is str and len(str(content)) <= longest and bool(_LABEL.fullmatch(str(content)))
    )
