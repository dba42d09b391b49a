"""Blocks of the sheet Live that are found by a label: readings, decoders, consists, shared addresses."""

from collections.abc import Sequence

from rosterkit.live.machinery import Block, Machinery
from rosterkit.live.places import Places
from rosterkit.live.writing import column_range, key, label_key, typed, whole
from rosterkit.standards.addresses import LONG_ADDRESSES
from rosterkit.standards.bounds import BYTE
from rosterkit.standards.consists import CONSIST_ADDRESSES
from rosterkit.standards.speed_curve import TABLE_STEPS

SPARE = 20
"""Rows that may be added to a sheet before the next fill."""

Readings = Sequence[tuple[str, int]]
"""Labels of engines, each with what CV29 of it read last."""
Shared = Sequence[tuple[str, int]]
"""Labels of engines, each with an address as Answers has it that it shares with others on purpose."""

_STEPS = tuple(f"step{step}" for step in TABLE_STEPS)
_NEEDED = {
    "decoders": {"decoder"},
    "consists": {"consist", "loco", "address", "cv19"},
    "speed tables": {"label", *_STEPS},
}
"""The columns without which a block says nothing."""


def label_blocks(places: Places, readings: Readings, shared: Shared) -> list[Block]:
    """Declare the blocks; those of sheets that the workbook has not are left out."""
    blocks = [
        Block(name="readings", columns=("loco", "CV29"), rows=len(readings) + 1),
        Block(name="shared on purpose", columns=("loco", "address"), rows=len(shared) + 1),
    ]
    for name, title, columns in (
        ("decoders", "Decoder types", ("decoder",)),
        ("consists", "Consists", _of_consists(places)),
        ("speed tables", "Speed tables", ("table", *_STEPS, "usable")),
    ):
        place = places.get(title)
        if place and _NEEDED[name] <= place.columns.keys():
            blocks.append(Block(name=name, columns=columns, rows=place.last_row - place.heading_row + SPARE))
    return blocks


def _of_consists(places: Places) -> tuple[str, ...]:
    place = places.get("Consists")
    at_meets = ("at meets",) if place and "meet_address" in place.columns else ()
    return ("label", "loco", "address", "answers", "CV19", "named", *at_meets)


def fill_labels(machinery: Machinery, places: Places, readings: Readings, shared: Shared) -> None:
    """Fill the blocks that were declared."""
    machinery.put("readings", "loco", [label_key(label) for label, _ in readings] or [None])
    machinery.put("readings", "CV29", [value for _, value in readings] or [None])
    machinery.put("shared on purpose", "loco", [label_key(label) for label, _ in shared] or [None])
    machinery.put("shared on purpose", "address", [address for _, address in shared] or [None])
    if "decoders" in machinery:
        machinery.fill("decoders", "decoder", key(_cell(machinery, places, "Decoder types", "decoder")))
    if "consists" in machinery:
        _fill_consists(machinery, places)
    if "speed tables" in machinery:
        _fill_speed_tables(machinery, places)


def _cell(machinery: Machinery, places: Places, title: str, name: str) -> str:
    """Refer to the cell of a sheet in the row that has the same place in it as this one in the block."""
    return f"INDEX({column_range(places[title], name, titled=True, beyond=SPARE)},{machinery.place()}+1)"


def _fill_consists(machinery: Machinery, places: Places) -> None:
    """Take over the rows of Consists, and the address of each consist at its first row that has one."""

    def cell(name: str) -> str:
        return _cell(machinery, places, "Consists", name)

    def here(name: str) -> str:
        return machinery.here("consists", name)

    machinery.fill("consists", "label", key(cell("consist")))
    machinery.fill("consists", "loco", key(cell("loco")))
    machinery.fill("consists", "named", typed(cell("consist")))
    machinery.fill("consists", "address", _address(cell("address")))
    if "meet_address" in places["Consists"].columns:
        machinery.fill("consists", "at meets", _address(cell("meet_address")))
    label, address = here("label"), here("address")
    same = f"({machinery.whole('consists', 'label')}={label})*({machinery.whole('consists', 'address')}>0)"
    earlier = f"SUMPRODUCT({same}*(ROW({machinery.whole('consists', 'label')})<ROW()))"
    rails = f"IF({address}<={CONSIST_ADDRESSES[-1]},{address},-{address})"
    machinery.fill("consists", "answers", f'IF(OR({label}="k",{address}=0),0,IF({earlier}>0,0,{rails}))')
    value = cell("cv19")
    machinery.fill("consists", "CV19", f'IFERROR(IF({value}="","",{value}),"")')


def _address(content: str) -> str:
    """Take an address over; 0 where there is none."""
    number = f"IFERROR({whole(content)},0)"
    return f"IF(AND({number}>=1,{number}<={LONG_ADDRESSES[-1]}),{number},0)"


def _fill_speed_tables(machinery: Machinery, places: Places) -> None:
    """Take over the speed tables; 1 where one can be keyed in, 0 where not, a text where it is not clear."""
    machinery.fill("speed tables", "table", key(_cell(machinery, places, "Speed tables", "label")))
    for name in _STEPS:
        value = _cell(machinery, places, "Speed tables", name)
        machinery.fill("speed tables", name, f'IF({value}="","",{value})')
    first, last = (machinery.here("speed tables", name) for name in (_STEPS[0], _STEPS[-1]))
    steps, count = f"{first}:{last}", len(_STEPS)
    lower = f"{first}:{machinery.here('speed tables', _STEPS[-2])}"
    higher = f"{machinery.here('speed tables', _STEPS[1])}:{last}"
    blank = f'SUMPRODUCT(({steps}="")*1)'
    # Sums of fractions and of their squares are hardly both whole: no function may go over many cells here.
    numbers = (
        f"AND(COUNT({steps})={count},MIN({steps})>=0,MAX({steps})<={BYTE[-1]},"
        f"SUM({steps})=INT(SUM({steps})),SUMPRODUCT({steps}*{steps})=INT(SUMPRODUCT({steps}*{steps})))"
    )
    falls = f"SUMPRODUCT(({lower}>{higher})*1)"
    clear = f'IFERROR(IF({numbers},IF({falls}>0,0,1),"?"),"?")'
    machinery.fill("speed tables", "usable", f"IF({blank}>0,0,{clear})")
