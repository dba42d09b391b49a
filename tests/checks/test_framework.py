"""The checks as a whole: their documentation, their order, their scope, and clashes of thousands."""

import re
from collections import Counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rosterkit.checks import CHECKS, check_named
from rosterkit.checks.framework import Check, findings_of, scope_of
from rosterkit.errors import CannotRunError
from rosterkit.findings import Finding, Place, in_reading_order
from tests.each import for_each
from tests.rosters import brief, enrolled, findings, roster, workbook

_FAULTY = workbook(
    [
        {
            "Loco": "A",
            "Address": 3,
            "DC operation": "on",
            "Vstart": 60,
            "Vmid": 40,
            "CV1": 4,
            "Adress kind": "",
        },
        {"Loco": "a", "Address": 3, "Decoder": "Bare", "Speed steps": 14, "Direction": "up"},
        {"Address": "", "Decoder": "Unlisted", "Fault": "Smells", "Number": "5"},
        {"Loco": "D", "Address": 120, "Decoder": "Bare", "At meet": "yes", "Number": "0121"},
    ],
    layout={"Address rule": "last four digits", "Short address range": "1-99"},
    ranges=[
        {"Kind": "short", "From": 1, "To": 50, "Use": "engines", "Member": "M02"},
        {"Kind": "short", "From": 40, "To": 150, "Use": "never"},
    ],
    decoders=[{"Decoder": "Bare", "Steps": "14", "Lock": "no"}],
    filled=True,
)


@for_each(CHECKS, lambda check: check.slug)
def test_the_documentation_of_a_check_names_fault_reason_and_fix(check: Check) -> None:
    documentation = check.hits.__doc__ or ""

    assert re.fullmatch(r"[A-Z].+\.\n\n\s+Why: .+\.\n\s+Fix: [A-Z].+\.\s*", documentation, re.DOTALL)
    assert [part.endswith(".") for part in (check.what, check.why, check.fix)] == [True, True, True]


@for_each(CHECKS, lambda check: check.slug)
def test_a_slug_is_words_with_hyphens_and_forbids_or_asks_for_nothing(check: Check) -> None:
    words = check.slug.split("-")

    assert re.fullmatch(r"[a-z]+(-[a-z]+)+", check.slug)
    assert not {"valid", "unique", "require", "fix", "check", "must", "ensure", "set", "avoid"} & set(words)


def test_no_slug_stands_for_two_checks() -> None:
    slugs = [check.slug for check in CHECKS]

    assert len(slugs) == len(set(slugs))


def test_a_check_is_found_by_its_slug_whatever_the_letter_case() -> None:
    assert check_named("Address-Shared").slug == "address-shared"


def test_a_slug_that_is_not_there_is_answered_with_the_nearest() -> None:
    with pytest.raises(CannotRunError) as caught:
        check_named("adress-shared")

    assert caught.value.message == "there is no check 'adress-shared'"
    assert caught.value.fix == "Did you mean 'address-shared'? Run 'rosterkit rules' for all of them."


def test_a_slug_like_no_other_is_answered_with_the_list() -> None:
    with pytest.raises(CannotRunError) as caught:
        check_named("xyz")

    assert caught.value.fix == "Run 'rosterkit rules' for all of them."


@given(st.permutations(CHECKS))
def test_the_order_of_the_checks_does_not_change_what_is_found(order: list[Check]) -> None:
    scope = scope_of([enrolled(_FAULTY)])

    assert Counter(findings_of(order, scope)) == Counter(findings_of(CHECKS, scope))


def test_one_workbook_can_have_faults_of_many_kinds_at_once() -> None:
    assert brief(findings(_FAULTY)) == [
        ("ranges-overlap", "B2", "warning"),
        ("ranges-overlap", "B3", "warning"),
        ("range-impossible", "C3", "error"),
        ("heading-unknown", "G1", "note"),
        ("loco-repeated", "A2", "error"),
        ("address-default", "B2", "warning"),
        ("address-in-another-range", "B2", "warning"),
        ("address-shared", "B2", "error"),
        ("dc-operation-on", "C2", "warning"),
        ("curve-not-rising", "E2", "error"),
        ("computed-stale", "F2", "warning"),
        ("loco-repeated", "A3", "error"),
        ("address-default", "B3", "warning"),
        ("address-in-another-range", "B3", "warning"),
        ("address-shared", "B3", "error"),
        ("steps-mismatch", "I3", "warning"),
        ("value-not-allowed", "J3", "error"),
        ("value-missing", "A4", "error"),
        ("address-missing", "B4", "error"),
        ("decoder-unknown", "H4", "warning"),
        ("tag-open", "K4", "note"),
        ("card-incomplete", "A5", "warning"),
        ("card-incomplete", "A5", "warning"),
        ("card-incomplete", "A5", "warning"),
        ("address-kind-doubtful", "B5", "warning"),
        ("address-off-rule", "B5", "note"),
        ("decoder-lacks-feature", "I5", "error"),
        ("steps-mismatch", "I5", "warning"),
    ]


def test_checks_give_the_same_findings_on_every_run() -> None:
    assert findings(_FAULTY) == findings(_FAULTY)


