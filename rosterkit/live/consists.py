"""The formulas of the sheet Consists: CV19 to CV22 of an engine's place in a consist."""

from collections.abc import Mapping, Sequence

from rosterkit.live.machinery import Block, Machinery
from rosterkit.live.places import Places, SheetPlace
from rosterkit.live.rows import block_beside, taken_back, taken_over
from rosterkit.live.settings import chosen
from rosterkit.live.writing import either, is_digits, typed
from rosterkit.roster.schema import sheet
from rosterkit.standards.consists import CONSIST_ADDRESSES, LONG_CONSIST_ADDRESSES, REVERSED_BIT
from rosterkit.standards.function_notation import NAMES, NONE
from rosterkit.standards.functions import CONSIST_HIGH_FUNCTIONS, LOW_FUNCTIONS

TITLE = "Consists"
_BLOCK = "consist CVs"
_DASH = "\u2013"
_OF_ADDRESS = ("CV19", "CV20")
_OF_FUNCTIONS = ("CV21", "CV22")
_NO_BREAK = "\u00a0"


def consist_blocks(places: Places) -> list[Block]:
    """Declare the block; none where the workbook has no consists with addresses."""
    place = places.get(TITLE)
    if place is None or "address" not in place.columns:
        return []
    words = ("plain", "names", "known", *_OF_FUNCTIONS) if "functions" in place.columns else ()
    return [block_beside(place, _BLOCK, "typed", "address", *_OF_ADDRESS, *words)]


def fill_consists(machinery: Machinery, places: Places) -> None:
    """Fill the block, if it was declared: a row of it for each row of Consists."""
    if _BLOCK not in machinery:
        return
    place = places[TITLE]
    _fill_address(machinery, place)
    if "functions" in place.columns:
        _fill_functions(machinery, place)


def consist_formulas(places: Places, machinery: Machinery) -> Mapping[str, str]:
    """Return the templates of the computed columns of Consists by column name.

    They give what ``cv.consist.consist_cvs`` gives, or nothing where a cell is not understood.
    """
    if _BLOCK not in machinery:
        return {}
    place = places[TITLE]
    names = _OF_ADDRESS + (_OF_FUNCTIONS if "functions" in place.columns else ())
    return {name.lower(): taken_back(place, machinery, _BLOCK, name, "address") for name in names}


def _fill_address(machinery: Machinery, place: SheetPlace) -> None:
    """Work out the address where nothing in the row forbids it, and CV19 and CV20 of it.

    RCN-225 (27.07.2025), CV19/20: above 127 the last two decimal digits are in CV19.
    """
    machinery.fill(_BLOCK, "typed", f'IFERROR({typed(taken_over(place, "address"))},"")')
    there = machinery.here(_BLOCK, "typed")
    number = f"VALUE({there})"
    lowest, highest = CONSIST_ADDRESSES[0], LONG_CONSIST_ADDRESSES[-1]
    bad = either([f"{number}<{lowest}", f"{number}>{highest}", *_bad_label(place)])
    usable = f'IF({is_digits(there)},IF({bad},"",{number}),"")'
    machinery.fill(_BLOCK, "address", f'IFERROR({usable},"")')
    address = machinery.here(_BLOCK, "address")
    low = f"IF({address}<={CONSIST_ADDRESSES[-1]},{address},MOD({address},100))"
    facing = "0"
    if "facing" in place.columns:
        facing = chosen(machinery, "facing", taken_over(place, "facing"))
    # A facing that is not understood is an error, and blanks both.
    reversed_bit = f"CHOOSE(1+{facing},0,{REVERSED_BIT},0)"
    machinery.fill(_BLOCK, "CV19", f'IFERROR(IF({address}="","",{low}+{reversed_bit}),"")')
    cv19 = machinery.here(_BLOCK, "CV19")
    only_long = f'IF({address}<={CONSIST_ADDRESSES[-1]},"",INT({address}/100))'
    machinery.fill(_BLOCK, "CV20", f'IFERROR(IF({cv19}="","",{only_long}),"")')


def _bad_label(place: SheetPlace) -> list[str]:
    """Return the conditions under which the engine's label cannot be used; a missing column is no fault."""
    if "loco" not in place.columns:
        return []
    loco = taken_over(place, "loco")
    longest = sheet(TITLE)["loco"].schema["maxLength"]
    return [f'TRIM(SUBSTITUTE({loco}&"","{_NO_BREAK}",""))=""', f"LEN({loco})>{longest}"]


def _fill_functions(machinery: Machinery, place: SheetPlace) -> None:
    """Take the text of Functions apart as ``standards.function_notation`` does, each name between semicolons.

    What is left when all known names are taken out was none of them, and blanks both CVs.
    """
    functions, longest = taken_over(place, "functions"), sheet(TITLE)["functions"].schema["maxLength"]
    plain = _replaced(f"LOWER({typed(functions)})", [(_DASH, "-"), (" -", "-"), ("- ", "-")])
    machinery.fill(_BLOCK, "plain", f'IFERROR(IF(LEN({functions})>{longest},"",{plain}),"")')
    here = machinery.here(_BLOCK, "plain")
    apart = f"TRIM({_replaced(here, [(sign, ' ') for sign in ',;+'])})"
    names = f'";"&{_replaced(apart, [(" ", ";;")])}&";"'
    several = [(f";{name};", "".join(_between(meant))) for name, meant in NAMES.items() if _differs(name)]
    none = f'ISNUMBER(FIND(";"&{here}&";",";{NONE};"))'
    machinery.fill(
        _BLOCK, "names", f'IFERROR(IF({here}="","",IF({none},";;",{_replaced(names, several)})),"")'
    )
    names = machinery.here(_BLOCK, "names")
    left = _replaced(
        names, [(one, "") for one in (*_between((*LOW_FUNCTIONS, *CONSIST_HIGH_FUNCTIONS)), ";;")]
    )
    machinery.fill(_BLOCK, "known", f'IFERROR(IF({names}="",0,IF({left}="",1,0)),0)')
    known, cv19 = machinery.here(_BLOCK, "known"), machinery.here(_BLOCK, "CV19")
    for cv, answering in zip(_OF_FUNCTIONS, (LOW_FUNCTIONS, CONSIST_HIGH_FUNCTIONS), strict=True):
        bits = (
            f"IF(ISNUMBER(FIND({_quoted(one)},{names})),{1 << bit},0)"
            for bit, one in enumerate(_between(answering))
        )
        machinery.fill(_BLOCK, cv, f'IFERROR(IF({cv19}="","",IF({known}=1,{"+".join(bits)},"")),"")')


def _differs(name: str) -> bool:
    """Tell whether a name, folded, is another way to write one or several functions."""
    return [one.casefold() for one in NAMES[name]] != [name]


def _between(functions: Sequence[str]) -> list[str]:
    return [f";{one.lower()};" for one in functions]


def _replaced(text: str, pairs: Sequence[tuple[str, str]]) -> str:
    """Write a text in which some others are replaced, one after the other."""
    for old, new in pairs:
        text = f"SUBSTITUTE({text},{_quoted(old)},{_quoted(new)})"
    return text


def _quoted(text: str) -> str:
    return f'"{text}"'
