"""What the checks of accessories find.

Decoder and packet addresses: NMRA S-9.2.1 (Jul 2012), section D; RCN-225 (27.07.2025), section 3.1; the last
four numbers RCN-213, from memory; the offset common practice.
"""

from tests.checks.cases import Table

_SHARED = Table("accessory-address-shared")
_RESERVED = Table("accessory-address-reserved")
_OUTSIDE = Table("accessory-outside-range")
_REPEATED = Table("accessory-repeated")
_BEYOND = Table("accessory-beyond-outputs")
_CONTRADICTORY = Table("accessory-decoder-contradictory")
_ASPECTS = Table("accessory-aspects-beyond")
_BIT = Table("accessory-bit-missing")
_DIFFERS = Table("accessory-reading-differs")
_UNKNOWN = Table("loco-unknown")

_ENGINE = [{"Loco": "A", "Address": 17}]
_T17 = {"Accessory": "T", "Address": 17, "Method": "decoder"}
_U18 = {"Accessory": "U", "Address": 18, "Method": "decoder"}
_RANGE = {"Kind": "accessory", "From": 1, "To": 40, "Use": "devices"}

CASES = (
    _SHARED.line("an engine of the same number is no clash", _ENGINE, accessories=[_T17]),
    _SHARED.line("two pairs of one decoder", _ENGINE, accessories=[_T17, _U18]),
    _SHARED.line(
        "two outputs", _ENGINE, accessories=[_T17 | {"Method": "output"}, _U18 | {"Method": "output"}]
    ),
    _SHARED.line(
        "the same number by both methods",
        _ENGINE,
        [("B2", "error"), ("B3", "error")],
        accessories=[_T17, _U18 | {"Address": 17, "Method": "output"}],
    ),
    _SHARED.line(
        "an output among the four numbers of a decoder",
        _ENGINE,
        [("B3", "warning")],
        accessories=[_T17, _U18 | {"Address": 20, "Method": "output"}],
    ),
    _SHARED.line(
        "an output among the next four",
        _ENGINE,
        accessories=[_T17, _U18 | {"Address": 21, "Method": "output"}],
    ),
    _SHARED.line(
        "three of one number, each finding beside the cell of the device that it names",
        _ENGINE,
        [("B2", "error"), ("B3", "error"), ("B4", "error")],
        accessories=[_T17, _U18 | {"Address": 17}, _T17 | {"Accessory": "V"}],
    ),
    _SHARED.line(
        "several outputs by the method output take the numbers after the first",
        _ENGINE,
        [("B2", "error"), ("B3", "error")],
        accessories=[
            _T17 | {"Method": "output", "Outputs": 4},
            _U18 | {"Address": 20, "Method": "output", "Outputs": ""},
        ],
    ),
    _SHARED.line(
        "an output right after the last of several",
        _ENGINE,
        accessories=[
            _T17 | {"Method": "output", "Outputs": 4},
            _U18 | {"Address": 21, "Method": "output", "Outputs": ""},
        ],
    ),
    _SHARED.line(
        "a decoder of eight outputs takes the next four as well",
        _ENGINE,
        [("B2", "error"), ("B3", "error")],
        accessories=[_T17 | {"Outputs": 8}, _U18 | {"Address": 21, "Outputs": ""}],
    ),
    _SHARED.line(
        "an output on a number that a decoder of two outputs does not have",
        _ENGINE,
        accessories=[_T17 | {"Outputs": 2}, _U18 | {"Address": 19, "Method": "output", "Outputs": ""}],
    ),
    _SHARED.line(
        "an output on the second of a decoder that is said to have two",
        _ENGINE,
        [("B2", "error"), ("B3", "error")],
        accessories=[_T17 | {"Outputs": 2}, _U18 | {"Method": "output", "Outputs": ""}],
    ),
    _SHARED.line(
        "a signal by extended packets on the number of a turnout by basic ones",
        _ENGINE,
        [("B2", "warning"), ("B3", "warning")],
        accessories=[
            _T17 | {"Method": "output", "Aspects": 0},
            _U18 | {"Address": 17, "Method": "output", "Aspects": 4},
        ],
    ),
    _SHARED.line(
        "signals of one extended decoder",
        _ENGINE,
        accessories=[_T17 | {"Aspects": 3}, _U18 | {"Aspects": 5}],
    ),
    _RESERVED.line("2040 is the last for devices", _ENGINE, accessories=[_T17 | {"Address": 2040}]),
    _RESERVED.line(
        "2041 to 2044 are the broadcast, and then the numbers wrap",
        _ENGINE,
        [("B2", "error"), ("B3", "error"), ("B4", "warning")],
        accessories=[
            _T17 | {"Address": 2041},
            _U18 | {"Address": 2044},
            {"Accessory": "V", "Address": 2045, "Method": "decoder"},
        ],
    ),
    _RESERVED.line(
        "with an offset of 4 the broadcast is four higher",
        _ENGINE,
        [("B3", "error")],
        layout={"Accessory offset": 4},
        accessories=[_T17 | {"Address": 2044}, _U18 | {"Address": 2045}],
    ),
    _RESERVED.line(
        "the outputs of a decoder that reach into the broadcast, and those that begin again after 2048",
        _ENGINE,
        [("B3", "error"), ("B4", "error")],
        accessories=[
            _T17 | {"Address": 2037, "Method": "output", "Outputs": 4},
            _U18 | {"Address": 2038, "Method": "output", "Outputs": 4},
            {"Accessory": "V", "Address": 2047, "Method": "output", "Outputs": 4},
        ],
    ),
    _BEYOND.line("the last of a decoder's four", _ENGINE, accessories=[_T17 | {"Address": 20}]),
    _BEYOND.line("the last of four by Outputs", _ENGINE, accessories=[_T17 | {"Address": 20, "Outputs": 4}]),
    _BEYOND.line(
        "the third number of a decoder of two outputs",
        _ENGINE,
        [("B2", "error")],
        accessories=[_T17 | {"Address": 19, "Outputs": 2}],
    ),
    _BEYOND.line(
        "by the method output the number is the first",
        _ENGINE,
        accessories=[_T17 | {"Address": 19, "Outputs": 2, "Method": "output"}],
    ),
    _CONTRADICTORY.line(
        "what one row leaves blank another one states",
        _ENGINE,
        accessories=[_T17 | {"BiDi": "on", "Outputs": ""}, _U18 | {"BiDi": "", "Outputs": 4}],
    ),
    _CONTRADICTORY.line(
        "BiDi on and off on one decoder",
        _ENGINE,
        [("D2", "error"), ("D3", "error")],
        accessories=[_T17 | {"BiDi": "on"}, _U18 | {"BiDi": "off"}],
    ),
    _CONTRADICTORY.line(
        "four outputs and two on one decoder",
        _ENGINE,
        [("D2", "error"), ("D4", "error")],
        accessories=[
            _T17 | {"Outputs": 4},
            _U18 | {"Outputs": ""},
            {"Accessory": "V", "Address": 17, "Method": "decoder", "Outputs": 2},
        ],
    ),
    _CONTRADICTORY.line(
        "BiDi on and off on outputs of their own",
        _ENGINE,
        accessories=[_T17 | {"Method": "output", "BiDi": "on"}, _U18 | {"Method": "output", "BiDi": "off"}],
    ),
    _ASPECTS.line("32 aspects", _ENGINE, accessories=[_T17 | {"Aspects": 32}]),
    _ASPECTS.line("33 aspects", _ENGINE, [("D2", "warning")], accessories=[_T17 | {"Aspects": 33}]),
    _BIT.line(
        "CV29 with bit 7", _ENGINE, accessories=[_T17], readings=[{"Loco": "t", "CV": 29, "Value": 136}]
    ),
    _BIT.line(
        "CV29 and CV541 without bit 7",
        _ENGINE,
        [("C2", "error"), ("C3", "error")],
        accessories=[_T17, _U18],
        readings=[{"Loco": "T", "CV": 29, "Value": 6}, {"Loco": "U", "CV": 541, "Value": 0}],
    ),
    _BIT.line(
        "an engine of the label of a device",
        _ENGINE,
        accessories=[_T17 | {"Accessory": "A"}],
        readings=[{"Loco": "A", "CV": 29, "Value": 6}],
    ),
    _DIFFERS.line(
        "all as the row says, bits that it leaves blank as they were read",
        _ENGINE,
        accessories=[_T17],
        readings=[
            {"Loco": "T", "CV": cv, "Value": value} for cv, value in ((1, 5), (521, 0), (29, 161), (3, 9))
        ],
    ),
    _DIFFERS.line(
        "another decoder's address, a stated bit, and 255",
        _ENGINE,
        [("C2", "warning"), ("C3", "warning"), ("C4", "warning")],
        accessories=[_T17 | {"BiDi": "on"}],
        readings=[{"Loco": "T", "CV": cv, "Value": value} for cv, value in ((1, 6), (541, 160), (9, 255))],
    ),
    _DIFFERS.line(
        "an older reading that a newer one took back",
        _ENGINE,
        accessories=[_T17],
        readings=[
            {"Loco": "T", "CV": 1, "Value": 5, "Date": "2026-05-02"},
            {"Loco": "T", "CV": 513, "Value": 9, "Date": "2026-05-01"},
        ],
    ),
    _UNKNOWN.line(
        "a reading of a device", _ENGINE, accessories=[_T17], readings=[{"Loco": "T", "CV": 1, "Value": 5}]
    ),
    _OUTSIDE.line("without ranges for accessories", _ENGINE, accessories=[_T17]),
    _OUTSIDE.line("within", _ENGINE, ranges=[_RANGE], accessories=[_T17 | {"Address": 40}]),
    _OUTSIDE.line(
        "the four of a decoder that end outside",
        _ENGINE,
        [("B2", "warning")],
        ranges=[_RANGE | {"To": 18}],
        accessories=[_T17],
    ),
    _OUTSIDE.line(
        "the two outputs of a decoder that end within",
        _ENGINE,
        ranges=[_RANGE | {"To": 18}],
        accessories=[_T17 | {"Outputs": 2}],
    ),
    _OUTSIDE.line(
        "outside", _ENGINE, [("B2", "warning")], ranges=[_RANGE], accessories=[_T17 | {"Address": 41}]
    ),
    _OUTSIDE.line(
        "in a smaller range that is never used",
        _ENGINE,
        [("B2", "warning")],
        ranges=[_RANGE, _RANGE | {"From": 17, "To": 17, "Use": "never"}],
        accessories=[_T17],
    ),
    *(
        _OUTSIDE.line(
            f"in a range for {use} at {'a meet' if meet else 'home'}",
            _ENGINE,
            found,
            ranges=[_RANGE, _RANGE | {"From": 17, "To": 17, "Use": use}],
            accessories=[_T17],
            meet=meet,
        )
        for use, meet, found in (
            ("devices", False, []),
            ("engines", False, []),
            ("meet only", False, [("B2", "warning")]),
            ("meet only", True, []),
            ("consists", False, [("B2", "warning")]),
            ("new decoders", False, [("B2", "warning")]),
        )
    ),
    _OUTSIDE.line(
        "where all ranges are for something else",
        _ENGINE,
        ranges=[_RANGE | {"Use": "consists"}],
        accessories=[_T17 | {"Address": 41}],
    ),
    _OUTSIDE.line(
        "where a range is lent for meets and none is for home",
        _ENGINE,
        [("B2", "warning")],
        ranges=[_RANGE | {"Use": "meet only"}],
        accessories=[_T17],
    ),
    _REPEATED.line("labels of their own", _ENGINE, accessories=[_T17, _U18]),
    _REPEATED.line(
        "the same label",
        _ENGINE,
        [("A2", "error"), ("A3", "error")],
        accessories=[_T17, _U18 | {"Accessory": "t"}],
    ),
)
