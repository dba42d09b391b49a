"""What the sheet Live says of an address: its CVs, its range, the layout, and who has it."""

from collections.abc import Iterable

import pytest

from rosterkit.cv.address_ranges import ruling_of, usable_ranges
from rosterkit.cv.addresses import Address, Space
from rosterkit.planning.addresses.from_roster import layout_rules_of
from rosterkit.planning.addresses.model import NumberRange
from rosterkit.standards.addresses import LONG_ADDRESSES, SHORT_ADDRESSES, long_address_cvs
from tests.live.pages import Page, page_of
from tests.rosters import enrolled, findings, workbook

RANGES = [
    {"Kind": "short", "From": 1, "To": 9, "Use": "new decoders"},
    {"Kind": "short", "From": 50, "To": 59, "Use": "engines", "Member": "M 02"},
    {"Kind": "consist", "From": 100, "To": 127, "Use": "consists"},
    {"Kind": "long", "From": 128, "To": 9999, "Use": "engines"},
    {"Kind": "long", "From": 2000, "To": 2999, "Use": "engines", "Member": "M01"},
    {"Kind": "long", "From": 2100, "To": 2100, "Use": "never"},
    {"Kind": "long", "From": 2200, "To": 2250, "Use": "meet only", "Member": "M02"},
    {"Kind": "long", "From": 2300, "To": 2310, "Use": "meet only"},
    {"Kind": "long", "From": 2400, "To": 2410, "Use": "devices"},
]
ENGINES = [
    {"Loco": "A 1", "Address": 25, "Meet address": 2205},
    {"Loco": "B", "Address": 25, "Meet address": ""},
    {"Loco": "C", "Address": 25, "Meet address": 77},
    {"Loco": "", "Address": 2107, "Meet address": 77},
]


@pytest.fixture(scope="module")
def page() -> Page:
    """A club with ranges of all kinds."""
    consists = [{"Consist": "Ore train", "Address": 60, "Loco": "B"}]
    return page_of(
        workbook(ENGINES, ranges=RANGES, consists=consists, layout={"Long address range": "100-9999"})
    )


def _range_words(address: Address, ranges: Iterable[NumberRange]) -> str:
    """Say of an address what its range is for, from the tool's own rules."""
    kinds = ("short", "consist") if address.space is Space.SHORT else ("long",)
    ruling = ruling_of(address.number, [one for one in ranges if one.kind in kinds])
    if ruling is None:
        return "in no range of the sheet Address ranges"
    if ruling.use == "never":
        return f"{address} is never used ({ruling})"
    if ruling.kind == "consist" or ruling.use not in ("engines", "meet only"):
        use = "consists" if ruling.kind == "consist" else ruling.use
        return f"{address} is reserved for {use} ({ruling})"
    lent = ", lent for a meet only" if ruling.use == "meet only" else ""
    whose = f"{ruling.member}'s range " if ruling.member else ""
    return f"{address} is in {whose}{ruling}{lent}"


def _differing(page: Page, addresses: Iterable[Address]) -> list[object]:
    """Return the addresses of which the sheet says something else than the tool's own code."""
    ranges = layout_rules_of([page.made.roster]).ranges
    found: list[object] = []
    for address in addresses:
        answer = page.asked(number=address.number, kind=address.space.value)
        short = address.space is Space.SHORT
        cvs = ("", *long_address_cvs(address.number)) if not short else (address.number, "", "")
        outside = not short and address.number not in range(100, 10000)
        layout = f"{address} is outside the long addresses of this layout, 100 to 9999"
        wanted = (
            str(address),
            *cvs,
            _range_words(address, ranges),
            layout if outside else "this layout calls it",
        )
        labels = ("It is", "CV1", "CV17", "CV18", "Ranges", "Layout")
        shown = tuple(answer.said(label) for label in labels)
        if shown != wanted:
            found.append((address, shown, wanted))
    return found


def _all() -> list[Address]:
    return [
        *(Address(Space.SHORT, number) for number in SHORT_ADDRESSES),
        *(Address(Space.LONG, number) for number in LONG_ADDRESSES),
    ]


def test_all_short_addresses_and_each_end_of_a_long_one(page: Page) -> None:
    ends = {
        n + by
        for one in usable_ranges(page.made.roster)
        for n in (one.first or 0, one.last or 0)
        for by in (-1, 0, 1)
    }
    numbers = {*ends, 1, 255, 256, 257, 9999, 10000, 10239} & {*LONG_ADDRESSES}
    addresses = [*_all()[:127], *(Address(Space.LONG, number) for number in sorted(numbers))]

    assert _differing(page, addresses) == []


@pytest.mark.domain
def test_every_address(page: Page) -> None:
    assert _differing(page, _all()) == []


@pytest.mark.parametrize(
    ("typed", "engines", "consists"),
    [
        pytest.param(25, "'A 1' and 2 more", "no consist has it", id="several engines"),
        pytest.param(2107, "another engine", "no consist has it", id="an engine without a label"),
        pytest.param(60, "no engine has it", "the consist 'Ore train'", id="a consist"),
        pytest.param(2205, "no engine has it; for a meet: 'A 1'", "no consist has it", id="one at a meet"),
        pytest.param(
            77, "no engine has it; for a meet: 'C' and 1 more", "no consist has it", id="two at meets"
        ),
        pytest.param(61, "no engine has it", "no consist has it", id="nobody"),
        pytest.param("", "", "", id="nothing typed"),
    ],
)
def test_who_has_it(page: Page, typed: object, engines: str, consists: str) -> None:
    answer = page.asked(number=typed or None)

    assert [answer.said("Engines"), answer.said("Consists")] == [engines, consists]


@pytest.mark.parametrize(
    ("number", "kind", "words"),
    [
        pytest.param(128, "short", "128 is not a short address (1 to 127)", id="no short one"),
        pytest.param(25, "middle", None, id="a kind that is none"),
        pytest.param("25a", None, None, id="letters"),
        pytest.param(2.5, None, None, id="a fraction"),
        pytest.param(0, None, None, id="too small"),
        pytest.param(10240, None, None, id="too large"),
    ],
)
def test_what_is_no_address_is_said_in_the_words_of_the_findings(
    page: Page, number: object, kind: str | None, words: str | None
) -> None:
    shown = page.asked(number=number, kind=kind).said("It is")
    found = findings(enrolled(workbook([{"Loco": "A", "Address": number, "Address kind": kind or ""}])))

    assert shown in {one.message for one in found}
    assert words in (None, shown)


@pytest.mark.parametrize(
    ("layout", "number", "kind", "note"),
    [
        ({}, 3, "short", "3 is the address of most new decoders"),
        ({}, 105, "short", "short 105 is taken for long 105 by some command stations"),
        ({}, 105, "long", "long 105 is taken for short 105 by some command stations"),
        ({}, 25, "short", ""),
        ({}, 128, "long", ""),
        ({"Long addresses from": 100}, 105, "long", ""),
        ({"Long addresses from": 100}, 99, "long", "long 99 is taken for short 99 by some command stations"),
    ],
)
def test_what_is_to_be_minded(layout: dict[str, object], number: int, kind: str, note: str) -> None:
    page = page_of(workbook([{"Loco": "A", "Address": 5}], layout=layout or None))

    shown = str(page.asked(number=number, kind=kind).said("Note"))

    assert shown.partition(". ")[0] == note