def test_findings_stand_in_the_order_of_the_sheet_the_graver_first_within_a_cell() -> None:
    ordered = in_reading_order(findings(roster([{"Loco": "A", "Address": 3}, {"Loco": "B", "Address": 3}])))

    assert [(finding.place.cell, finding.severity.value) for finding in ordered] == [
        ("B2", "error"),
        ("B2", "warning"),
        ("B3", "error"),
        ("B3", "warning"),
    ]


def test_a_clash_names_the_other_places_from_the_next_row_on() -> None:
    clash = findings(roster([{"Loco": name, "Address": 500} for name in "ABC"]))

    related = {finding.place.cell: [place.cell for place in finding.related] for finding in clash}

    assert related == {"B2": ["B3", "B4"], "B3": ["B4", "B2"], "B4": ["B2", "B3"]}


def test_a_finding_names_the_cell_of_the_decoder_s_rating_that_it_goes_by() -> None:
    decoders = [{"Decoder": "Full", "Continuous A": 1, "Peak A": 2}, {"Decoder": "Weak", "Continuous A": 0.5}]
    engines = [
        {"Loco": "A", "Address": 12, "Decoder": "Full", "Stall A": 3},
        {"Loco": "B", "Address": 13, "Decoder": "Weak", "Stall A": 3},
    ]

    found = findings(roster(engines, decoders=decoders))

    assert [(f.rule, f.message, [place.cell for place in f.related]) for f in found] == [
        ("decoder-overloaded", "stall current 3 A exceeds the 2 A peak rating of 'Full'", ["C2"]),
        ("decoder-overloaded", "stall current 3 A exceeds the 0.5 A continuous rating of 'Weak'", ["B3"]),
    ]


def test_a_fault_of_a_cell_names_the_engine_where_it_has_a_label() -> None:
    found = findings(roster([{"Loco": "A", "Address": "x"}, {"Loco": "", "Address": "y"}]))

    assert [(f.rule, f.place.cell, f.loco) for f in found] == [
        ("value-not-allowed", "B2", "A"),
        ("value-not-allowed", "B3", None),
        ("value-missing", "A3", None),
    ]


def test_a_clash_across_workbooks_names_the_other_workbook() -> None:
    guest = {"Loco": "G", "Address": 500, "At meet": "yes", "Meet address": 700}
    clash = findings(workbook([guest], name="a.xlsx"), workbook([guest], name="b.xlsx"), meet=True)

    shared = [finding for finding in clash if finding.rule == "address-shared"]

    assert [(finding.place, finding.related) for finding in shared] == [
        (Place("a.xlsx", "Locomotives", 2, 4), (Place("b.xlsx", "Locomotives", 2, 4),)),
        (Place("b.xlsx", "Locomotives", 2, 4), (Place("a.xlsx", "Locomotives", 2, 4),)),
    ]


def test_a_meet_looks_only_at_engines_that_come() -> None:
    comes = {"Loco": "A", "Address": 3, "DC operation": "on", "At meet": "yes"}
    stays = {"Loco": "B", "Address": 3, "DC operation": "on", "At meet": "no"}

    assert brief(findings(roster([comes, stays]), meet=True)) == [
        ("card-incomplete", "A2", "warning"),
        ("card-incomplete", "A2", "warning"),
        ("card-incomplete", "A2", "warning"),
        ("address-default", "B2", "error"),
        ("dc-operation-on", "C2", "error"),
    ]


_THOUSANDS = 4000


def _largest_and_count(found: list[Finding], rule: str) -> tuple[int, int]:
    of_rule = [finding for finding in found if finding.rule == rule]
    return max(len(finding.related) for finding in of_rule), len(of_rule)


def test_thousands_of_engines_of_one_address_make_one_finding_each_with_20_other_places() -> None:
    found = findings(roster([{"Loco": f"E{n}", "Address": 500} for n in range(_THOUSANDS)]))

    assert _largest_and_count(found, "address-shared") == (20, 4000)
    assert found[0].message == "long 500 is also the address of 'E1' (B3) and 3998 more"


def test_thousands_of_engines_of_one_label_and_number_make_one_finding_each_with_20_other_places() -> None:
    same = {"Loco": "E", "Railway": "Elm", "Number": "7"}
    found = findings(roster([{**same, "Address": 500 + n} for n in range(_THOUSANDS)]))

    assert _largest_and_count(found, "loco-repeated") == (20, 4000)
    assert _largest_and_count(found, "number-repeated") == (20, 4000)


def test_hundreds_of_ranges_that_overlap_make_one_finding_each_with_20_other_places() -> None:
    ranges = [{"Kind": "long", "From": 200 + n, "To": 700 + n, "Use": "engines"} for n in range(300)]
    found = findings(roster([{"Loco": "A", "Address": 5}], ranges=ranges))

    assert _largest_and_count(found, "ranges-overlap") == (20, 300)


@pytest.mark.parametrize("index", [0, 10, 21, 39])
def test_the_places_of_a_large_clash_are_others_and_each_only_once(index: int) -> None:
    found = findings(roster([{"Loco": f"E{n}", "Address": 500} for n in range(40)]))

    places = found[index].related

    assert len(set(places)) == 20
    assert found[index].place not in places
