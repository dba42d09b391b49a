"""Blocks of the sheet Live: what the sheet Address ranges gives to whom.

All addresses are cut into segments where a range begins or ends; each segment has the range that rules it,
the XX
"""

from rosterkit.cv.address_sentences import IN_RANGE_OF, KEPT, KEPT_FOR, NEVER_USED
from rosterkit.live.machinery import FIRST_ROW, Block, Machinery
from rosterkit.live.places import Places
from rosterkit.live.settings import CHOICES, chosen
from rosterkit.live.writing import column_range, key, sentence, text, whole
from rosterkit.standards.addresses import LONG_ADDRESSES

_NOWHERE = 99999
"""An end of a range that cannot be used: beyond all addresses."""
_MOST_RANGES = 10000
_MOST_ADDRESSES = 20000
SPARE = 20
"""Rows that may be added to the sheet Address ranges."""
_KINDS, _USES = CHOICES["range_kind"][2], CHOICES["range_use"][2]


def range_blocks(places: Places) -> list[Block]:
    """Declare the blocks; none where the workbook has no address ranges."""
    ranges = places.get("Address ranges")
    if ranges is None or not {"kind", "first", "last", "use"} <= ranges.columns.keys():
        return []
    rows = max(0, ranges.last_row - ranges.heading_row) + SPARE
    return [
        Block(
            name="ranges",
            columns=(
                "kind",
                "first",
                "last",
                "use",
                "begin",
                "behind",
                "rank",
                "ends",
                "kept",
                "whose",
                "member",
            ),
            rows=rows,
        ),
        Block(name="segments", columns=("begin", "range", "kept", "whose", "member"), rows=2 * rows + 1),
    ]


def fill_ranges(machinery: Machinery, places: Places) -> None:
    """Fill the blocks, if they were declared."""
    if "ranges" not in machinery:
        return
    _fill_typed(machinery, places)
    _fill_meaning(machinery, places)
    _fill_segments(machinery)


def segment(machinery: Machinery, answers: str, column: str) -> str:
    """Return what a segment says of an address as Answers has it; an empty text where no range rules it."""
    where = f"MATCH({answers},{machinery.whole('segments', 'begin')},1)"
    return f"INDEX({machinery.whole('segments', column)},{where})"


def _fill_typed(machinery: Machinery, places: Places) -> None:
    """Take over what the sheet says, row by row, wherever its rows stand after sorting."""
    place = places["Address ranges"]

    def cell(name: str) -> str:
        area = column_range(place, name, titled=True, beyond=SPARE)
        return f"INDEX({area},{machinery.place()}+1)"

    machinery.fill("ranges", "kind", f"IFERROR(1+{chosen(machinery, 'range_kind', cell('kind'))},0)")
    machinery.fill("ranges", "use", f"IFERROR(1+{chosen(machinery, 'range_use', cell('use'))},0)")
    for name in ("first", "last"):
        number = f"IFERROR({whole(cell(name))},0)"
        machinery.fill("ranges", name, f"IF(AND({number}>=1,{number}<={LONG_ADDRESSES[-1]}),{number},0)")


def _fill_meaning(machinery: Machinery, places: Places) -> None:
    def here(name: str) -> str:
        return machinery.here("ranges", name)

    kind, use, first, last = map(here, ("kind", "use", "first", "last"))
    no_kind = f"{kind}=0,{kind}={_KINDS.index('accessory') + 1},{kind}={len(_KINDS)}"
    unusable = f"OR({no_kind},{use}=0,{use}={len(_USES)},{first}=0,{last}<{first})"
    long = f"{kind}={_KINDS.index('long') + 1}"
    machinery.fill("ranges", "begin", f"IF({unusable},{_NOWHERE},IF({long},-{last},{first}))")
    machinery.fill("ranges", "behind", f"IF({unusable},{_NOWHERE},1+IF({long},-{first},{last}))")
    # The smallest range goes before larger ones, of equal ones the first: what ranks highest.
    rank = f"({_MOST_ADDRESSES}-{last}+{first})*{_MOST_RANGES}+{_MOST_RANGES}-{machinery.place()}"
    machinery.fill("ranges", "rank", f"IF({unusable},0,{rank})")
    kinds = ",".join(text(f"{one} ") for one in _KINDS if one)
    several = f'IF({first}={last},"",{text(" to ")}&{last})'
    machinery.fill("ranges", "ends", f'IF({unusable},"",CHOOSE({kind},{kinds})&{first}&{several})')
    consist = _KINDS.index("consist") + 1
    to_engines = (
        f"AND({kind}<>{consist},OR({use}={_USES.index('engines') + 1},{use}={_USES.index('meet only') + 1}))"
    )
    machinery.fill("ranges", "kept", f'IF(OR({unusable},{to_engines}),"",{_kept(kind, use, here("ends"))})')
    place = places["Address ranges"]
    if "member" not in place.columns:
        machinery.fill("ranges", "whose", '""')
        machinery.fill("ranges", "member", '""')
        return
    member = f"INDEX({column_range(place, 'member', titled=True, beyond=SPARE)},{machinery.place()}+1)"
    nobody = f'OR({unusable},NOT({to_engines}),TRIM({member})="")'
    said = sentence(_behind_address(IN_RANGE_OF, "{whose}"), member=f"TRIM({member})", ends=here("ends"))
    machinery.fill("ranges", "whose", f'IF({nobody},"",{said})')
    machinery.fill("ranges", "member", f'IF({nobody},"",{key(member)})')


def _kept(kind: str, use: str, ends: str) -> str:
    """Say, as findings do, what addresses are kept for that are not for engines."""
    consist, never = _KINDS.index("consist") + 1, _USES.index("never") + 1
    names = ",".join(text(one or "") for one in _USES)
    use_words = f"IF({kind}={consist},{text('consists')},CHOOSE({use},{names}))"
    kept = f"IF({use}={never},{text(NEVER_USED)},{sentence(KEPT_FOR, use=use_words)})"
    return sentence(_behind_address(KEPT), kept=kept, ends=ends)


def _behind_address(words: str, without: str = "") -> str:
    """Return a sentence without the address that it begins with, and without a last part.

    Nor has it the blanks beside them, which a program strips from a stored text.
    """
    return words.removeprefix("{address} ").removesuffix(without).rstrip()


def _fill_segments(machinery: Machinery) -> None:
    ends = machinery.whole("ranges", "begin", "behind")
    # The first segment begins before all addresses.
    begins = f"IF(ROW()={FIRST_ROW},-{_NOWHERE},SMALL({ends},{machinery.place()}-1))"
    machinery.fill("segments", "begin", begins)
    begin, behind = machinery.whole("ranges", "begin"), machinery.whole("ranges", "behind")
    here = machinery.here("segments", "begin")
    highest = f"SUMPRODUCT(LARGE(({begin}<={here})*({behind}>{here})*{machinery.whole('ranges', 'rank')},1))"
    machinery.fill(
        "segments",
        "range",
        f"IF({here}={_NOWHERE},0,MOD({_MOST_RANGES}-MOD({highest},{_MOST_RANGES}),{_MOST_RANGES}))",
    )
    row = machinery.here("segments", "range")
    for name in ("kept", "whose", "member"):
        found = f"INDEX({machinery.whole('ranges', name)},{row})"
        machinery.fill("segments", name, f'IF({row}=0,"",{found})')
