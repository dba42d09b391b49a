"""The block of the sheet Live in which candidates for a free address stand, each with its rank.

Candidates stand below one another: what the digits of the number can be made into, all short addresses, and
the nearest long ones, those in the member's own ranges first.
"""

from rosterkit.live.asked_address import TITLE
from rosterkit.live.free_guesses import GUESSES, guessed, guesses
from rosterkit.live.free_ranges import DOWN, UP, offers_own
from rosterkit.live.free_wanted import CONSIST, wanted
from rosterkit.live.machinery import Block, Machinery
from rosterkit.live.places import Places
from rosterkit.live.ranges import segment
from rosterkit.live.writing import column_range
from rosterkit.standards.addresses import DEFAULT_SHORT_ADDRESS, SHORT_ADDRESSES
from rosterkit.standards.consists import CONSIST_ADDRESSES

NEAREST_LONG = 127
"""Long addresses that are looked at around the number, and as many again in the member's own ranges."""
OWN, REST, NONE = 1 * 10**8, 3 * 10**8, 9 * 10**8
"""Where the ranks begin of those in own ranges, after those of digits; of others; and of what is not free."""
_OWN_LONG = 2 * 10**8
_GRADE, _STEP = 10**7, 100
_SHORTS = GUESSES
"""The place of the first short address; long ones in own ranges, and then all others, follow."""
_OWN_WALK = _SHORTS + len(SHORT_ADDRESSES)
_WALK = _OWN_WALK + NEAREST_LONG
_NAME = "candidates"


def candidate_block() -> Block:
    """Declare the block."""
    columns = ("up", "down", "number", "open", "free", "rank", "why")
    return Block(name=_NAME, columns=columns, rows=_WALK + NEAREST_LONG)


def fill_candidates(machinery: Machinery, places: Places) -> None:
    """Fill the block."""
    _fill_guesses(machinery)
    _fill_shorts(machinery)
    _fill_walk(machinery, own=True)
    _fill_walk(machinery, own=False)
    machinery.fill(_NAME, "free", _free(machinery, places))


def certain_up_to(machinery: Machinery) -> str:
    """Return the rank up to which nothing is missing between the candidates.

    A list of long addresses that is full may go on, so that nothing is certain behind its last one.
    """
    own, other = (machinery.one(_NAME, "number", first + NEAREST_LONG - 1) for first in (_OWN_WALK, _WALK))
    last = _by_distance(machinery, f"-{other}")
    return f"IF({own}<>0,{REST}-1,IF({other}<>0,{REST}+{last},{NONE}-1))"


def _by_distance(machinery: Machinery, number: str) -> str:
    """Rank numbers by distance, the lower of two first; in between there is room for short ones."""
    reference = wanted(machinery, "reference")
    return f"4*ABS({number}-{reference})+IF({number}>{reference},1,0)"


def _free(machinery: Machinery, places: Places) -> str:
    """Tell whether a candidate that may be used is nobody's, at home, at a meet or in a consist."""
    number, is_open = (machinery.here(_NAME, name) for name in ("number", "open"))
    counted = [f"COUNTIF({column_range(places[TITLE], 'answers', titled=True)},{number})"]
    if "meet addresses" in machinery:
        counted.append(f"COUNTIF({machinery.whole('meet addresses', 'answers')},{number})")
    if "consists" in machinery:
        # Consists up to 127 use the numbers of short addresses, others those of long ones.
        names = ("address", "at meets") if "meet_address" in places["Consists"].columns else ("address",)
        consists = "+".join(f"COUNTIF({machinery.whole('consists', name)},ABS({number}))" for name in names)
        counted.append(f"IF(({number}>0)=(ABS({number})<={CONSIST_ADDRESSES[-1]}),{consists},0)")
    return f"IF({is_open}=0,0,IF({'+'.join(counted)}=0,1,0))"


def _fill_guesses(machinery: Machinery) -> None:
    here = machinery.here(_NAME, "number")
    shorts = machinery.part(_NAME, "open", _SHORTS, len(SHORT_ADDRESSES))
    firsts, lasts = machinery.whole("open", "first"), machinery.whole("open", "last")
    last_short = SHORT_ADDRESSES[-1]
    short = f"IF({here}<={last_short},INDEX({shorts},MAX(1,MIN({last_short},{here}))),0)"
    long = f"SUMPRODUCT(({firsts}<=-{here})*({lasts}>=-{here}))"
    machinery.fill_part(_NAME, "open", 0, GUESSES, f"IF({here}=0,0,IF({here}>0,{short},{long}))")
    for at, guess in enumerate(guesses(machinery, here)):
        machinery.fill_part(_NAME, "number", at, 1, guessed(machinery, guess))
        machinery.fill_part(_NAME, "why", at, 1, f'IF({here}=0,"",{guess.because})')
        distance = f"ABS(ABS({here})-{wanted(machinery, 'reference')})"
        rank = f"{guess.grade * _GRADE}+{distance}*{_STEP}+{at}"
        _fill_rank(machinery, at, 1, rank, known=[(0, at)] if at else [])


