"""Blocks of the sheet Live for accessories: what each row says of its decoder, and what the others say of it.

They do what ``cv.accessory_bits.byte_claims_in`` and ``cv.accessory.accessory_cvs`` do: what a row leaves
open is as the first row of its decoder says. Where that is not clear, because a cell is written in a way that
formulas do not read, the CVs that hang on it stay blank.
"""

from collections.abc import Sequence

from rosterkit.cv.accessory_bits import accessory_readings, says_how_it_answers
from rosterkit.live.machinery import Block, Machinery
from rosterkit.live.places import Places, SheetPlace
from rosterkit.live.rows import block_beside, taken_over
from rosterkit.live.settings import chosen, typed_setting
from rosterkit.live.writing import (
    column_range,
    is_digits,
    is_no_number,
    key,
    label_key,
    looked_up,
    text,
    typed,
)
from rosterkit.roster.model import Roster
from rosterkit.roster.schema import sheet
from rosterkit.standards.accessories import (
    OUTPUTS_OF_A_DECODER,
    PACKET_ADDRESSES,
    USER_NUMBERS,
    packet_address,
)
from rosterkit.standards.configuration import ACCESSORY, ACCESSORY_RESERVED, BIDI, EXTENDED, OUTPUT_ADDRESSING

TITLE = "Accessories"
DEVICES = "devices"
_ALL = "all devices"
_READ = "device readings"
_BLANK, _UNCLEAR = 2, 3
"""What a cell says of its bit, beside 0 and 1."""
_DECODER, _OUTPUT = 0, 1
_UNSURE = "unsure"
_SHARED = {"bidi": BIDI, "extended": EXTENDED}
"""The bits that the rows of a decoder share, by the columns of the block."""
_FURTHER = 1000
"""So many rows below the last one with formulas are searched for devices."""

DeviceReadings = Sequence[tuple[str, int]]
"""Labels of devices as their cells have them, each with what CV29 of the decoder read last, 128 to 254."""


def device_readings_in(roster: Roster) -> DeviceReadings:
    """Return what formulas need to know of readings: those of CV29 that say how a decoder answers."""
    found: dict[str, tuple[str, int]] = {}
    for row in roster.accessories:
        read = accessory_readings(row, roster).get(29) if row.accessory else None
        if read and read.value is not None and says_how_it_answers(read.value):
            stored = row.table.raw["accessory"][row.index]
            label = stored if isinstance(stored, str) else row.accessory or ""
            found.setdefault(label_key(label), (label, read.value))
    return list(found.values())


def accessory_blocks(places: Places, readings: DeviceReadings) -> list[Block]:
    """Declare the blocks; none where the workbook has no accessories with addresses."""
    place = places.get(TITLE)
    if place is None or "address" not in place.columns:
        return []
    keys = [f"{name}: {part}" for name in (*_SHARED, "read") for part in ("key", "of all")]
    said = (
        "typed",
        "there",
        "perhaps a number",
        "number",
        "decoder",
        "aspects",
        "method",
        "bidi",
        "extended",
        "read",
        "group",
    )
    return [
        Block(name=_READ, columns=("accessory", "CV29"), rows=max(1, len(readings))),
        Block(name=_ALL, columns=("offset", "unclear"), rows=1),
        block_beside(place, DEVICES, *said, *keys, "CV1", "CV9", "CV29"),
    ]


def fill_accessories(machinery: Machinery, places: Places, readings: DeviceReadings) -> None:
    """Fill the blocks, if they were declared: a row of devices for each row of Accessories."""
    if DEVICES not in machinery:
        return
    place = places[TITLE]
    machinery.put(_READ, "accessory", [label_key(label) for label, _ in readings] or [None])
    machinery.put(_READ, "CV29", [value for _, value in readings] or [None])
    _fill_all(machinery, place)
    _fill_numbers(machinery, place)
    _fill_said(machinery, place)
    _fill_shared(machinery)
    _fill_cvs(machinery)


def _here(machinery: Machinery, column: str) -> str:
    return machinery.here(DEVICES, column)


