"""What a finding of every check says, word for word."""

import pytest

from rosterkit.checks import CHECKS
from tests.checks import formula_messages, speed_messages, track_messages
from tests.checks.cases import Case
from tests.checks.test_cases import CASES
from tests.each import for_each

SAID = (
    (
        "owner-spelt-otherwise",
        "otherwise than in most cells, whatever the sheet",
        "'M 01' is spelt 'M01' elsewhere (C2): one member",
        "Spell it 'M01', if it is the same member.",
    ),
    (
        "owner-spelt-otherwise",
        "otherwise than in most cells, whatever the sheet",
        "'m01' is spelt 'M01' elsewhere (Locomotives C2): one member",
        "Spell it 'M01', if it is the same member.",
    ),
    (
        "owner-spelt-otherwise",
        "across workbooks at a meet",
        "'m 01' is spelt 'M01' elsewhere (a.xlsx C2): one member",
        "Spell it 'M01', if it is the same member.",
    ),
    (
        "registered-late",
        "a day late",
        "registered on 2026-09-21, after the closing date 2026-09-20",
        "Agree with the organiser, or set At meet to no.",
    ),
    (
        "too-many-engines",
        "one too many",
        "M01 brings 3 engines, and each may bring 2",
        "Set At meet to no for 1 of them, such as 'E13'.",
    ),
    (
        "driven-by-owner-only",
        "where anyone drives",
        "only its owner may drive 'A', and here anyone drives",
        "Set Drivers to anyone, or At meet to no.",
    ),
    (
        "address-not-found",
        "an engine that the plan leaves over",
        "no address was found for E11",
        "Leave it home.",
    ),
    ("address-missing", "blank", "Address is blank", "Enter Address: 1 to 10239."),
    (
        "address-out-of-range",
        "0 and 10240 are none",
        "0 is too small: Address takes 1 to 10239",
        "Enter a whole number, 1 to 10239.",
    ),
    (
        "address-out-of-range",
        "short 128 is none",
        "128 is not a short address (1 to 127)",
        "Make it long 128.",
    ),
    (
        "address-out-of-range",
        "a layout that drives short 1 to 99",
        "short 100 is outside the short addresses of this layout, 1 to 99",
        "Choose another, such as short 98.",
    ),
    (
        "address-shared",
        "both ends of a clash",
        "short 12 is also the address of 'B' (B3)",
        "Give 'A' or 'B' another address.",
    ),
    (
        "address-shared",
        "all ends of a clash of three",
        "long 500 is also the address of 'B' (B3) and 1 more",
        "Give all but one of 'A', 'B' and 'C' another address.",
    ),
    (
        "address-shared",
        "at a meet across workbooks",
        "short 5 is also the address of 'G' (b.xlsx B2)",
        "Give one of the two another address.",
    ),
    (
        "address-shared",
        "two decoders of one engine with a lock each",
        "short 12 is also the address of 'A sound' (B3), another decoder of the same engine",
        "Nothing, as long as each decoder has its own Lock.",
    ),
    (
        "address-default",
        "short 3",
        "3 is the address of most new decoders",
        "Choose another, such as short 2.",
    ),
    (
        "address-kind-doubtful",
        "short 100 and 127",
        "short 100 is taken for long 100 by some command stations",
        "Choose another, such as short 99.",
    ),
    (
        "address-reserved",
        "from 112 on with a decoder of 14 steps or without long address",
        "short 112 can make an old decoder such as 'old' reprogram itself",
        "Choose another, such as short 99.",
    ),
    (
        "address-off-rule",
        "another address",
        "long 2102 is not 2101, the last four digits of '2101'",
        "Use long 2101, which is free.",
    ),
    (
        "address-off-rule",
        "another address, and what the rule gives is taken or in another's range",
        "long 2102 is not 2101, the last four digits of '2101'",
        "Leave it: long 2101 is not free for this engine.",
    ),
    (
        "address-off-rule",
        "another address, and what the rule gives is taken or in another's range",
        "long 2103 is not 7012, the last four digits of '7012'",
        "Leave it: long 7012 is not free for this engine.",
    ),
    (
        "address-not-for-engines",
        "never",
        "short 12 is never used (short 12)",
        "Choose another, such as short 11.",
    ),
    (
        "address-not-for-engines",
        "a smaller range goes before a larger one",
        "short 3 is reserved for new decoders (short 3)",
        "Choose another, such as short 2.",
    ),
    (
        "address-in-another-range",
        "another's",
        "short 12 is in M02's range short 1 to 99, not M01's",
        "Choose another, such as long 128.",
    ),
    (
        "address-in-another-range",
        "an engine without owner",
        "short 12 is in M02's range short 1 to 99, and the engine has no owner",
        "Choose another, such as long 128.",
    ),
    (
        "address-in-another-range",
        "another's range within one that is everybody's",
        "long 7012 is in M05's range long 7000 to 7099, not M01's",
        "Choose another, such as long 6998.",
    ),
    (
        "address-in-another-range",
        "another's range within one that is everybody's",
        "long 7070 is in M05's range long 7000 to 7099, not M01's",
        "Choose another, such as long 4012.",
    ),
    (
        "address-not-for-engines",
        "nothing else is free",
        "short 12 is never used (short 1 to 127)",
        "No address is free for it here: change Address ranges, or another engine's address.",
    ),
    (
        "address-outside-range",
        "outside",
        "short 12 is in no range that M01 may use",
        "Choose another, such as short 13.",
    ),
    (
        "meet-address-kept",
        "lent for a meet",
        "short 12 is lent for a meet only (short 1 to 99)",
        "Give the engine a home address, and enter this one as its Meet address.",
    ),
    (
        "ranges-overlap",
        "in part",
        "short 1 to 50 and short 40 to 99 (row 2) overlap",
        "Change an end of one of them.",
    ),
    (
        "ranges-overlap",
        "each of three",
        "long 200 to 300 and long 250 to 350 (row 3) overlap, and 1 more with it",
        "Change an end of one of them.",
    ),
    (
        "range-impossible",
        "beyond the last of each kind",
        "128 is beyond the last short address, 127",
        "End the range at 127 at most.",
    ),
    (
        "range-impossible",
        "the wrong way round",
        "the range 300 to 200 ends before it begins",
        "Swap From and To.",
    ),
    (
        "range-impossible",
        "settings of the layout",
        "the range 99-1 ends before it begins",
        "Enter a range within 1-127.",
    ),
    (
        "range-impossible",
        "settings of the layout",
        "the range 128-10240 reaches beyond 10239",
        "Enter a range within 1-10239.",
    ),
    (
        "range-impossible",
        "a setting beyond the last",
        "the range 1-128 reaches beyond 127",
        "Enter a range within 1-127.",
    ),
    (
        "range-impossible",
        "a setting that begins at 0",
        "the range 0-99 begins below 1",
        "Enter a range within 1-127.",
    ),
    (
        "steps-mismatch",
        "14 on 28/128",
        "set to 14 speed steps, and the layout sends 28/128: where 28 are sent, the headlight goes on "
        "and off as the speed changes, and every second step does nothing",
        "Set it to 28/128.",
    ),
    (
        "steps-mismatch",
        "28/128 on 14",
        "set to 28/128 speed steps, and the layout sends 14: the headlight cannot be switched",
        "Set it to 14.",
    ),
    (
        "steps-mismatch",
        "a decoder that knows 14 only, whatever its engine is set to",
        "a decoder 'Bare' knows 14 speed steps only, and the layout sends 28/128: where 28 are sent, the "
        "headlight goes on and off as the speed changes, and every second step does nothing",
        "Use another decoder, or send this engine 14 steps where the command station can.",
    ),
    (
        "steps-mismatch",
        "14 beside 28/128 in one consist",
        "set to 14 speed steps, and the layout sends 28/128: where 28 are sent, the headlight goes on and "
        "off as the speed changes, and every second step does nothing, and 'B' of the same consist has "
        "28/128",
        "Set it to 28/128.",
    ),
    (
        "dc-operation-on",
        "blank, and CV29 read as many decoders come: a note",
        "DC operation is on: a glitch on the rails can start the engine at full speed, until valid packets "
        "come again (CV29 read 6, and the column is blank)",
        "Set DC operation to off (CV29 then loses 4).",
    ),
    (
        "dc-operation-on",
        "on",
        "DC operation is on: a glitch on the rails can start the engine at full speed, "
        "until valid packets come again",
        "Set DC operation to off (CV29 then loses 4).",
    ),
    (
        "curve-not-rising",
        "Start above Middle",
        "Vstart 60 is not below Vmid 40",
        "Make Vstart smaller than Vmid.",
    ),
    (
        "speed-table-missing",
        "not named",
        "Speed curve is table, but no speed table is named",
        "Name a speed table, or set Speed curve to 3-point.",
    ),
    (
        "table-scaled",
        "nobody said whether the decoder scales its table",
        "the decoder may stretch its speed table by Vstart 40 and Vhigh 200",
        "Make Vstart and Vhigh 0 before timing and keying in, or see the manual: no in Decoder types "
        "says that it does not.",
    ),
    (
        "table-scaled",
        "the decoder does",
        "the decoder stretches its speed table by Vmid 100",
        "Make Vmid 0 before timing and keying in.",
    ),
    (
        "decoder-unknown",
        "not listed",
        "'Fuller' is not in the sheet Decoder types",
        "Add it there, or write 'Full' if that is meant.",
    ),
    (
        "decoder-lacks-feature",
        "a long address, at home and at the meet",
        "a decoder 'Bare' cannot take a long address",
        "Choose another, such as short 99.",
    ),
    (
        "decoder-overloaded",
        "beyond the peak",
        "stall current 2.1 A exceeds the 2 A peak rating of 'Full'",
        "Use a stronger decoder, or measure the stall current again.",
    ),
    (
        "decoder-overloaded",
        "beyond the continuous current and up to the peak",
        "stall current 1.1 A exceeds the 1 A continuous rating of 'Full'",
        "Use a stronger decoder, or measure the stall current again.",
    ),
    (
        "number-repeated",
        "the same, whatever the letter case",
        "Elm Line 7a is also 'B' (D3)",
        "Renumber one of them, or remove the row that is entered twice.",
    ),
    (
        "card-incomplete",
        "each that is missing",
        "'A' comes to the meet, and Owner is blank",
        "Fill in Owner.",
    ),
    (
        "card-incomplete",
        "checked by the owner",
        "M01 checked an engine of their own",
        "Have somebody other than the owner check it.",
    ),
    ("tag-open", "at home", "open fault: Coupler hangs low", "Mend it and empty the cell."),
    (
        "braking-too-long",
        "10 within 1500 mm, 11 beyond",
        "with Deceleration 11 its stopping distance is 1572 mm from 100 km/h if that is its "
        "top speed, and the layout allows 1500 mm",
        "Set Deceleration to 10 at most.",
    ),
    (
        "braking-too-long",
        "10 within 59 in, 11 beyond",
        "with Deceleration 11 its stopping distance is 62 in from 100 km/h if that is its top "
        "speed, and the layout allows 59 in",
        "Set Deceleration to 10 at most.",
    ),
    (
        "braking-too-long",
        "10 within 1500 mm from 60 mph, 11 beyond",
        "with Deceleration 11 its stopping distance is 1518 mm from 60 mph if that is its top "
        "speed, and the layout allows 1500 mm",
        "Set Deceleration to 10 at most.",
    ),
    (
        "braking-too-long",
        "timed at 105 km/h at most: 11 within 1500 mm from 100 km/h, 12 beyond",
        "with Deceleration 12 its stopping distance is 1633 mm from 100 km/h (by its timed "
        "runs its top speed "
        "is 105 km/h), and the layout allows 1500 mm",
        "Set Deceleration to 11 at most.",
    ),
    (
        "braking-too-long",
        "Vhigh 110 and timed at 60 km/h there: 17 within 1500 mm, 18 beyond",
        "with Deceleration 18 its stopping distance is 1543 mm from 60 km/h, its top speed by "
        "its timed runs, "
        "and the layout allows 1500 mm",
        "Set Deceleration to 17 at most.",
    ),
    (
        "braking-too-long",
        "CV24 of 5 more makes 11 of 6, and 5 less 10 of 15",
        "with Deceleration 6 and CV24 5 its stopping distance is 1572 mm from 100 km/h if that is its top "
        "speed, and the layout allows 1500 mm",
        "Set Deceleration to 5 at most.",
    ),
    (
        "braking-too-long",
        "CV24 alone is more than the layout allows",
        "with Deceleration 0 and CV24 20 its stopping distance is 2858 mm from 100 km/h if that is its top "
        "speed, and the layout allows 1500 mm",
        "Set Deceleration to 10 at most, and CV24 in Extra values to 0.",
    ),
    (
        "engine-too-long",
        "370 fits between 25 and 25 on 420, 370.5 does not",
        "370.5 mm long; the programming track has room for 370 mm (420 less 25 at each end)",
        "Use a longer isolated section for this engine.",
    ),
    (
        "value-not-allowed",
        "at a meet only those of engines that come, or that may",
        "256 is too large: Vstart takes 0 to 255",
        "Enter a whole number, 0 to 255.",
    ),
    ("value-missing", "no Loco", "Loco is blank", "Enter Loco."),
    (
        "value-is-error",
        "in a column of members",
        "the cell shows the error #REF!",
        "Mend the formula, or type the value.",
    ),
    (
        "number-became-date",
        "a date as label, number, address, choice and length",
        "the spreadsheet turned what was typed here into a date or time (2026-02-01)",
        "Format the cell as text, then type it again.",
    ),
    (
        "number-became-float",
        "scientific and very long numbers in columns of text",
        "the spreadsheet turned this text into the number 1.000000E+15 and may have dropped digits",
        "Format the cell as text, then type it again.",
    ),
    (
        "formula-without-value",
        "in a column of members",
        "the formula =A1+1 has no stored result, so its value cannot be read",
        "Open the workbook in a spreadsheet program, let it calculate, and save it.",
    ),
    (
        "loco-repeated",
        "the same label, whatever the letter case and blanks",
        "'JV 31' appears 2 times (also in A4)",
        "Give each engine a label of its own.",
    ),
    (
        "decoder-repeated",
        "the same label",
        "'One' appears 2 times (also in A3)",
        "Give each kind of decoder its own label.",
    ),
    (
        "heading-missing",
        "no Address column",
        "the sheet has no column 'Address'",
        "Add the heading 'Address' in row 1.",
    ),
    (
        "heading-missing",
        "a heading that is misspelt",
        "the sheet has no column 'Address'",
        "Spell 'Adress' in B1 as 'Address', or add that heading.",
    ),
    (
        "heading-missing",
        "a sheet titled like one of ours without any heading of ours",
        "no row of 'Layout' has this sheet's headings, so nothing of it was read",
        "Put Setting and Value above its rows, or give it another title if it is yours.",
    ),
    (
        "heading-unknown",
        "one letter off",
        "'Directon' was not read; it looks like 'Direction'",
        "Spell it 'Direction' if it is meant so.",
    ),
    (
        "heading-unknown",
        "a sheet's title",
        "the sheet 'Adress ranges' was not read; it looks like 'Address ranges'",
        "Rename it to 'Address ranges' if it is meant so.",
    ),
    (
        "engines-elsewhere",
        "headings of engines, and one that Locomotives lacks",
        "the sheet 'Diesels' was not read; under 'Loco', 'Address' it has engines such as 'NE 7'",
        "Move its engines to Locomotives, or have a workbook made of all sheets with "
        "'rosterkit adopt club.xlsx'.",
    ),
    (
        "cells-merged",
        "down over engines, and across our columns",
        "the cells B2 to B3 are merged: only B2 counts",
        "Unmerge the cells and fill each.",
    ),
    ("workbook-unread", "one was not", "b.xlsx: it is damaged", "Fetch it again."),
    (
        "computed-stale",
        "of an earlier address, kind or setting",
        "12 should be 13 for 'A'",
        "Run 'rosterkit fill'.",
    ),
    (
        "computed-not-ours",
        "in a row with nothing else: a total, or left by an engine that is gone",
        "something stands under computed headings in a row without anything else, and was left",
        "Delete the row if it is left over; move away what is your own.",
    ),
    (
        "computed-not-ours",
        "an error value, a formula, a text and a truth value",
        "#REF! is nothing that rosterkit writes here, and was left",
        "Move it to a column of your own, or empty the cell; then run 'rosterkit fill'.",
    ),
    (
        "computed-not-ours",
        "another value in a workbook that was never filled",
        "12 was not computed here, and rosterkit would compute 13",
        "Enter what was read from the decoder in the sheet Readings, then empty the cell; or rename the "
        "heading if the column is your own.",
    ),
    (
        "computed-stale",
        "a result that is an error, or is not stored",
        "#NAME? should be 12 for 'A'",
        "Run 'rosterkit fill'.",
    ),
    (
        "computed-stale",
        "a result that is an error, or is not stored",
        "the formula has no stored result, and should be 193 for 'B'",
        "Run 'rosterkit fill'.",
    ),
    (
        "consist-addresses-differ",
        "a Meet address that one row has not, and another",
        "'X' has no Meet address here, and 86 in another row",
        "Give all rows of the consist the same Meet address.",
    ),
    *formula_messages.SAID,
    *track_messages.SAID,
    *speed_messages.SAID,
)


@pytest.mark.parametrize(
    ("check", "line", "message", "fix"), SAID, ids=[f"{check}: {line}" for check, line, _, _ in SAID]
)
def test_a_finding_says(check: str, line: str, message: str, fix: str) -> None:
    case = next(case for case in CASES if (case.check, case.says) == (check, line))

    found = [(finding.message, finding.fix) for finding in case.findings()]

    assert (message, fix) in found


def test_the_words_of_every_check_are_written_down() -> None:
    assert {check for check, _, _, _ in SAID} == {check.slug for check in CHECKS}


@for_each(CASES)
def test_a_message_has_no_full_stop_and_a_fix_is_a_sentence(case: Case) -> None:
    found = case.findings()

    assert [finding.message for finding in found if finding.message.endswith(".")] == []
    assert [f.fix for f in found if not f.fix.endswith(".") or not f.fix[0].isupper()] == []
