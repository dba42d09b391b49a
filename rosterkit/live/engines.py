"""The formulas of the sheet Locomotives: the address that a row comes to, and its CVs."""

from collections.abc import Mapping

from rosterkit.cv.configured import SETTINGS
from rosterkit.live.alerts import alert
from rosterkit.live.machinery import Machinery
from rosterkit.live.places import Places, SheetPlace
from rosterkit.live.settings import chosen, setting, sound
from rosterkit.live.writing import cell, is_whole, key, looked_up, whole
from rosterkit.roster.schema import sheet
from rosterkit.standards.addresses import LONG_ADDRESSES, SHORT_ADDRESSES
from rosterkit.standards.configuration import LONG_ADDRESS, RESERVED, SPEED_TABLE, STEPS_28

TITLE = "Locomotives"
NEEDED = ("loco", "address")
"""Without these columns nothing is computed."""


def engine_formulas(places: Places, machinery: Machinery, *, counted: bool = True) -> Mapping[str, str]:
    """Return the templates of the computed columns of Locomotives by column name.

    Args:
        places: Where the sheets stand.
        machinery: The blocks of the sheet Live.
        counted: Alert counts on how many engines an address is, which takes long beyond some thousands.
    """
    place = places[TITLE]
    if not set(NEEDED) <= place.columns.keys():
        return {}
    return {
        "answers": _answers(place, machinery),
        "cv1": _of_short(place),
        "cv17": _of_long(place, "192+INT(-{answers}/256)"),
        "cv18": _of_long(place, "MOD(-{answers},256)"),
        "cv19": _cv19(place, machinery),
        "cv29": _cv29(place, machinery),
        "cv29_read": _cv29_read(place, machinery),
        "alert": alert(places, machinery, counted=counted),
    }


def answered(machinery: Machinery, address: str, kind: str | None) -> str:
    """Return the address that is typed in a cell, of the kind in another: short n is n, long n is -n.

    An empty text where it is none that CVs can hold.
    """
    number = f"VALUE(TRIM({address}))"
    short = f"{number}<{setting(machinery, 'first_long')}"
    if kind is not None:
        short = f"CHOOSE(1+{chosen(machinery, 'address_kind', kind)},TRUE,FALSE,{short})"
    as_short = f'IF({number}<={SHORT_ADDRESSES[-1]},{number},"")'
    as_long = f'IF({number}<={LONG_ADDRESSES[-1]},-{number},"")'
    by_kind = f'IF({number}<1,"",IF({short},{as_short},{as_long}))'
    return f'IFERROR(IF({is_whole(address)},IF({sound(machinery)},{by_kind},""),""),"")'


def _answers(place: SheetPlace, machinery: Machinery) -> str:
    kind = cell(place, "address_kind") if "address_kind" in place.columns else None
    return answered(machinery, cell(place, "address"), kind)


def _of_short(place: SheetPlace) -> str:
    """Return CV1: without CV29 nothing is computed, and CV1 of a long address stays as it is."""
    answers, cv29 = cell(place, "answers"), cell(place, "cv29")
    return f'IFERROR(IF(OR({cv29}="",{answers}=""),"",IF({answers}>0,{answers},"")),"")'


def _of_long(place: SheetPlace, value: str) -> str:
    answers, cv29 = cell(place, "answers"), cell(place, "cv29")
    long = value.replace("{answers}", answers)
    return f'IFERROR(IF(OR({cv29}="",{answers}=""),"",IF({answers}<0,{long},"")),"")'


def _cv19(place: SheetPlace, machinery: Machinery) -> str:
    """Return CV19: that of the engine's row in Consists, 0 without one."""
    cv29 = cell(place, "cv29")
    if "consists" not in machinery:
        return f'IFERROR(IF({cv29}="","",0),"")'
    keys, values = machinery.whole("consists", "loco"), machinery.whole("consists", "CV19")
    of_consist = looked_up(key(cell(place, "loco")), keys, values)
    return f'IFERROR(IF({cv29}="","",IF(TRIM({cell(place, "loco")})="",0,IFERROR({of_consist},0))),"")'


def _cv29_read(place: SheetPlace, machinery: Machinery) -> str:
    """Return what CV29 read last, by the engine's label."""
    keys, values = machinery.whole("readings", "loco"), machinery.whole("readings", "CV29")
    loco = cell(place, "loco")
    read = looked_up(key(loco), keys, values)
    return f'IF(TRIM({loco})="","",IFERROR(IF({sound(machinery)},{read},""),""))'


def _cv29(place: SheetPlace, machinery: Machinery) -> str:
    """Return CV29: the bits that columns state; the others as they were read last, else off.

    Speed steps are the layout's where neither a column nor a reading says.
    """
    answers, read = cell(place, "answers"), cell(place, "cv29_read")
    bits = [f"IF({answers}<0,{LONG_ADDRESS},0)", _bit(read, RESERVED)]
    for name, bit in SETTINGS.items():
        kept = _bit(read, bit)
        if bit == STEPS_28:
            kept = f'IF({read}="",{bit}*{setting(machinery, "steps_28")},{kept})'
        if name in place.columns:
            state = chosen(machinery, name, cell(place, name))
            on = _table_bit(place, machinery, kept) if bit == SPEED_TABLE else str(bit)
            bits.append(f"CHOOSE(1+{state},0,{on},{kept})")
        else:
            bits.append(kept)
    return f'IFERROR(IF({_unusable(place, answers)},"",{"+".join(bits)}),"")'


def _table_bit(place: SheetPlace, machinery: Machinery, kept: str) -> str:
    """Return the bit of a speed table; it is kept where the table that is named cannot be keyed in."""
    if "speed_table" not in place.columns:
        return str(SPEED_TABLE)
    table = cell(place, "speed_table")
    if "speed tables" not in machinery:
        return f'IF(TRIM({table})="",{SPEED_TABLE},{kept})'
    tables, usable = machinery.whole("speed tables", "table"), machinery.whole("speed tables", "usable")
    # One that is not there is no more to be keyed in than one with a fault; of a doubtful one comes an error.
    found = f"IFERROR({looked_up(key(table), tables, usable)},0)"
    return f'IF(TRIM({table})="",{SPEED_TABLE},CHOOSE(1+{found},{kept},{SPEED_TABLE}))'


def _bit(read: str, bit: int) -> str:
    """Return a bit of what was read, with its worth; 0 where nothing was."""
    return f"MOD(N({read}),2)" if bit == 1 else f"{bit}*MOD(INT(N({read})/{bit}),2)"


def _unusable(place: SheetPlace, answers: str) -> str:
    """Tell whether nothing can be computed: without an address, or with a lock that is none."""
    if "lock" not in place.columns:
        return f'{answers}=""'
    lock, column = cell(place, "lock"), sheet(TITLE)["lock"]
    low, high = column.schema["minimum"], column.schema["maximum"]
    # An error where it is no whole number: then nothing is computed either.
    outside = f"ABS({whole(lock)}-{(low + high) / 2:g})>{(high - low) / 2:g}"
    return f'IF({answers}="",TRUE,IF(TRIM({lock})="",FALSE,{outside}))'