def _fill_all(machinery: Machinery, place: SheetPlace) -> None:
    """Work out the offset of the layout, blank where it is not clear, and whether devices are overlooked."""
    offset = chosen(machinery, "layout_offset", typed_setting(machinery, "accessory_offset"))
    machinery.put_one(_ALL, "offset", 0, f'IFERROR(CHOOSE(1+{offset},0,4,0),"")')
    unsure = f"COUNTIF({machinery.whole(DEVICES, 'number')},{text(_UNSURE)})"
    every = column_range(place, "address", titled=True, beyond=_FURTHER)
    further = f'SUMPRODUCT(({every}<>"")*1)-1'
    there = f"SUM({machinery.whole(DEVICES, 'there')})"
    machinery.put_one(_ALL, "unclear", 0, f"IFERROR(IF({unsure}>0,1,IF({further}>{there},1,0)),1)")


def _fill_numbers(machinery: Machinery, place: SheetPlace) -> None:
    """Read the addresses; one that may be a number in another spelling is told from one that is none."""
    content, there = taken_over(place, "address"), _here(machinery, "typed")
    machinery.fill(DEVICES, "typed", f'IFERROR({typed(content)},"")')
    machinery.fill(DEVICES, "there", f'IFERROR(IF({content}="",0,1),1)')
    number, offset = f"VALUE({there})", machinery.one(_ALL, "offset")
    usable = f"AND({number}>={USER_NUMBERS[0]},{number}<={USER_NUMBERS[-1]})"
    machinery.fill(
        DEVICES,
        "number",
        f'IF({is_digits(there)},IF({usable},{number},""),{_here(machinery, "perhaps a number")})',
    )
    fraction = f'IFERROR(IF({number}=INT({number}),{text(_UNSURE)},""),{text(_UNSURE)})'
    none = f'OR({there}="",{is_digits(there)})'
    machinery.fill(DEVICES, "perhaps a number", f'IF({none},"",IF({is_no_number(there)},"",{fraction}))')
    packet = f"MOD({_here(machinery, 'number')}+{packet_address(1) - 1}-{offset},{len(PACKET_ADDRESSES)})"
    known = f"AND(ISNUMBER({_here(machinery, 'number')}),ISNUMBER({offset}))"
    machinery.fill(DEVICES, "decoder", f'IF({known},INT({packet}/{OUTPUTS_OF_A_DECODER}),"")')


def _fill_said(machinery: Machinery, place: SheetPlace) -> None:
    """Work out what a row says by itself; of a row whose method is not clear, nothing is."""
    method, aspects = _here(machinery, "method"), _here(machinery, "aspects")
    _fill_choice(machinery, place, "method", "IFERROR({choice},3)", "method")
    unclear_too = f"IFERROR(IF({method}={_UNCLEAR},CHOOSE(1+{{choice}},3,3,2),{{choice}}),3)"
    _fill_choice(machinery, place, "bidi", unclear_too, "accessory_bidi")
    if "aspects" in place.columns:
        most = sheet(TITLE)["aspects"].schema["maximum"]
        machinery.fill(DEVICES, "aspects", f'IFERROR({typed(taken_over(place, "aspects"))},"?")')
        usable = f"IF({is_digits(aspects)},AND({method}<{_UNCLEAR},VALUE({aspects})<={most}),FALSE)"
        bit = f"IF({usable},IF(VALUE({aspects})>0,1,0),{_UNCLEAR})"
        machinery.fill(DEVICES, "extended", f'IFERROR(IF({aspects}="",{_BLANK},{bit}),{_UNCLEAR})')
    else:
        machinery.fill(DEVICES, "extended", str(_BLANK))
    read = '""'
    if "accessory" in place.columns:
        label = taken_over(place, "accessory")
        keys, values = machinery.whole(_READ, "accessory"), machinery.whole(_READ, "CV29")
        found = looked_up(key(label), keys, values)
        of_label = f"IF({method}={_UNCLEAR},IF({found}>0,{text(_UNSURE)}),{found})"
        read = f'IFERROR(IF({typed(label)}="","",{of_label}),"")'
    machinery.fill(DEVICES, "read", read)