def _fill_rank(
    machinery: Machinery, first: int, count: int, rank: str, *, known: list[tuple[int, int]]
) -> None:
    """Rank what is free and does not stand among what is known: parts by first place and count."""
    number, free = (machinery.here(_NAME, name) for name in ("number", "free"))
    there = "+".join(f"COUNTIF({machinery.part(_NAME, 'number', *one)},{number})" for one in known)
    once = f"IF({there}>0,{NONE},{rank})" if there else rank
    machinery.fill_part(_NAME, "rank", first, count, f"IF({free}=0,{NONE},{once})")


def _fill_shorts(machinery: Machinery) -> None:
    count, number = len(SHORT_ADDRESSES), machinery.here(_NAME, "number")
    low, high, outside = (wanted(machinery, name) for name in ("short first", "short last", "outside short"))
    own, may = "0", outside
    if "ranges" in machinery:
        row = segment(machinery, number, "range")
        may = f"IF({row}=0,{outside},INDEX({machinery.whole('offers', 'offered')},MAX(1,{row})))"
        own = f"IF({wanted(machinery, 'kind')}={CONSIST},0,{offers_own(machinery, number)})"
    usable = f"AND({number}>={low},{number}<={high},{number}<>{DEFAULT_SHORT_ADDRESS})"
    machinery.fill_part(_NAME, "number", _SHORTS, count, f"{machinery.place()}-{_SHORTS}")
    machinery.fill_part(_NAME, "open", _SHORTS, count, f"IF({usable},{may},0)")
    # A long address goes before a short one that is as near.
    rank = f"{_by_distance(machinery, number)}+IF({own}>0,{OWN},{REST}+2)"
    _fill_rank(machinery, _SHORTS, count, rank, known=[(0, GUESSES)])


def _fill_walk(machinery: Machinery, *, own: bool) -> None:
    """Go outward from the number over all long addresses that may be used, the nearest first."""
    first, reference = _OWN_WALK if own else _WALK, wanted(machinery, "reference")
    up, down, number = (machinery.here(_NAME, name) for name in ("up", "down", "number"))
    before = {name: machinery.before(_NAME, name) for name in ("up", "down", "number")}
    for name, onward, begin in (
        ("up", _upward(machinery, own=own), f"({reference}-1)"),
        ("down", _downward(machinery, own=own), reference),
    ):
        machinery.fill_part(_NAME, name, first, 1, onward.replace(_BEYOND, begin))
        # Only the side that gave the address before goes on.
        taken = f"-{before['number']}={before[name]}"
        rest = f"IF({taken},{onward.replace(_BEYOND, before[name])},{before[name]})"
        machinery.fill_part(_NAME, name, first + 1, NEAREST_LONG - 1, rest)
    nearer = f"IF({reference}-{down}<={up}-{reference},{down},{up})"
    none = f"AND({up}={UP},{down}={DOWN})"
    machinery.fill_part(_NAME, "number", first, NEAREST_LONG, f"IF({none},0,-{nearer})")
    machinery.fill_part(_NAME, "open", first, NEAREST_LONG, f"IF({number}=0,0,1)")
    if own:
        _fill_rank(machinery, first, NEAREST_LONG, f"{_OWN_LONG}+ROW()", known=[(0, GUESSES)])
    else:
        rank = f"{REST}+{_by_distance(machinery, f'-{number}')}"
        _fill_rank(machinery, first, NEAREST_LONG, rank, known=[(0, GUESSES), (_OWN_WALK, NEAREST_LONG)])


_BEYOND = "{beyond}"


def _upward(machinery: Machinery, *, own: bool) -> str:
    """Return the next open address above another."""
    firsts, lasts = _stretches(machinery, own=own)
    inside = f"SUMPRODUCT(({firsts}<={_BEYOND}+1)*({lasts}>={_BEYOND}+1))>0"
    following = f"IFERROR(SMALL({firsts},SUMPRODUCT(({firsts}<={_BEYOND}+1)*1)+1),{UP})"
    return f"IF({_BEYOND}>={UP},{UP},IF({inside},{_BEYOND}+1,{following}))"


def _downward(machinery: Machinery, *, own: bool) -> str:
    """Return the next open address below another."""
    firsts, lasts = _stretches(machinery, own=own)
    inside = f"SUMPRODUCT(({firsts}<={_BEYOND}-1)*({lasts}>={_BEYOND}-1))>0"
    following = f"IFERROR(LARGE({lasts},SUMPRODUCT(({lasts}>={_BEYOND}-1)*1)+1),{DOWN})"
    return f"IF({_BEYOND}<={DOWN},{DOWN},IF({inside},{_BEYOND}-1,{following}))"


def _stretches(machinery: Machinery, *, own: bool) -> tuple[str, str]:
    names = ("own first", "own last") if own else ("first", "last")
    first, last = (machinery.whole("open", name) for name in names)
    return first, last
