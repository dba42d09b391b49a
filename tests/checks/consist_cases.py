"""What the checks of consists and of labels find.

Addresses of consists: NMRA S-9.2.2 (Jul 2012), CV19; RCN-225 (27.07.2025), CV19/20. Functions: S-9.2.2, CV21
and CV22; RCN-225, CV22. Who leads is common practice, no source. Momentum: S-9.2.2, CV3, CV4, CV23 and CV24;
that engines which run together should have the same is common practice, no source. F0f and F0r by an engine's
own forward and reverse: S-9.2.2, CV22 and bit 7 of CV19, derived.
"""

from collections.abc import Sequence

from tests.checks.cases import Table
from tests.rosters import workbook

_SHARED = Table("consist-address-shared")
_DIFFER = Table("consist-addresses-differ")
_OUTSIDE = Table("consist-outside-range")
_TWICE = Table("loco-in-two-consists")
_LEAD = Table("consist-without-lead")
_CV20 = Table("consist-address-cut")
_LEFT_OUT = Table("consist-decoder-left-out")
_FUNCTION = Table("function-unknown")
_LOCO = Table("loco-unknown")
_MOMENTUM = Table("momentum-differs")
_INSIDE = Table("headlight-within-consist")
_DARK = Table("consist-without-headlight")
_ADDRESS = Table("address-shared")

_KEPT = {"Kind": "consist", "From": 80, "To": 89, "Use": "consists"}
_AB = [{"Loco": "A", "Address": 12, "At meet": "yes"}, {"Loco": "B", "Address": 13}]
_A = {"Consist": "X", "Address": 85, "Position": 1, "Loco": "A"}
_B = {"Consist": "X", "Address": 85, "Position": 2, "Loco": "B"}
_TWO_DECODERS = [
    {"Loco": "A", "Number": "7", "Address": 12, "Lock": 1},
    {"Loco": "A sound", "Number": "7", "Address": 12, "Lock": 2},
]

_ABC = [*_AB, {"Loco": "C", "Address": 14}]


def _momentum(*engines: tuple[object, object]) -> list[dict[str, object]]:
    return [
        {"Loco": loco, "Address": address, "Acceleration": up, "Deceleration": down}
        for (loco, address), (up, down) in zip((("A", 12), ("B", 13)), engines, strict=True)
    ]


def _train(facing: Sequence[str], functions: Sequence[str]) -> list[dict[str, object]]:
    """Return the rows of a consist of three; Facing in column E, Functions in column F."""
    rows = zip("ABC", facing, functions, strict=True)
    return [
        {"Consist": "X", "Address": 85, "Position": n, "Loco": loco, "Facing": way, "Functions": lit}
        for n, (loco, way, lit) in enumerate(rows, 1)
    ]


