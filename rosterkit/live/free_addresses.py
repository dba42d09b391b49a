"""The free addresses near a number on the sheet Live, with the order and the reasons of the command ``free``.

Nothing is offered that could come after an address which the candidates do not reach.
"""

from rosterkit.cv.address_sentences import IN_RULING, LOWEST, NEAREST, NEXT, OWN_RANGE
from rosterkit.live.asked_address import has_answers
from rosterkit.live.free_candidates import NONE, OWN, REST, candidate_block, certain_up_to, fill_candidates
from rosterkit.live.free_ranges import fill_offers, offer_blocks
from rosterkit.live.free_wanted import CONSIST, OTHER, fill_wanted, wanted, wanted_block, wanted_input
from rosterkit.live.machinery import Block, Machinery
from rosterkit.live.places import Places
from rosterkit.live.ranges import segment
from rosterkit.live.writing import sentence, text

OFFERED = 10
"""Addresses that are offered at most."""
_NO_NUMBER = "here a whole number of at most six digits; 'rosterkit free --near' takes others"
_NO_KIND = "kinds here are short, long and consist; 'rosterkit free' has accessories as well"
_FURTHER = "others are too far away to be found here; 'rosterkit free' lists them"


def free_blocks(places: Places, ranges: int) -> list[Block]:
    """Declare the blocks for a workbook with so many rows of ranges, spare ones included, 0 for none.

    There are none where the workbook does not say what engines answer.
    """
    if not has_answers(places):
        return []
    found = Block(name="found", columns=("rank", "number", "ruling"), rows=OFFERED)
    return [wanted_block(), *offer_blocks(ranges), candidate_block(), found]


def fill_free(machinery: Machinery, places: Places) -> None:
    """Fill the blocks, if they were declared."""
    if "candidates" not in machinery:
        return
    fill_wanted(machinery, certain_up_to(machinery))
    fill_offers(machinery, places)
    fill_candidates(machinery, places)
    ranks, numbers = (machinery.whole("candidates", name) for name in ("rank", "number"))
    rank, number = (machinery.here("found", name) for name in ("rank", "number"))
    unusable = f"OR({wanted(machinery, 'usable')}=0,{wanted(machinery, 'kind')}={OTHER})"
    nothing = f"OR({unusable},{rank}>{wanted(machinery, 'limit')})"
    machinery.fill("found", "rank", f"SMALL({ranks},{machinery.place()})")
    machinery.fill("found", "number", f'IF({nothing},"",INDEX({numbers},MATCH({rank},{ranks},0)))')
    ruling = segment(machinery, number, "range") if "segments" in machinery else "0"
    machinery.fill("found", "ruling", f'IF({number}="",0,{ruling})')


def offered(machinery: Machinery, place: int) -> str:
    """Return the free address at a place from 1, in words; an empty text where there are fewer."""
    number = machinery.one("found", "number", place - 1)
    kind = f'IF({wanted(machinery, "kind")}={CONSIST},"consist ",IF({number}>0,"short ","long "))'
    return f'IF({number}="","",{kind}&ABS({number}))'


def why_offered(machinery: Machinery, place: int) -> str:
    """Say why the address stands at this place of the list."""
    number, rank = (machinery.one("found", name, place - 1) for name in ("number", "rank"))
    at = f"MATCH({rank},{machinery.whole('candidates', 'rank')},0)"
    of_digits = f"INDEX({machinery.whole('candidates', 'why')},{at})"
    own, behind = _in_range(machinery, place)
    before = machinery.one("found", "rank", place - 2) if place > 1 else "0"
    lowest = f"IF({before}<{REST},{text(LOWEST)},{text(NEXT)})"
    near = sentence(NEAREST, reference=wanted(machinery, "reference"))
    rest = f'IF({wanted(machinery, "digits")}="",{lowest},{near})&{behind}'
    return f'IF({number}="","",IF({rank}<{OWN},{of_digits},IF({rank}<{REST},{own},{rest})))'


def _in_range(machinery: Machinery, place: int) -> tuple[str, str]:
    """Say in which range an address is, of the member's own and behind another reason."""
    if "ranges" not in machinery:
        return '""', '""'
    ruling = machinery.one("found", "ruling", place - 1)
    ends = f"INDEX({machinery.whole('ranges', 'ends')},{ruling})"
    own = sentence(OWN_RANGE, member=f"TRIM({wanted_input(machinery, 'member')})", ruling=ends)
    behind = sentence(IN_RULING.removeprefix("{why}"), ruling=ends)
    return own, f'IF({ruling}=0,"",{behind})'


def free_words(machinery: Machinery) -> str:
    """Say why there are no addresses, or fewer than there may be; an empty text where all is well."""
    usable, kind, limit = (wanted(machinery, name) for name in ("usable", "kind", "limit"))
    first, last = (machinery.one("found", "number", at) for at in (0, OFFERED - 1))
    ended = f'IF({first}="",{text("no address is free")},{text("no other address is free")})'
    seen = f'IF({last}<>"","",IF({limit}<{NONE}-1,{text(_FURTHER)},{ended}))'
    return f"IF({usable}=0,{text(_NO_NUMBER)},IF({kind}={OTHER},{text(_NO_KIND)},{seen}))"
