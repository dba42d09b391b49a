"""What the checks of address ranges find.

What a range is for is a club's own affair. The last address of each kind: NMRA S-9.2.2 (Jul 2012), CV1;
RCN-225 (27.07.2025), CV17/18; 2048 turnouts: NMRA S-9.2.1 (Jul 2012), section D, derived.
"""

from tests.checks.cases import Table

_FOR_OTHERS = Table("address-not-for-engines")
_ANOTHER = Table("address-in-another-range")
_OUTSIDE = Table("address-outside-range")
_KEPT = Table("meet-address-kept")
_OVERLAP = Table("ranges-overlap")
_IMPOSSIBLE = Table("range-impossible")

_ONE = [{"Loco": "A", "Address": 12, "Owner": "M01"}]


def _range(
    kind: str, first: int, last: int | str, use: str = "engines", member: str = ""
) -> dict[str, object]:
    return {"Kind": kind, "From": first, "To": last, "Use": use, "Member": member}


CASES = (
    _FOR_OTHERS.line("no ranges", _ONE),
    _FOR_OTHERS.line("a range for engines", _ONE, ranges=[_range("short", 1, 99)]),
    _FOR_OTHERS.line("never", _ONE, [("B2", "error")], ranges=[_range("short", 12, 12, "never")]),
    _FOR_OTHERS.line("consists", _ONE, [("B2", "error")], ranges=[_range("short", 10, 19, "consists")]),
    _FOR_OTHERS.line("devices", _ONE, [("B2", "error")], ranges=[_range("short", 10, 19, "devices")]),
    _FOR_OTHERS.line("new decoders", _ONE, [("B2", "error")], ranges=[_range("short", 10, 19, "Bench")]),
    _FOR_OTHERS.line(
        "a range of consist addresses, which are short ones",
        _ONE,
        [("B2", "error")],
        ranges=[_range("consist", 10, 19)],
    ),
    _FOR_OTHERS.line(
        "a smaller range goes before a larger one",
        [{"Loco": "A", "Address": 3}, {"Loco": "B", "Address": 4}],
        [("B2", "error")],
        ranges=[_range("short", 3, 3, "new decoders"), _range("short", 1, 99)],
    ),
    _FOR_OTHERS.line(
        "a smaller range for engines in one that is never used",
        _ONE,
        ranges=[_range("short", 1, 99, "never"), _range("short", 12, 12)],
    ),
    _FOR_OTHERS.line(
        "a range of another kind",
        _ONE,
        ranges=[_range("long", 1, 99, "never"), _range("accessory", 1, 99, "never")],
    ),
    _FOR_OTHERS.line(
        "a range whose use cannot be read says nothing", _ONE, ranges=[_range("short", 1, 99, "whatever")]
    ),
    _FOR_OTHERS.line(
        "the meet address",
        [{"Loco": "A", "Address": 40, "Meet address": 12}],
        [("C2", "error")],
        ranges=[_range("short", 12, 12, "never")],
    ),
    _ANOTHER.line("one's own", _ONE, ranges=[_range("short", 1, 99, member="m 01")]),
    _ANOTHER.line("everybody's", _ONE, ranges=[_range("short", 1, 99)]),
    _ANOTHER.line("another's", _ONE, [("B2", "warning")], ranges=[_range("short", 1, 99, member="M02")]),
    _ANOTHER.line(
        "an engine without owner",
        [{"Loco": "A", "Address": 12}],
        [("B2", "warning")],
        ranges=[_range("short", 1, 99, member="M02")],
    ),
    _ANOTHER.line(
        "another's range that is kept for something else is no theirs to give",
        _ONE,
        ranges=[_range("short", 1, 99, "never", "M02")],
    ),
    _ANOTHER.line(
        "another's range within one that is everybody's",
        [
            {"Loco": "A", "Address": 7012, "Owner": "M01"},
            {"Loco": "B", "Address": 6999, "Owner": "M01"},
            {"Loco": "C", "Address": 7070, "Owner": "M01", "Number": "4012"},
        ],
        [("B2", "warning"), ("B4", "warning")],
        ranges=[_range("long", 128, 9999), _range("long", 7000, 7099, member="M05")],
    ),
    _FOR_OTHERS.line(
        "nothing else is free",
        [{"Loco": "A", "Address": 12, "Owner": "M01"}],
        [("B2", "error")],
        ranges=[_range("short", 1, 127, "never"), _range("long", 1, 10239, "never")],
    ),
    _OUTSIDE.line("inside", _ONE, ranges=[_range("short", 1, 12)]),
    _OUTSIDE.line("outside", _ONE, [("B2", "warning")], ranges=[_range("short", 13, 99)]),
    _OUTSIDE.line("no range of that kind", _ONE, ranges=[_range("long", 128, 9999)]),
    _OUTSIDE.line("no range for that member", _ONE, ranges=[_range("short", 13, 99, member="M02")]),
    _OUTSIDE.line("a range for meets is none for home", _ONE, ranges=[_range("short", 13, 99, "meet only")]),
    _OUTSIDE.line(
        "a range for meets is one for the meet address",
        [{"Loco": "A", "Address": 500, "Meet address": 12}],
        [("C2", "warning")],
        ranges=[_range("short", 13, 99, "meet only")],
    ),
    _KEPT.line("a home address", _ONE, ranges=[_range("short", 1, 99)]),
    _KEPT.line("lent for a meet", _ONE, [("B2", "warning")], ranges=[_range("short", 1, 99, "meet only")]),
    _KEPT.line(
        "as meet address it is meant so",
        [{"Loco": "A", "Address": 500, "Meet address": 12}],
        ranges=[_range("short", 1, 99, "meet only")],
    ),
    _OVERLAP.line("apart", _ONE, ranges=[_range("short", 1, 50), _range("short", 51, 99)]),
    _OVERLAP.line(
        "one within the other", _ONE, ranges=[_range("short", 1, 99), _range("short", 1, 50, "never")]
    ),
    _OVERLAP.line(
        "in part",
        _ONE,
        [("B2", "warning"), ("B3", "warning")],
        ranges=[_range("short", 40, 99), _range("short", 1, 50)],
    ),
    _OVERLAP.line(
        "the same",
        _ONE,
        [("B2", "warning"), ("B3", "warning")],
        ranges=[_range("short", 1, 9), _range("short", 1, 9)],
    ),
    _OVERLAP.line(
        "each of three",
        _ONE,
        [("B2", "warning"), ("B3", "warning"), ("B4", "warning")],
        ranges=[_range("long", 200, 300), _range("long", 250, 350), _range("long", 290, 400)],
    ),
    _OVERLAP.line(
        "one member's within another's",
        _ONE,
        [("B2", "warning"), ("B3", "warning")],
        ranges=[_range("long", 200, 299, member="M01"), _range("long", 210, 219, member="M02")],
    ),
    _OVERLAP.line(
        "one member's within everybody's or their own",
        _ONE,
        ranges=[
            _range("long", 200, 299),
            _range("long", 210, 229, member="M02"),
            _range("long", 211, 211, member="m02"),
        ],
    ),
    _OVERLAP.line(
        "short and consist are the same addresses",
        _ONE,
        [("B2", "warning"), ("B3", "warning")],
        ranges=[_range("short", 1, 80), _range("consist", 80, 99, "consists")],
    ),
    _OVERLAP.line(
        "turnouts among themselves",
        _ONE,
        [("B2", "warning"), ("B3", "warning")],
        ranges=[_range("accessory", 1, 80, "devices"), _range("accessory", 80, 99, "devices")],
    ),
    _OVERLAP.line(
        "short, long and turnouts are apart",
        _ONE,
        ranges=[_range("short", 1, 80), _range("long", 70, 90), _range("accessory", 75, 99, "devices")],
    ),
    _IMPOSSIBLE.line(
        "up to the last of each kind",
        _ONE,
        ranges=[
            _range("short", 1, 127),
            _range("consist", 127, 127, "consists"),
            _range("long", 1, 10239),
            _range("accessory", 1, 2048, "devices"),
        ],
        layout={"Short address range": "1-127", "Long address range": "1-10239"},
    ),
    _IMPOSSIBLE.line(
        "beyond the last of each kind",
        _ONE,
        [("C2", "error"), ("C3", "error"), ("C4", "error")],
        ranges=[
            _range("short", 1, 128),
            _range("consist", 1, 128, "consists"),
            _range("accessory", 1, 2049, "devices"),
        ],
    ),
    _IMPOSSIBLE.line("the wrong way round", _ONE, [("C2", "error")], ranges=[_range("long", 300, 200)]),
    _IMPOSSIBLE.line("a missing end is another fault", _ONE, ranges=[_range("long", 300, "")]),
    _IMPOSSIBLE.line(
        "settings of the layout",
        _ONE,
        [("B2", "error"), ("B3", "error")],
        layout={"Short address range": "99-1", "Long address range": "128-10240"},
    ),
    _IMPOSSIBLE.line(
        "a setting beyond the last", _ONE, [("B2", "error")], layout={"Short address range": "1-128"}
    ),
    _IMPOSSIBLE.line(
        "a setting that begins at 0", _ONE, [("B2", "error")], layout={"Short address range": "0-99"}
    ),
)
