"""Blocks of the sheet Live that say which ranges give addresses to a member, and which long ones."""

from rosterkit.live.free_wanted import CONSIST, LONG, wanted
from rosterkit.live.machinery import Block, Machinery
from rosterkit.live.places import Places
from rosterkit.live.ranges import SPARE
from rosterkit.live.settings import CHOICES
from rosterkit.live.writing import column_range, key

UP, DOWN = 99999, -99999
"""Beyond all addresses."""


def offer_blocks(ranges: int) -> list[Block]:
    """Declare the blocks for so many rows of ranges, 0 for none."""
    offers = ("member", "engines", "own", "consists", "else", "offered")
    stretches = ("first", "last", "own first", "own last")
    return [
        *([Block(name="offers", columns=offers, rows=ranges)] if ranges else []),
        Block(name="open", columns=stretches, rows=2 * ranges + 1 if ranges else 2),
    ]


def fill_offers(machinery: Machinery, places: Places) -> None:
    """Fill the blocks."""
    if "ranges" not in machinery:
        _fill_open_everywhere(machinery)
        return
    _fill_offers(machinery, places)
    _fill_open(machinery)


def offers_own(machinery: Machinery, number: str) -> str:
    """Count the member's own ranges that an address is in, as Answers has it."""
    begin, behind = machinery.whole("ranges", "begin"), machinery.whole("ranges", "behind")
    return f"SUMPRODUCT(({begin}<={number})*({behind}>{number})*{machinery.whole('offers', 'own')})"


def _fill_offers(machinery: Machinery, places: Places) -> None:
    """Tell of each range to whom it gives addresses: 1 for the member, 0 not; 2 for consists of others."""
    kind, use, begin = (
        f"INDEX({machinery.whole('ranges', name)},{machinery.place()})" for name in ("kind", "use", "begin")
    )
    uses = CHOICES["range_use"][2]
    engines, lent, consists, never = (
        uses.index(one) + 1 for one in ("engines", "meet only", "consists", "never")
    )
    here = {name: machinery.here("offers", name) for name in machinery.names("offers")}
    of, member = here["member"], wanted(machinery, "member")
    usable, mine = f"{begin}<{UP}", f'OR({of}="k",{of}={member})'
    to_engines = f"OR({use}={engines},{use}={lent})"
    no_consist, no_long = f"{kind}<>{CONSIST}", f"{kind}<>{LONG}"
    kept = f"OR({use}={consists},AND({kind}={CONSIST},{use}<>{never}))"
    machinery.fill("offers", "member", _whose(machinery, places))
    machinery.fill("offers", "engines", _flag(usable, no_consist, f"{use}={engines}", mine))
    machinery.fill("offers", "own", _flag(usable, no_consist, to_engines, f'{of}<>"k"', f"{of}={member}"))
    machinery.fill("offers", "consists", f"IF(AND({usable},{no_long},{kept}),IF({mine},1,2),0)")
    machinery.fill("offers", "else", _flag(usable, no_long, to_engines, mine))
    for_one = f"IF({wanted(machinery, 'for consists')}>0,IF({here['consists']}=1,1,0),{here['else']})"
    offered = f"IF({wanted(machinery, 'kind')}={CONSIST},{for_one},{here['engines']})"
    machinery.fill("offers", "offered", offered)


def _flag(*conditions: str) -> str:
    return f"IF(AND({','.join(conditions)}),1,0)"


def _whose(machinery: Machinery, places: Places) -> str:
    place = places["Address ranges"]
    if "member" not in place.columns:
        return '"k"'
    area = column_range(place, "member", titled=True, beyond=SPARE)
    return key(f"INDEX({area},{machinery.place()}+1)")


def _fill_open_everywhere(machinery: Machinery) -> None:
    """Open all long addresses that the layout calls, in the first row; the second is there for the range."""
    low, high = wanted(machinery, "long first"), wanted(machinery, "long last")
    none = f"OR({machinery.place()}>1,{low}>{high})"
    machinery.fill("open", "first", f"IF({none},{UP},{low})")
    machinery.fill("open", "last", f"IF({none},{DOWN},{high})")
    machinery.fill("open", "own first", str(UP))
    machinery.fill("open", "own last", str(DOWN))


def _fill_open(machinery: Machinery) -> None:
    """Turn the segments into stretches of long addresses that the member may use."""
    low, high = wanted(machinery, "long first"), wanted(machinery, "long last")
    first, last, own_first = (machinery.here("open", name) for name in ("first", "last", "own first"))
    begins, place = machinery.whole("segments", "begin"), machinery.place()
    begin, row = (f"INDEX({machinery.whole('segments', name)},{place})" for name in ("begin", "range"))
    rows = machinery.rows("open")
    following = f"IF({place}={rows},{UP},INDEX({begins},MIN({rows},{place}+1)))"
    of_range = f"INDEX({machinery.whole('offers', 'offered')},MAX(1,{row}))"
    may = f"IF({row}=0,{wanted(machinery, 'outside long')},{of_range})"
    # Long addresses are less than 0 in segments, so that the end of one is the first address here.
    lowest, highest = f"MAX(1-{following},{low})", f"MIN(-{begin},{high})"
    is_open = f"IF({may}=1,{lowest}<={highest},FALSE)"
    machinery.fill("open", "first", f"IF({is_open},{lowest},{UP})")
    machinery.fill("open", "last", f"IF({first}={UP},{DOWN},{highest})")
    own = f"IF({offers_own(machinery, begin)}>0,{first},{UP})"
    machinery.fill("open", "own first", f"IF({first}={UP},{UP},{own})")
    machinery.fill("open", "own last", f"IF({own_first}={UP},{DOWN},{last})")
