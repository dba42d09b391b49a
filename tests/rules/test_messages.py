"""What a finding of every check says, word for word."""

import pytest

from rosterkit.rules import CHECKS
from tests.rules.cases import Case
from tests.rules.test_cases import CASES

SAID = (
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
        "short 128 cannot be: short addresses are 1 to 127",
        "Make it a long address, or choose one up to 127.",
    ),
    (
        "address-out-of-range",
        "a layout that drives short 1 to 99",
        "short 100 is outside the short addresses of this layout, 1 to 99",
        "Choose an address from 1 to 99.",
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
        "Give 'A' or 'B' another address.",
    ),
    (
        "address-shared",
        "at a meet across workbooks",
        "short 5 is also the address of 'G' (b.xlsx B2)",
        "Give 'G' or 'G' another address.",
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
        "3 is the address of every new decoder",
        "Give the engine an address of its own.",
    ),
    (
        "address-kind-doubtful",
        "short 100 and 127",
        "short 100 is taken for long 100 by some command stations",
        "Use short 1 to 99 or long 128 to 9999.",
    ),
    (
        "address-reserved",
        "from 112 on with a decoder of 14 steps or without long address",
        "short 112 can make an old decoder such as 'old' reprogram itself",
        "Use a short address up to 99.",
    ),
    (
        "address-off-rule",
        "another address",
        "long 2102 is not the last four digits of '2101', 2101",
        "Use 2101 if it is free; else leave it.",
    ),
    (
        "address-not-for-engines",
        "never",
        "short 12 is never used (short 12)",
        "Choose another short address.",
    ),
    (
        "address-not-for-engines",
        "a smaller range goes before a larger one",
        "short 3 is kept for the bench (short 3)",
        "Choose from short 1 to 99.",
    ),
    (
        "address-in-another-range",
        "another's",
        "short 12 is in M02's range short 1 to 99, not M01's",
        "Choose another short address.",
    ),
    (
        "address-in-another-range",
        "an engine without owner",
        "short 12 is in M02's range short 1 to 99, and the engine has no owner",
        "Choose another short address.",
    ),
    (
        "address-outside-range",
        "outside",
        "short 12 is in no range that M01 may use",
        "Choose from short 13 to 99.",
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
        "a setting that begins at 0",
        "the range 0-99 begins below 1",
        "Enter a range within 1-127.",
    ),
    (
        "steps-mismatch",
        "14 on 28/128",
        "set to 14 speed steps, and the layout sends 28/128: the lights will blink",
        "Set it to 28/128, or empty the cell.",
    ),
    (
        "dc-running-on",
        "on",
        "DC running is on: a glitch on the rails can start the engine at full speed",
        "Set DC running to off (CV29 then loses 4).",
    ),
    (
        "curve-not-rising",
        "Start above Middle",
        "Start 60 is not below Middle 40",
        "Make Start smaller than Middle.",
    ),
    (
        "speed-table-missing",
        "not named",
        "Speed curve is table, but no speed table is named",
        "Name a speed table, or set Speed curve to 3-point.",
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
        "Choose a short address.",
    ),
    (
        "decoder-overloaded",
        "beyond the peak",
        "stalled, the motor draws 2.1 A; 'Full' stands 2 A peak",
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
        "with Braking 11 it rolls 1572 mm from 100 km/h, and the layout allows 1500 mm",
        "Set Braking to 10 at most.",
    ),
    (
        "braking-too-long",
        "10 within 59 in, 11 beyond",
        "with Braking 11 it rolls 62 in from 100 km/h, and the layout allows 59 in",
        "Set Braking to 10 at most.",
    ),
    (
        "braking-too-long",
        "10 within 1500 mm from 60 mph, 11 beyond",
        "with Braking 11 it rolls 1518 mm from 60 mph, and the layout allows 1500 mm",
        "Set Braking to 10 at most.",
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
        "256 is too large: Start takes 0 to 255",
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
        "'JV 31' stands 2 times (also in A4)",
        "Give each engine a label of its own.",
    ),
    (
        "decoder-repeated",
        "the same label",
        "'One' stands 2 times (also in A3)",
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
        "a sheet titled like one of ours without any heading of ours",
        "no row of 'Layout' has this sheet's headings, so nothing of it was read",
        "Put our headings above its rows, or give the sheet another title if it is your own.",
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
        "computed-stale",
        "left in the row of an engine that is gone",
        "computed values of an engine that is no longer in this row",
        "Run 'rosterkit fill'.",
    ),
    (
        "extra-value-clashes",
        "every register that a column sets",
        "CV1 is set by Address, so it would be keyed in twice",
        "Remove the row, and use Address.",
    ),
    (
        "extra-value-clashes",
        "one register twice",
        "CV49 of 'A' stands 2 times (also in B3)",
        "Remove all rows but one.",
    ),
    ("register-not-writable", "CV7 and CV8", "CV7 cannot be set: it is the version", "Remove the row."),
    (
        "page-missing",
        "CV257 and CV512 without",
        "CV257 stands on a page, and Page high is blank",
        "Enter both Page high (CV31) and Page low (CV32), as the decoder's instructions give them.",
    ),
    (
        "page-unused",
        "a page at CV49",
        "CV49 is on no page: only CV257 to CV512 are",
        "Correct the register, or empty the page.",
    ),
    ("speed-table-incomplete", "27 values", "'Slow' has no value at step 8", "Fill all 28 columns."),
    (
        "speed-table-falls",
        "step 9 below step 8",
        "'Slow' falls from 28 at step 8 to 27 at step 9",
        "Make step 9 at least 28.",
    ),
    (
        "speed-table-unknown",
        "a table that there is not",
        "'Slow' is not in the sheet Speed tables",
        "Enter its values there, or spell it as there.",
    ),
    (
        "speed-table-unused",
        "with three points",
        "'Slow' is not used: Speed curve is 3-point",
        "Set Speed curve to table, or empty the cell.",
    ),
    (
        "table-repeated",
        "the same label",
        "'Slow' stands 2 times (also in A3)",
        "Give each speed table a label of its own.",
    ),
    (
        "consist-address-shared",
        "the short address of an engine outside",
        "85 is also the address of 'C' (B4)",
        "Give the consist 'X' or 'C' another address.",
    ),
    (
        "consist-address-shared",
        "the address of an engine inside is a note",
        "12 is also the address of 'A' (B2), which is in the consist: it cannot be driven alone",
        "Give the consist 'X' or 'A' another address.",
    ),
    (
        "consist-address-shared",
        "another consist",
        "85 is also the address of the consist 'Y' (B3)",
        "Give 'X' or 'Y' another address.",
    ),
    (
        "consist-address-shared",
        "at a meet across workbooks, consists that come only",
        "85 is also the address of 'C' (b.xlsx B2)",
        "Give the consist 'X' or 'C' another address.",
    ),
    (
        "consist-addresses-differ",
        "two addresses",
        "'X' has 86 here and 85 above",
        "Give all rows of the consist the same address.",
    ),
    ("consist-outside-range", "outside", "85 is in no range for consists", "Choose from 90 to 99."),
    (
        "loco-in-two-consists",
        "in two consists, and twice in one",
        "'A' stands in 3 rows of consists (also in D3)",
        "Remove all of them but one.",
    ),
    (
        "consist-without-lead",
        "nobody leads",
        "no engine of 'X' has Position 1",
        "Enter Position 1 at the one that leads.",
    ),
    (
        "consist-without-lead",
        "two lead",
        "'B' and 'A' both have Position 1 in 'X'",
        "Enter Position 1 at the one that leads only.",
    ),
    (
        "consist-decoder-left-out",
        "one is in",
        "'A' is in consist 'X', its other decoder is not",
        "Enter 'A sound' in Consists as well, with the same address and facing.",
    ),
    (
        "function-unknown",
        "F15 has no bit of its own",
        "function 'F15' is not one of F0f, F0r, F1 to F12, F13-F20, F21-F28",
        "Write them as in F0f F0r F1 F8, or none.",
    ),
    (
        "loco-unknown",
        "in Consists",
        "there is no engine 'C' in Locomotives",
        "Spell it as there, or remove the row.",
    ),
    (
        "loco-unknown",
        "in Readings",
        "there is no engine 'JV 2110' in Locomotives",
        "Did you mean 'JV 2101'? Spell it as there, or remove the row.",
    ),
    (
        "accessory-address-shared",
        "the same number by both methods",
        "17 is also the number of 'U' (B3)",
        "Give 'T' or 'U' another number.",
    ),
    (
        "accessory-address-shared",
        "an output among the four numbers of a decoder",
        "20 is one of the four numbers that the decoder of 'T' (B2) answers",
        "Use a number from another four, unless that pair of outputs is free there.",
    ),
    (
        "accessory-address-reserved",
        "2041 to 2044 are the broadcast, and then the numbers wrap",
        "2041 is the broadcast: every accessory decoder answers it",
        "Use a number from 1 to 2040.",
    ),
    ("accessory-outside-range", "outside", "41 is in no range for accessories", "Choose from 1 to 40."),
    (
        "accessory-repeated",
        "the same label",
        "'T' stands 2 times (also in A3)",
        "Give each device a label of its own.",
    ),
    ("reading-differs", "another value", "CV4 reads 6, wanted 5", "Key in CV4 = 5, or correct the roster."),
    (
        "reading-differs",
        "the direction bit beside one that is explained",
        "CV29 reads 39, wanted 34 (direction reversed, DC running on)",
        "Key in CV29 = 34, or correct the roster.",
    ),
    (
        "reading-differs",
        "a page is known where the engine has the register on one",
        "CV300 of page 16/1 reads 8, wanted 7",
        "Key in CV300 = 7, or correct the roster.",
    ),
    (
        "reading-doubtful",
        "255 everywhere",
        "all 3 registers read as 255 or without answer, so nothing was read at all",
        "Look for a stay-alive capacitor, dirty wheels or a motor that is not connected; read again.",
    ),
    (
        "reading-doubtful",
        "one without answer is a note",
        "CV29 gave no answer; a write may have been taken all the same",
        "Clean wheels and rails and read it again; some decoders lack the register.",
    ),
    (
        "decoder-not-as-listed",
        "another maker, and another version",
        "CV8 reads 14; a decoder 'Sound' has 13 there, its maker ID",
        "Make sure that the right engine is on the track; else correct Decoder or Decoder types.",
    ),
    (
        "decoder-not-as-listed",
        "a maker ID above 255 is in CV107 and CV108",
        "CV108 reads 3; a decoder 'Sound' has 2 there, its maker ID's low byte",
        "Make sure that the right engine is on the track; else correct Decoder or Decoder types.",
    ),
    (
        "lock-closed",
        "closed",
        "the lock is closed: CV15 = 1, CV16 = 2; the decoder takes no writes",
        "Key in CV15 = 2 before anything else.",
    ),
    (
        "lock-closed",
        "closed to one decoder of several is a note",
        "the lock is closed: CV15 = 1, CV16 = 2; the decoder takes no writes until its own number is keyed in",
        "Key in CV15 = 2 before anything else.",
    ),
    (
        "consist-left-behind",
        "in an old one, backward",
        "still in consist 38, and the roster has the engine in none: it does not move at its own address",
        "Key in CV19 = 0.",
    ),
    (
        "consist-left-behind",
        "in an old one of four digits",
        "still in consist 1200, and the roster has the engine in none: it does not move at its own address",
        "Key in CV19 = 0 and CV20 = 0.",
    ),
    (
        "meet-address-left",
        "still its meet address",
        "still answers its meet address, long 1000, and not short 12",
        "Give it back short 12, or read with --meet while the meet lasts.",
    ),
    (
        "pair-half-taken",
        "only CV17",
        "CV17 was taken and CV18 was not: it reads 3, wanted 232",
        "Key in CV17 and CV18 again, directly one after the other.",
    ),
    (
        "address-not-active",
        "the pair, and CV29 short",
        "long 1000 is written, but CV29 = 2 makes the engine answer the short address in CV1",
        "Key in CV29 = 34.",
    ),
    (
        "address-not-active",
        "CV1, and CV29 long",
        "short 12 is written, but CV29 = 34 makes the engine answer the long address in CV17 and CV18",
        "Key in CV29 = 2.",
    ),
    (
        "dc-running-still-on",
        "still on",
        "DC running is still on in the engine: CV29 reads 38, wanted 34",
        "Key in CV29 = 34.",
    ),
    (
        "address-shared",
        "engines of one consist that share on purpose",
        "short 12 is also the address of 'B' (B3), in the same consist",
        "Nothing, as long as they never run apart.",
    ),
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


@pytest.mark.parametrize("case", CASES, ids=str)
def test_a_message_has_no_full_stop_and_a_fix_is_a_sentence(case: Case) -> None:
    found = case.findings()

    assert [finding.message for finding in found if finding.message.endswith(".")] == []
    assert [f.fix for f in found if not f.fix.endswith(".") or not f.fix[0].isupper()] == []