def _fill_choice(machinery: Machinery, place: SheetPlace, column: str, template: str, name: str) -> None:
    """Fill a column with what a choice says; everywhere as if blank where the sheet has no such column."""
    formula = str(_BLANK)
    if column in place.columns:
        formula = template.replace("{choice}", chosen(machinery, name, taken_over(place, column)))
    machinery.fill(DEVICES, column, formula)


def _bit(read: str, bit: int) -> str:
    """Return a bit of a byte, 0 or 1."""
    return f"MOD(INT({read}/{bit}),2)"


def _fill_shared(machinery: Machinery) -> None:
    """Work out what rows of a decoder share: those that hold a decoder's address, by ``group``.

    What a row leaves open is as the first row of its decoder says that says anything; then as it was read.
    """
    decoder, method, read, group = (_here(machinery, one) for one in ("decoder", "method", "read", "group"))
    by_reading = f"{_bit(f'N({read})', OUTPUT_ADDRESSING)}=1"
    by_output = f"OR({method}={_OUTPUT},AND({method}={_BLANK},{by_reading}))"
    machinery.fill(DEVICES, "group", f'IF({by_output},"",{decoder})')
    unclear = f"{machinery.one(_ALL, 'unclear')}=1"
    _fill_key(machinery, "read", f'{read}=""')
    alone = f'IF({group}="",0,IF({unclear},{text(_UNSURE)},IFERROR({_first(machinery, "read")},0)))'
    machinery.fill(DEVICES, "read: of all", f'IF({read}="",{alone},{read})')
    for name, bit in _SHARED.items():
        said = _here(machinery, name)
        _fill_key(machinery, name, f"{said}={_BLANK}")
        as_read = _bit(_here(machinery, "read: of all"), bit)
        others = f"IF({unclear},{_UNCLEAR},IFERROR({_first(machinery, name)},{as_read}))"
        open_bit = f'IF({group}="",{as_read},{others})'
        machinery.fill(
            DEVICES, f"{name}: of all", f"IFERROR(IF({said}={_BLANK},{open_bit},{said}),{_UNCLEAR})"
        )


def _fill_key(machinery: Machinery, name: str, says_nothing: str) -> None:
    """Fill the column in which the first row of a decoder is found that says something."""
    machinery.fill(DEVICES, f"{name}: key", f'IF({says_nothing},"",{_here(machinery, "group")})')


def _first(machinery: Machinery, name: str) -> str:
    """Return what the first row of the decoder says; an error where none does."""
    keys, values = machinery.whole(DEVICES, f"{name}: key"), machinery.whole(DEVICES, name)
    return looked_up(_here(machinery, "group"), keys, values)


def _fill_cvs(machinery: Machinery) -> None:
    """Work out CV29, then CV1 and CV9 of the kind of address that it says."""
    decoder, group, cv29 = (_here(machinery, name) for name in ("decoder", "group", "CV29"))
    unclear = [f"{_here(machinery, f'{name}: of all')}>1" for name in _SHARED]
    bad = f'OR({decoder}="",{_here(machinery, "method")}={_UNCLEAR},{",".join(unclear)})'
    bits = [f"{bit}*{_here(machinery, f'{name}: of all')}" for name, bit in _SHARED.items()]
    read = _here(machinery, "read: of all")
    bits += [f"{1 << n}*{_bit(read, 1 << n)}" for n in range(8) if ACCESSORY_RESERVED >> n & 1]
    output_bit = f'IF({group}="",{OUTPUT_ADDRESSING},0)'
    machinery.fill(DEVICES, "CV29", f'IFERROR(IF({bad},"",{ACCESSORY}+{output_bit}+{"+".join(bits)}),"")')
    output = f"MOD({_here(machinery, 'number')}-{machinery.one(_ALL, 'offset')},{len(PACKET_ADDRESSES)})"
    for cv, by_output, by_decoder in (
        ("CV1", f"MOD({output},256)", f"MOD({decoder},64)"),
        ("CV9", f"INT({output}/256)", f"INT({decoder}/64)"),
    ):
        value = f'IF({group}="",{by_output},{by_decoder})'
        machinery.fill(DEVICES, cv, f'IFERROR(IF({cv29}="","",{value}),"")')
