"""The block of the sheet Live with what a free address is wanted for, and what the layout allows then."""

from rosterkit.cv.number_to_address import RULES
from rosterkit.live.inputs import INPUTS
from rosterkit.live.machinery import Block, LiveCell, Machinery
from rosterkit.live.settings import chosen, layout_setting, setting
from rosterkit.live.writing import choice, is_digits, key, quoted, spellings
from rosterkit.roster.schema import sheet
from rosterkit.standards.addresses import KIND_DIFFERS, LONG_ADDRESSES, USUAL_LONG_ADDRESSES
from rosterkit.standards.consists import CONSIST_ADDRESSES

ANY, SHORT, LONG, CONSIST, OTHER = range(5)
"""What kind is wanted; between the first and the last, kinds of ranges have the same numbers."""
_CELLS = (
    "digits",
    "usable",
    "reference",
    "kind",
    "member",
    "rules",
    "rule",
    "short first",
    "short last",
    "long first",
    "long last",
    "outside short",
    "outside long",
    "for consists",
    "limit",
)
_LONGEST = 6
"""Digits of a number at most."""


def wanted_block() -> Block:
    """Declare the block."""
    return Block(name="wanted", columns=("value",), rows=len(_CELLS))


def wanted(machinery: Machinery, name: str) -> str:
    """Refer to a cell of the block.

    Digits and kind as they are typed; the reference that distances are measured from; the member's key; which
    rule the layout has; the first and last address of each kind that may be offered; 1 if addresses that no
    range holds may be; how many ranges are kept for the member's consists; the last rank that is certain.
    """
    return machinery.one("wanted", "value", _CELLS.index(name))


def wanted_input(machinery: Machinery, name: str) -> str:
    """Refer to an input."""
    return f"{quoted(machinery.title)}{INPUTS[name].reference}"


def fill_wanted(machinery: Machinery, limit: str) -> None:
    """Fill the block; the last rank that is certain comes from whoever ranks."""
    kind = wanted(machinery, "kind")
    formulas = {
        **_typed(machinery),
        **_bounds(machinery, kind),
        **_outside_ranges(machinery, kind),
        "limit": limit,
    }
    cells = [LiveCell(formula=formulas.get(name)) for name in _CELLS]
    listed = spellings(sheet("Layout")["address_rule"], (*RULES, None))
    cells[_CELLS.index("rules")] = LiveCell(value=listed)
    machinery.put("wanted", "value", cells)


def _typed(machinery: Machinery) -> dict[str, str]:
    digits, usable = wanted(machinery, "digits"), wanted(machinery, "usable")
    number = f"VALUE({digits})"
    is_number = f"AND(LEN({digits})<={_LONGEST},{is_digits(digits)})"
    is_address = f"AND({number}>={LONG_ADDRESSES[0]},{number}<={LONG_ADDRESSES[-1]})"
    reference = f"IF({is_address},{number},VALUE(RIGHT({digits},4)))"
    typed = chosen(machinery, "range_kind", wanted_input(machinery, "free_kind"))
    in_order = ",".join(map(str, (SHORT, LONG, CONSIST, OTHER, ANY)))
    rule = choice(layout_setting(machinery, "address_rule"), wanted(machinery, "rules"))
    return {
        "digits": f"TRIM({wanted_input(machinery, 'near')})",
        "usable": f'IF({digits}="",1,IF({is_number},1,0))',
        "reference": f'IF(OR({digits}="",{usable}=0),0,{reference})',
        "kind": f"IFERROR(CHOOSE(1+{typed},{in_order}),{OTHER})",
        "member": key(wanted_input(machinery, "member")),
        "rule": f"IFERROR({rule},{len(RULES)})",
    }


def _bounds(machinery: Machinery, kind: str) -> dict[str, str]:
    """Return the ends of what may be offered: what the layout calls, and systems do not differ on."""
    unclear = KIND_DIFFERS.start
    by_number = f"IF({kind}={ANY},{setting(machinery, 'first_long')}-1,{unclear - 1})"
    short_last = f"MIN({unclear - 1},{setting(machinery, 'short_last')},{by_number})"
    no_short, no_long = f"OR({kind}={LONG},{kind}={OTHER})", f"OR({kind}={SHORT},{kind}>={CONSIST})"
    long_last = f"MIN({USUAL_LONG_ADDRESSES[-1]},{setting(machinery, 'long_last')})"
    return {
        "short first": f"IF({kind}={CONSIST},{CONSIST_ADDRESSES[0]},{setting(machinery, 'short_first')})",
        "short last": f"IF({no_short},0,IF({kind}={CONSIST},{CONSIST_ADDRESSES[-1]},{short_last}))",
        "long first": f"MAX({USUAL_LONG_ADDRESSES[0]},{setting(machinery, 'long_first')})",
        "long last": f"IF({no_long},0,{long_last})",
    }


def _outside_ranges(machinery: Machinery, kind: str) -> dict[str, str]:
    """Tell of each kind whether addresses that no range holds may be used; and if ranges for consists may."""
    if "ranges" not in machinery:
        return {"outside short": "1", "outside long": "1", "for consists": "0"}
    kinds = machinery.whole("ranges", "kind")
    engines, consists = (machinery.whole("offers", name) for name in ("engines", "consists"))
    any_kept = f"SUMPRODUCT(({consists}>0)*1)"
    short, long = (f"IF(SUMPRODUCT(({kinds}={one})*{engines})=0,1,0)" for one in (SHORT, LONG))
    return {
        "outside short": f"IF({kind}={CONSIST},IF({any_kept}=0,1,0),{short})",
        "outside long": long,
        "for consists": f"SUMPRODUCT(({consists}=1)*1)",
    }