CASES = (
    _ADDRESS.line(
        "engines of one consist that share on purpose",
        [{"Loco": "A", "Address": 12}, {"Loco": "B", "Address": 12}],
        [("B2", "note"), ("B3", "note")],
        consists=[_A, _B],
    ),
    _ADDRESS.line(
        "engines of two consists",
        [{"Loco": "A", "Address": 12}, {"Loco": "B", "Address": 12}],
        [("B2", "error"), ("B3", "error")],
        consists=[_A, _B | {"Consist": "Y", "Address": 86}],
    ),
    _CV20.line("an address up to 127 needs none", [{"Loco": "A", "Address": 12}], consists=[_A]),
    _CV20.line(
        "a decoder that has CV20",
        [{"Loco": "A", "Address": 12, "Decoder": "New"}],
        consists=[_A | {"Address": 1234}],
        decoders=[{"Decoder": "New", "CV20": "yes"}],
    ),
    _CV20.line(
        "a decoder of which nobody said it, and one of no listed kind",
        [{"Loco": "A", "Address": 12, "Decoder": "New"}, {"Loco": "B", "Address": 13}],
        [("B2", "warning"), ("B3", "warning")],
        consists=[_A | {"Address": 1234}, _B | {"Address": 1234}],
        decoders=[{"Decoder": "New", "CV20": ""}],
    ),
    _CV20.line(
        "a decoder that has none",
        [{"Loco": "A", "Address": 12, "Decoder": "Old"}],
        [("B2", "error")],
        consists=[_A | {"Address": 1234}],
        decoders=[{"Decoder": "Old", "CV20": "no"}],
    ),
    _CV20.line(
        "without CV20 it would answer as another consist",
        [*_AB, {"Loco": "C", "Address": 14}],
        [("B2", "error")],
        consists=[
            _A | {"Address": 1234},
            {"Consist": "Y", "Address": 34, "Position": 1, "Loco": "C"},
        ],
    ),
    _CV20.line(
        "without CV20 it would answer as an engine",
        [*_AB, {"Loco": "C", "Address": 34}],
        [("B2", "error")],
        consists=[_A | {"Address": 1234}],
    ),
    _SHARED.line("an address of its own", _AB, consists=[_A, _B]),
    _SHARED.line("short 85 and a consist of four digits are apart", _AB, consists=[_A | {"Address": 1200}]),
    _SHARED.line(
        "the short address of an engine outside",
        [*_AB, {"Loco": "C", "Address": 85}],
        [("B2", "error")],
        consists=[_A, _B],
    ),
    _SHARED.line(
        "a long address of the same number is another one",
        [*_AB, {"Loco": "C", "Address": 85, "Address kind": "long"}],
        consists=[_A, _B],
    ),
    _SHARED.line(
        "a consist of four digits and the long address of an engine",
        [*_AB, {"Loco": "C", "Address": 1200}],
        [("B2", "error")],
        consists=[_A | {"Address": 1200}],
    ),
    _SHARED.line(
        "the address of an engine inside is a note",
        _AB,
        [("B2", "note")],
        consists=[_A | {"Address": 12}, _B | {"Address": 12}],
    ),
    _SHARED.line(
        "another consist",
        _AB,
        [("B2", "error"), ("B3", "error")],
        consists=[_A, _B | {"Consist": "Y", "Position": 1}],
    ),
    _SHARED.across(
        "at a meet across workbooks, consists that come only",
        [
            workbook(_AB, name="a.xlsx", consists=[_A]),
            workbook(
                [{"Loco": "C", "Address": 85, "At meet": "yes"}, {"Loco": "D", "Address": 14}],
                name="b.xlsx",
                consists=[_A | {"Loco": "D"}],
            ),
        ],
        [("B2", "error")],
        meet=True,
    ),
    _SHARED.across(
        "at a meet the Meet address of a consist counts, and at home its own",
        [
            workbook(_AB, name="a.xlsx", consists=[_A | {"Meet address": 86}]),
            workbook(
                [
                    {"Loco": "C", "Address": 85, "At meet": "yes"},
                    {"Loco": "D", "Address": 86, "At meet": "yes"},
                ],
                name="b.xlsx",
            ),
        ],
        [("E2", "error")],
        meet=True,
    ),
    _SHARED.line(
        "at home a Meet address of a consist is nobody's concern",
        [*_AB, {"Loco": "C", "Address": 86}],
        consists=[_A | {"Meet address": 86}, _B | {"Meet address": 86}],
    ),
    _DIFFER.line(
        "the same Meet address on all rows",
        _AB,
        consists=[_A | {"Meet address": 86}, _B | {"Meet address": 86}],
    ),
    _DIFFER.line(
        "a Meet address that one row has not, and another",
        _ABC,
        [("E3", "error"), ("E4", "error")],
        consists=[
            _A | {"Meet address": 86},
            _B | {"Meet address": ""},
            _B | {"Position": 3, "Loco": "C", "Meet address": 87},
        ],
    ),
    _OUTSIDE.line(
        "a Meet address outside",
        _AB,
        [("E2", "warning")],
        ranges=[_KEPT],
        consists=[_A | {"Meet address": 90}, _B | {"Meet address": 90}],
    ),
    _DIFFER.line("the same on all rows", _AB, consists=[_A, _B]),
    _DIFFER.line("two addresses", _AB, [("B3", "error")], consists=[_A, _B | {"Address": 86}]),
    _OUTSIDE.line("without ranges for consists", _AB, consists=[_A]),
    _OUTSIDE.line(
        "within",
        _AB,
        ranges=[{"Kind": "consist", "From": 80, "To": 99, "Use": "consists"}],
        consists=[_A],
    ),
    _OUTSIDE.line(
        "outside",
        _AB,
        [("B2", "warning")],
        ranges=[{"Kind": "short", "From": 90, "To": 99, "Use": "consists"}],
        consists=[_A, _B],
    ),
    *(
        _OUTSIDE.line(
            f"in a range of the kind {kind} for {use}",
            _AB,
            found,
            ranges=[_KEPT, {"Kind": kind, "From": 90, "To": 90, "Use": use}],
            consists=[_A | {"Address": 90}],
        )
        for kind, use, found in (
            ("short", "consists", []),
            ("consist", "engines", []),
            ("consist", "never", [("B2", "warning")]),
            ("short", "engines", [("B2", "warning")]),
            ("short", "never", [("B2", "warning")]),
            ("long", "consists", [("B2", "warning")]),
        )
    ),
    _TWICE.line("each once", _AB, consists=[_A, _B]),
    _TWICE.line(
        "in two consists, and twice in one",
        _AB,
        [("D2", "error"), ("D3", "error"), ("D4", "error")],
        consists=[_A, _B | {"Consist": "Y", "Loco": "a"}, _A],
    ),
    _LEAD.line("one leads", _AB, consists=[_A, _B]),
    _LEAD.line("nobody leads", _AB, [("C2", "warning")], consists=[_A | {"Position": ""}, _B]),
    _LEAD.line("two lead", _AB, [("C3", "warning")], consists=[_A, _B | {"Position": 1}]),
    _LEFT_OUT.line("both decoders are in", _TWO_DECODERS, consists=[_A, _A | {"Loco": "A sound"}]),
    _LEFT_OUT.line("neither is in", _TWO_DECODERS),
    _LEFT_OUT.line("one is in", _TWO_DECODERS, [("A3", "warning")], consists=[_A]),
    _FUNCTION.line("blank", _AB, consists=[_A | {"Functions": ""}]),
    _FUNCTION.line("trade notation", _AB, consists=[_A | {"Functions": "F0f, f0r F1;F12 F13-F20 F21 - F28"}]),
    _FUNCTION.line("none", _AB, consists=[_A | {"Functions": "None"}]),
    _FUNCTION.line(
        "F15 has no bit of its own", _AB, [("E2", "error")], consists=[_A | {"Functions": "F1 F15"}]
    ),
    _MOMENTUM.line("alike", _momentum((8, 4), (8, 4)), consists=[_A, _B]),
    _MOMENTUM.line("one is left as it is", _momentum((8, 4), ("", "")), consists=[_A, _B]),
    _MOMENTUM.line("engines that do not run together", _momentum((8, 4), (9, 5)), consists=[_A]),
    _MOMENTUM.line(
        "of a consist, at each that has more",
        _momentum((8, 5), (9, 4)),
        [("D2", "warning"), ("C3", "warning")],
        consists=[_A, _B],
    ),
    _MOMENTUM.line(
        "CV23 and CV24 make up for a difference, and make one",
        _momentum((8, 5), (6, 5)),
        [("D2", "warning")],
        consists=[_A, _B],
        extras=[
            {"Loco": "B", "CV": 23, "Value": 2},
            {"Loco": "A", "CV": 24, "Value": 1},
        ],
    ),
    _MOMENTUM.line(
        "engines that match, through another",
        [*_momentum((8, 4), (9, 4)), {"Loco": "C", "Address": 14, "Acceleration": 7}],
        [("C2", "warning"), ("C3", "warning")],
        goals=[{"Loco": "A", "Match": "c"}, {"Loco": "B", "Match": "A"}],
    ),
    _MOMENTUM.line(
        "what CV23 adds is more than the least: it has to go as well",
        _momentum((0, 4), (2, 4)),
        [("C2", "warning")],
        consists=[_A, _B],
        extras=[{"Loco": "A", "CV": 23, "Value": 5}],
    ),
    _MOMENTUM.line(
        "an engine that matches and is in the same consist is told once",
        _momentum((8, 4), (9, 4)),
        [("C3", "warning")],
        consists=[_A, _B],
        goals=[{"Loco": "A", "Match": "B"}],
    ),
    *(
        _INSIDE.line(
            says,
            _ABC,
            [(f"F{row}", "note") for row in rows],
            consists=_train(facing, functions),
        )
        for says, facing, functions, rows in (
            ("what lights both ends", ("", "", ""), ("F0f", "none", "F0r"), ()),
            (
                "the last faces the other way, its front lights the end",
                ("", "", "reverse"),
                ("F0f", "", "F0f"),
                (),
            ),
            ("the leading one faces the other way", ("reverse", "", ""), ("F0r", "", "F0r"), ()),
            ("other functions light nothing", ("", "", ""), ("F0f F1", "F1 F8", "F12"), ()),
            ("the rear light of the leading one", ("", "", ""), ("F0", "", "F0r"), (2,)),
            ("any headlight between", ("", "", ""), ("F0f", "F0f F1", ""), (3,)),
            ("the front light of the last one", ("", "", ""), ("F0f", "", "F0"), (4,)),
            (
                "the rear light of the last one that faces the other way",
                ("", "", "reverse"),
                ("F0f", "", "F0r"),
                (4,),
            ),
        )
    ),
    _INSIDE.line("an order that nobody knows", _AB, consists=[_A, _B | {"Position": "", "Functions": "F0f"}]),
    _INSIDE.line(
        "nobody leads: the order may not be meant so",
        _AB,
        consists=[_A | {"Position": 3}, _B | {"Functions": "F0f"}],
    ),
    _INSIDE.line("an engine alone", _AB, consists=[_A | {"Functions": "F0"}]),
    _INSIDE.line(
        "two decoders of the leading engine are one place",
        [*_TWO_DECODERS, {"Loco": "B", "Address": 13}],
        [("E2", "note")],
        consists=[
            _A | {"Functions": "F0r"},
            _A | {"Loco": "A sound", "Position": 2, "Functions": "F0f"},
            _B | {"Position": 3},
        ],
    ),
    _INSIDE.line("functions that cannot be read", _AB, consists=[_A, _B | {"Functions": "F0f F15"}]),
    _DARK.line("its front light", _AB, consists=[_A | {"Functions": "F0f"}, _B]),
    _DARK.line("nothing is said", _AB, consists=[_A | {"Functions": ""}, _B]),
    _DARK.line(
        "its rear light where it leads in reverse",
        _AB,
        consists=[_A | {"Facing": "reverse", "Functions": "F0r"}, _B],
    ),
    _DARK.line("none", _AB, [("E2", "warning")], consists=[_A | {"Functions": "none"}, _B]),
    _DARK.line(
        "its front light where it leads in reverse",
        _AB,
        [("F2", "warning")],
        consists=[_A | {"Facing": "reverse", "Functions": "F0f"}, _B],
    ),
    _DARK.line("functions that cannot be read", _AB, consists=[_A | {"Functions": "F15"}, _B]),
    _LOCO.line(
        "engines that there are",
        _AB,
        consists=[_A],
        extras=[{"Loco": "a", "CV": 49, "Value": 1}],
        readings=[{"Loco": "B", "CV": 49, "Value": 1}],
    ),
    _LOCO.line("in Consists", _AB, [("D2", "error")], consists=[_A | {"Loco": "C"}]),
    _LOCO.line(
        "in Consists, most like an engine that is in it already",
        [{"Loco": "JV 2101", "Address": 12}, {"Loco": "JV 2102", "Address": 13}],
        [("D3", "error")],
        consists=[_A | {"Loco": "JV 2101"}, _B | {"Loco": "JV 210"}],
    ),
    _LOCO.line("in Extra values", _AB, [("A2", "error")], extras=[{"Loco": "C", "CV": 49, "Value": 1}]),
    _LOCO.line(
        "in Readings",
        [{"Loco": "JV 2101", "Address": 2101}],
        [("A2", "error")],
        readings=[{"Loco": "JV 2110", "CV": 49, "Value": 1}],
    ),
)
