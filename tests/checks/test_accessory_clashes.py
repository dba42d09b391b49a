"""Clashes of accessories against the packets that each decoder answers, one by one.

Basic packets: NMRA S-9.2.1 (Jul 2012), section D; turnout 1 is packet address 4: RCN-225 (27.07.2025).
That a decoder answers as many numbers as Outputs says is what the column means.
"""

from hypothesis import given
from hypothesis import strategies as st

from rosterkit.checks.accessory_addresses import accessory_address_shared
from rosterkit.checks.framework import scope_of
from rosterkit.findings import Severity
from tests.rosters import roster

_ROWS = st.lists(
    st.tuples(
        st.integers(1, 24),
        st.sampled_from(["decoder", "output"]),
        st.one_of(st.none(), st.integers(1, 9)),
        st.booleans(),
    ),
    min_size=2,
    max_size=8,
)
_Row = tuple[int, str, int | None, bool]


def _packets(row: _Row) -> tuple[set[tuple[bool, int]], set[tuple[bool, int]]]:
    """Return kind and address of the packets that a row's decoder surely answers, and of those it may."""
    number, method, outputs, extended = row
    called = number + 3
    first = called if method == "output" else called // 4 * 4
    every = {
        (extended, packet) for packet in range(first, first + (outputs or (1 if method == "output" else 4)))
    }
    every |= {(extended, called)}
    return (every if outputs else {(extended, called)}), every


def _are_on_one_decoder(one: _Row, other: _Row) -> bool:
    alike = one[1] == other[1] == "decoder" and one[3] == other[3]
    return alike and (one[0] + 3) // 4 == (other[0] + 3) // 4


@given(_ROWS)
def test_a_row_has_an_error_if_another_decoder_surely_answers_a_number_of_its_own(
    rows: list[_Row],
) -> None:
    made = roster(
        [{"Loco": "E", "Address": 12}],
        accessories=[
            {
                "Accessory": f"T{n}",
                "Address": number,
                "Method": method,
                "Outputs": "" if outputs is None else outputs,
                "Aspects": 4 if extended else 0,
            }
            for n, (number, method, outputs, extended) in enumerate(rows)
        ],
    )

    hits = list(accessory_address_shared.hits(scope_of([made])))

    errors = {hit.place.row for hit in hits if hit.severity is None}
    warned = {hit.place.row for hit in hits if hit.severity is Severity.WARNING}
    for n, one in enumerate(rows):
        sure, every = _packets(one)
        others = [other for at, other in enumerate(rows) if at != n]
        apart = [other for other in others if not _are_on_one_decoder(one, other)]
        error = any(sure & _packets(other)[0] for other in apart) or any(
            other[0] == one[0] for other in others if other not in apart
        )
        on_its_four = any(sure & _packets(other)[1] and not sure & _packets(other)[0] for other in apart)
        other_kind = any(
            {packet for _, packet in every} & {packet for _, packet in _packets(other)[1]}
            for other in others
            if other[3] != one[3]
        )
        assert (n + 2 in errors) is error
        assert (n + 2 in warned) is (on_its_four or other_kind)
    for hit in hits:
        cell = hit.message.partition("(")[2].partition(")")[0]
        named = hit.message.partition("'")[2].partition("'")[0]
        assert cell == f"B{int(named[1:]) + 2}", "the cell is that of the device that is named"
        assert cell == hit.related[0].cell
