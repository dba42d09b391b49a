"""The sheet Address map: every short address, and the long ones by hundreds, shaded by who has them."""

from collections import Counter
from collections.abc import Collection, Iterator, Mapping

from rosterkit.commands.meet.meet import Meet
from rosterkit.cv.addresses import Address, Space
from rosterkit.planning.addresses import LayoutRules
from rosterkit.planning.addresses.allowed import AllowedAddresses, kept_for
from rosterkit.planning.addresses.model import NumberRange
from rosterkit.planning.addresses.parties import PartyKind
from rosterkit.xlsx.changes import CellStyle, OwnCell, OwnSheet

TITLE = "Address map"
_COLUMNS = 10
_LEGEND = (
    (CellStyle.FREE, "free"),
    (CellStyle.TAKEN, "in use; of a hundred, up to a tenth"),
    (CellStyle.HALF, "of a hundred, up to half"),
    (CellStyle.FULL, "of a hundred, more than half"),
    (CellStyle.CLASH, "wanted by several before the moves"),
    (CellStyle.LENT, "lent for the meet only"),
    (CellStyle.KEPT, "not for engines, or not driven by the layout"),
)
_HUNDRED = 100


def address_map(meet: Meet) -> OwnSheet:
    """Make the sheet: for each layout of the meet its short addresses, its long ones, and its ranges.

    Shaded is what is in use after the moves, by engines and by consists.
    """
    rows: list[list[OwnCell]] = [[OwnCell("Address map", CellStyle.TITLE)]]
    rows += [[OwnCell(None, look), OwnCell(words)] for look, words in _LEGEND]
    used, clashes = _used(meet), {(clash.layout, clash.address) for clash in meet.plan.clashes}
    for rails in sorted(used):
        rules = meet.attendance.rules_by_layout[rails]
        wanted = {address for at, address in clashes if at == rails}
        rows += [[], _across(f"Short addresses, track of {rails}")]
        rows += _shorts(used[rails], wanted, AllowedAddresses(rules))
        rows += [[], _across(f"Long addresses, track of {rails}: engines in each hundred")]
        rows += _longs(used[rails], wanted, AllowedAddresses(rules))
        accessories = meet.attendance.accessories_by_layout.get(rails, frozenset())
        rows += _ranges(used[rails], accessories, rules)
    whole = [row for row, cells in enumerate(rows, 1) if cells and cells[-1].look is CellStyle.ENGINE]
    return OwnSheet(
        title=TITLE,
        rows=rows,
        widths=(16, *[9.0] * _COLUMNS),
        landscape=False,
        heights={1: 26.0, **dict.fromkeys(whole, 22.0)},
    )


def _across(text: str) -> list[OwnCell]:
    return [OwnCell(text, CellStyle.ENGINE), *(OwnCell(None, CellStyle.ENGINE) for _ in range(_COLUMNS))]


def _used(meet: Meet) -> dict[str, Counter[Address]]:
    """Count what is in use after the moves, by layout; a set that shares on purpose counts once."""
    engines, addresses = meet.attendance.engines, meet.addresses
    found: dict[str, Counter[Address]] = {engine.layout: Counter() for engine in engines}
    for layout, _, address in {(one.layout, one.shares or one.key, addresses[one.key]) for one in engines}:
        if address is not None:
            found[layout][address] += 1
    moved = {move.party.name: move.after for move in meet.plan.moves if move.party.kind is PartyKind.CONSIST}
    for consist in meet.attendance.consists:
        address = moved.get(consist.key, consist.address)
        if address is not None:
            found.setdefault(consist.layout, Counter())[address] += 1
    return found


def _shorts(
    used: Mapping[Address, int], wanted: set[Address], permitted: AllowedAddresses
) -> Iterator[list[OwnCell]]:
    for tens in range(0, 128, _COLUMNS):
        numbers = range(tens, min(tens + _COLUMNS, 128))
        looks = [_short_look(number, used, wanted, permitted) if number else None for number in numbers]
        cells = (OwnCell(n, look) if look else OwnCell() for n, look in zip(numbers, looks, strict=True))
        yield [OwnCell(f"{max(tens, 1)} to {numbers[-1]}"), *cells]


def _short_look(
    number: int, used: Mapping[Address, int], wanted: set[Address], permitted: AllowedAddresses
) -> CellStyle:
    address = Address(Space.SHORT, number)
    if address in wanted:
        return CellStyle.CLASH
    if used.get(address):
        return CellStyle.TAKEN
    if number not in permitted.rules.shorts or number == 3:
        return CellStyle.KEPT
    return _kept_look(permitted.ruling(address))


def _kept_look(ruling: NumberRange | None) -> CellStyle:
    if ruling is None:
        return CellStyle.FREE
    looks = {"engines": CellStyle.FREE, "meet only": CellStyle.LENT}
    return CellStyle.KEPT if ruling.kind == "consist" else looks.get(ruling.use, CellStyle.KEPT)


def _longs(
    used: Mapping[Address, int], wanted: set[Address], permitted: AllowedAddresses
) -> Iterator[list[OwnCell]]:
    yield [
        OwnCell(None),
        *(OwnCell(f"+{hundred}", CellStyle.NOTE) for hundred in range(0, 1000, _HUNDRED)),
    ]
    counts: Counter[int] = Counter()
    for address, number in used.items():
        if address.space is Space.LONG and number:
            counts[address.number // _HUNDRED] += 1
    clashing = {address.number // _HUNDRED for address in wanted if address.space is Space.LONG}
    for thousand in range(11):
        hundreds = [thousand * 10 + at for at in range(10) if thousand * 1000 + at * _HUNDRED <= 10239]
        yield [
            OwnCell(f"{thousand * 1000} to {min(thousand * 1000 + 999, 10239)}"),
            *(
                OwnCell(counts[at] or None, _long_look(at, counts[at], permitted, clash=at in clashing))
                for at in hundreds
            ),
        ]


def _long_look(hundred: int, count: int, permitted: AllowedAddresses, *, clash: bool) -> CellStyle:
    if clash:
        return CellStyle.CLASH
    if count:
        return CellStyle.TAKEN if count <= 10 else CellStyle.HALF if count <= 50 else CellStyle.FULL
    numbers = range(max(hundred * _HUNDRED, 1), min((hundred + 1) * _HUNDRED, 10240))
    driven = [number for number in numbers if number in permitted.rules.longs]
    looks = {_kept_look(permitted.ruling(Address(Space.LONG, number))) for number in driven}
    return next((look for look in (CellStyle.FREE, CellStyle.LENT) if look in looks), CellStyle.KEPT)


def _ranges(
    used: Mapping[Address, int], accessories: Collection[int], rules: LayoutRules
) -> Iterator[list[OwnCell]]:
    if not rules.ranges:
        return
    yield []
    headings = ("Range", "From", "To", "Use", "", "Member", "In use")
    yield [OwnCell(text, CellStyle.HEADING) for text in headings]
    for one in rules.ranges:
        space = Space.LONG if one.kind == "long" else Space.SHORT
        inside = sum(
            bool(number) and address.space is space and one.first <= address.number <= one.last
            for address, number in used.items()
        )
        use = one.use if one.use in ("engines", "meet only") else kept_for(one)
        if one.kind == "accessory":
            inside = sum(one.first <= number <= one.last for number in accessories)
        values = (one.kind, str(one.first), str(one.last), use, None, one.member or "all", inside)
        yield [OwnCell(value) for value in values]
