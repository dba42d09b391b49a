"""What the checks of addresses find.

The limits are those of NMRA S-9.2.2 (Jul 2012), CV1, and RCN-225 (27.07.2025), CV17/18; that systems differ
over 100 to 127 is common practice, no source; 112 to 127 with old decoders is NMRA S-9.2.3 (Jul 2012),
section C.
"""

from tests.checks.cases import Table
from tests.rosters import workbook

_MISSING = Table("address-missing")
_OUT = Table("address-out-of-range")
_SHARED = Table("address-shared")
_DEFAULT = Table("address-default")
_DOUBTFUL = Table("address-kind-doubtful")
_RESERVED = Table("address-reserved")
_OFF_RULE = Table("address-off-rule")

_OLD = {"Decoder": "Old", "Steps": "14", "Long address": "yes"}
_SHORT_ONLY = {"Decoder": "Short only", "Steps": "28/128", "Long address": "no"}
_NEW = {"Decoder": "New", "Steps": "28/128", "Long address": "yes"}
_LAST_FOUR = {"Address rule": "last four digits"}
_GUEST = {"Loco": "G", "Address": 5, "At meet": "yes"}

CASES = (
    _MISSING.line("an address is there", [{"Loco": "A", "Address": 12}]),
    _MISSING.line("blank", [{"Loco": "A", "Address": 12}, {"Loco": "B"}], [("B3", "error")]),
    _MISSING.line("blanks only", [{"Loco": "A", "Address": "  "}], [("B2", "error")]),
    _MISSING.line("a word is not missing", [{"Loco": "A", "Address": "soon"}]),
    _OUT.line("1 and 10239 are addresses", [{"Loco": "A", "Address": 1}, {"Loco": "B", "Address": 10239}]),
    _OUT.line(
        "0 and 10240 are none",
        [{"Loco": "A", "Address": 0}, {"Loco": "B", "Address": 10240}],
        [("B2", "error"), ("B3", "error")],
    ),
    _OUT.line("short 127 is one", [{"Loco": "A", "Address": 127, "Address kind": "short"}]),
    _OUT.line(
        "short 128 is none", [{"Loco": "A", "Address": 128, "Address kind": "short"}], [("B2", "error")]
    ),
    _OUT.line(
        "a layout that drives short 1 to 99",
        [{"Loco": "A", "Address": 99}, {"Loco": "B", "Address": 100, "Address kind": "short"}],
        [("B3", "error")],
        layout={"Short address range": "1-99"},
    ),
    _OUT.line(
        "a blank kind is long beyond the layout's short addresses",
        [{"Loco": "A", "Address": 100}],
        layout={"Short address range": "1-99"},
    ),
    _OUT.line(
        "a layout that drives long 128 to 9999",
        [{"Loco": "A", "Address": 127, "Address kind": "long"}, {"Loco": "B", "Address": 10000}],
        [("B2", "error"), ("B3", "error")],
        layout={"Long address range": "128 - 9999"},
    ),
    _OUT.line(
        "an impossible range of the layout sets no limit",
        [{"Loco": "A", "Address": 50}],
        layout={"Short address range": "99-1"},
    ),
    _OUT.line(
        "the meet address counts too",
        [{"Loco": "A", "Address": 12, "Meet address": 0}, {"Loco": "B", "Address": 13, "Meet address": 9000}],
        [("C2", "error"), ("C3", "error")],
        layout={"Long address range": "128-8999"},
    ),
    _SHARED.line("two addresses", [{"Loco": "A", "Address": 12}, {"Loco": "B", "Address": 13}]),
    _SHARED.line(
        "short 12 and long 12 are two addresses",
        [{"Loco": "A", "Address": 12}, {"Loco": "B", "Address": 12, "Address kind": "long"}],
    ),
    _SHARED.line(
        "both ends of a clash",
        [{"Loco": "A", "Address": 12}, {"Loco": "B", "Address": 12}],
        [("B2", "error"), ("B3", "error")],
    ),
    _SHARED.line(
        "all ends of a clash of three",
        [{"Loco": "A", "Address": 500}, {"Loco": "B", "Address": 500}, {"Loco": "C", "Address": 500}],
        [("B2", "error"), ("B3", "error"), ("B4", "error")],
    ),
    _SHARED.line(
        "a kind that is named and one that follows from the number",
        [{"Loco": "A", "Address": 25, "Address kind": "S"}, {"Loco": "B", "Address": "２５"}],
        [("B2", "error"), ("B3", "error")],
    ),
    _SHARED.line(
        "two decoders of one engine with a lock each",
        [
            {"Loco": "A", "Address": 12, "Railway": "Elm", "Number": "7", "Lock": 1},
            {"Loco": "A sound", "Address": 12, "Railway": "elm", "Number": "7", "Lock": 2},
        ],
        [("B2", "note"), ("B3", "note")],
    ),
    _SHARED.line(
        "two decoders of one engine with the same lock",
        [
            {"Loco": "A", "Address": 12, "Railway": "Elm", "Number": "7", "Lock": 1},
            {"Loco": "A sound", "Address": 12, "Railway": "Elm", "Number": "7", "Lock": 1},
        ],
        [("B2", "error"), ("B3", "error")],
    ),
    _SHARED.line(
        "locks do not make one engine of two that have no number",
        [{"Loco": "A", "Address": 12, "Lock": 1}, {"Loco": "B", "Address": 12, "Lock": 2}],
        [("B2", "error"), ("B3", "error")],
    ),
    _SHARED.line(
        "what cannot be an address is not shared",
        [
            {"Loco": "A", "Address": 200, "Address kind": "short"},
            {"Loco": "B", "Address": 200, "Address kind": "short"},
        ],
    ),
    _SHARED.line(
        "a kind that cannot be used leaves the address unknown",
        [{"Loco": "A", "Address": 12, "Address kind": "tall"}, {"Loco": "B", "Address": 12}],
    ),
    _SHARED.line(
        "at home a meet address is not answered",
        [{"Loco": "A", "Address": 12, "Meet address": 13}, {"Loco": "B", "Address": 13}],
    ),
    _SHARED.line(
        "at a meet the meet address is answered",
        [
            {"Loco": "A", "Address": 12, "Meet address": 13, "At meet": "yes"},
            {"Loco": "B", "Address": 13, "At meet": "yes"},
        ],
        [("C2", "error"), ("B3", "error")],
        meet=True,
    ),
    _SHARED.line(
        "a meet address takes an engine out of a clash",
        [
            {"Loco": "A", "Address": 12, "Meet address": 13, "At meet": "yes"},
            {"Loco": "B", "Address": 12, "At meet": "yes"},
        ],
        meet=True,
    ),
    _SHARED.line(
        "a meet address that cannot be used is not replaced by the home address",
        [
            {"Loco": "A", "Address": 12, "Meet address": "later", "At meet": "yes"},
            {"Loco": "B", "Address": 12, "At meet": "yes"},
        ],
        meet=True,
    ),
    _SHARED.line(
        "engines that stay at home do not clash at a meet",
        [{"Loco": "A", "Address": 12, "At meet": "yes"}, {"Loco": "B", "Address": 12, "At meet": "no"}],
        meet=True,
    ),
    _SHARED.across(
        "at a meet across workbooks",
        [workbook([_GUEST], name="a.xlsx"), workbook([_GUEST], name="b.xlsx")],
        [("B2", "error"), ("B2", "error")],
        meet=True,
    ),
    _SHARED.across(
        "decoders of one engine do not stand in two workbooks",
        [
            workbook([{**_GUEST, "Railway": "Elm", "Number": "7", "Lock": 1}], name="a.xlsx"),
            workbook([{**_GUEST, "Railway": "Elm", "Number": "7", "Lock": 2}], name="b.xlsx"),
        ],
        [("B2", "error"), ("B2", "error")],
        meet=True,
    ),
    _SHARED.across(
        "two scales do not run on one layout",
        [
            workbook([_GUEST], layout={"Scale": "HO"}, name="a.xlsx"),
            workbook([_GUEST], layout={"Scale": "N"}, name="b.xlsx"),
        ],
        meet=True,
    ),
    _DEFAULT.line("4 and long 3", [{"Loco": "A", "Address": 4}, {"Loco": "B", "Address": 3, "Kind": "long"}]),
    _DEFAULT.line("short 3", [{"Loco": "A", "Address": 3}], [("B2", "warning")]),
    _DEFAULT.line(
        "at a meet it is an error",
        [{"Loco": "A", "Address": 3, "At meet": "yes"}],
        [("B2", "error")],
        meet=True,
    ),
    _DEFAULT.line(
        "a meet address takes it away",
        [{"Loco": "A", "Address": 3, "Meet address": 44, "At meet": "yes"}],
        meet=True,
    ),
    _DEFAULT.line(
        "a meet address can be it",
        [{"Loco": "A", "Address": 44, "Meet address": 3, "At meet": "yes"}],
        [("C2", "error")],
        meet=True,
    ),
    _DOUBTFUL.line("short 99 and long 128", [{"Loco": "A", "Address": 99}, {"Loco": "B", "Address": 128}]),
    _DOUBTFUL.line(
        "short 100 and 127",
        [{"Loco": "A", "Address": 100}, {"Loco": "B", "Address": 127}],
        [("B2", "warning"), ("B3", "warning")],
    ),
    _DOUBTFUL.line(
        "long 1 and 127",
        [
            {"Loco": "A", "Address": 1, "Address kind": "long"},
            {"Loco": "B", "Address": 127, "Address kind": "long"},
        ],
        [("B2", "warning"), ("B3", "warning")],
    ),
    _DOUBTFUL.line(
        "long 100 where the layout's long addresses begin there, as is typed",
        [{"Loco": "A", "Address": 100}],
        layout={"Long addresses from": 100},
    ),
    _DOUBTFUL.line(
        "short 100 where the layout's long addresses begin there, as is typed",
        [{"Loco": "A", "Address": 100, "Address kind": "short"}],
        [("B2", "warning")],
        layout={"Long addresses from": 100},
    ),
    _DOUBTFUL.line(
        "short 100 where the layout's long addresses begin at 128, as is typed",
        [{"Loco": "A", "Address": 100}],
        layout={"Long addresses from": 128},
    ),
    _DOUBTFUL.line(
        "long 5 where the layout's long addresses begin at 128, as is typed",
        [{"Loco": "A", "Address": 5, "Address kind": "long"}],
        [("B2", "warning")],
        layout={"Long addresses from": 128},
    ),
    _DOUBTFUL.line("a meet address", [{"Loco": "A", "Address": 9, "Meet address": 101}], [("C2", "warning")]),
    _RESERVED.line(
        "up to 111, or with a decoder that is not old",
        [
            {"Loco": "A", "Address": 111, "Decoder": "Old"},
            {"Loco": "B", "Address": 112, "Decoder": "New"},
            {"Loco": "C", "Address": 113, "Decoder": "Nobody's"},
            {"Loco": "D", "Address": 114},
        ],
        decoders=[_OLD, _NEW],
    ),
    _RESERVED.line(
        "from 112 on with a decoder of 14 steps or without long address",
        [
            {"Loco": "A", "Address": 112, "Decoder": "old"},
            {"Loco": "B", "Address": 127, "Decoder": "SHORT ONLY"},
        ],
        [("B2", "warning"), ("B3", "warning")],
        decoders=[_OLD, _SHORT_ONLY],
    ),
    _RESERVED.line(
        "long 112 is no such packet",
        [{"Loco": "A", "Address": 112, "Address kind": "long", "Decoder": "Old"}],
        decoders=[_OLD],
    ),
    _OFF_RULE.line("no rule", [{"Loco": "A", "Address": 12, "Number": "2101"}]),
    _OFF_RULE.line(
        "as the rule has it",
        [
            {"Loco": "A", "Address": 2101, "Number": "2101"},
            {"Loco": "B", "Address": 418, "Number": "0418"},
            {"Loco": "C", "Address": 3456, "Number": "Class 5 No. 123456"},
            {"Loco": "D", "Address": 4012, "Number": "4012A"},
        ],
        layout=_LAST_FOUR,
    ),
    _OFF_RULE.line(
        "numbers of which the rule makes nothing",
        [
            {"Loco": "A", "Address": 12, "Number": "4E2"},
            {"Loco": "B", "Address": 13, "Number": "0000"},
            {"Loco": "C", "Address": 14, "Number": "Daisy"},
            {"Loco": "D", "Address": 15},
        ],
        layout=_LAST_FOUR,
    ),
    _OFF_RULE.line(
        "another address",
        [{"Loco": "A", "Address": 2102, "Number": 2101}],
        [("B2", "note")],
        layout=_LAST_FOUR,
    ),
    _OFF_RULE.line(
        "another address, and what the rule gives is taken or in another's range",
        [
            {"Loco": "A", "Address": 2102, "Number": "2101", "Owner": "M01"},
            {"Loco": "B", "Address": 2101, "Number": "", "Owner": "M01"},
            {"Loco": "C", "Address": 2103, "Number": "7012", "Owner": "M01"},
        ],
        [("B2", "note"), ("B4", "note")],
        layout=_LAST_FOUR,
        ranges=[
            {"Kind": "long", "From": 128, "To": 9999, "Use": "engines", "Member": ""},
            {"Kind": "long", "From": 7000, "To": 7099, "Use": "engines", "Member": "M05"},
        ],
    ),
    _OFF_RULE.line(
        "last three and last two digits",
        [{"Loco": "A", "Address": 101, "Number": "2101"}, {"Loco": "B", "Address": 2101, "Number": "2101"}],
        [("B3", "note")],
        layout={"Address rule": "last three digits"},
    ),
    _OFF_RULE.line(
        "last two digits",
        [{"Loco": "A", "Address": 1, "Number": "2101"}, {"Loco": "B", "Address": 101, "Number": "2101"}],
        [("B3", "note")],
        layout={"Address rule": "last two digits"},
    ),
)
