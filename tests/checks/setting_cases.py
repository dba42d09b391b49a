"""What the checks of a decoder's settings find.

The curve: NMRA S-9.2.2 (Jul 2012), CV2, CV5 and CV6, where 0 and 1 leave CV5 and CV6 out. That the steps must
agree is NMRA S-9.2.1 (Jul 2012), speed instructions; the rest is common practice, no source.
"""

from tests.checks.cases import Table

_STEPS = Table("steps-mismatch")
_DC = Table("dc-operation-on")
_CURVE = Table("curve-not-rising")
_NO_TABLE = Table("speed-table-missing")
_UNKNOWN = Table("decoder-unknown")
_SCALED = Table("table-scaled")
_LACKS = Table("decoder-lacks-feature")
_OVERLOADED = Table("decoder-overloaded")

_FULL = {"Decoder": "Full", "Lock": "yes", "Peak A": 2, "Continuous A": 1}
_BY_TABLE = {"Loco": "A", "Address": 12, "Speed curve": "table", "Speed table": "T"}
_BARE = {
    "Decoder": "Bare",
    "Long address": "no",
    "Speed table": "no",
    "BiDi": "no",
    "Steps": "14",
    "Lock": "no",
}

CASES = (
    _STEPS.line("blank is as the layout sends", [{"Loco": "A", "Address": 12, "Speed steps": ""}]),
    _STEPS.line("the same", [{"Loco": "A", "Address": 12, "Speed steps": 128}]),
    _STEPS.line("14 on 28/128", [{"Loco": "A", "Address": 12, "Speed steps": 14}], [("C2", "warning")]),
    _STEPS.line(
        "28/128 on 14",
        [
            {"Loco": "A", "Address": 12, "Speed steps": "28"},
            {"Loco": "B", "Address": 13, "Speed steps": "14"},
        ],
        [("C2", "warning")],
        layout={"Speed steps": 14},
    ),
    _STEPS.line(
        "blank, and CV29 read last with 14",
        [{"Loco": "A", "Address": 12, "Speed steps": ""}],
        [("C2", "warning")],
        readings=[{"Loco": "A", "CV": 29, "Value": 0}],
    ),
    _STEPS.line(
        "blank, and CV29 read last with 28",
        [{"Loco": "A", "Address": 12, "Speed steps": ""}],
        readings=[{"Loco": "A", "CV": 29, "Value": 2}],
    ),
    _STEPS.line(
        "a decoder that knows 14 only, whatever its engine is set to",
        [
            {"Loco": "A", "Address": 12, "Decoder": "Bare", "Speed steps": ""},
            {"Loco": "B", "Address": 13, "Decoder": "Bare", "Speed steps": "14"},
            {"Loco": "C", "Address": 14, "Decoder": "Bare", "Speed steps": "28/128"},
        ],
        [("D2", "warning"), ("D3", "warning"), ("D4", "warning")],
        decoders=[_BARE],
    ),
    _STEPS.line(
        "a decoder that knows 14 only, on a layout that sends them",
        [{"Loco": "A", "Address": 12, "Decoder": "Bare", "Speed steps": ""}],
        decoders=[_BARE],
        layout={"Speed steps": 14},
    ),
    _DC.line("off", [{"Loco": "A", "Address": 12, "DC operation": "off"}, {"Loco": "B", "Address": 13}]),
    _DC.line("on", [{"Loco": "A", "Address": 12, "DC operation": True}], [("C2", "warning")]),
    # NMRA S-9.2.2 (Jul 2012), CV12; RCN-225 (27.07.2025), CV12: bit 0 is direct current in both.
    _DC.line(
        "on, and CV12 permits no direct current",
        [{"Loco": "A", "Address": 12, "DC operation": "on"}],
        extras=[{"Loco": "A", "CV": 12, "Value": 4}],
    ),
    _DC.line(
        "on, and CV12 permits it",
        [{"Loco": "A", "Address": 12, "DC operation": "on"}],
        [("C2", "warning")],
        extras=[{"Loco": "A", "CV": 12, "Value": 5}],
    ),
    _DC.line(
        "at a meet it is an error",
        [{"Loco": "A", "Address": 12, "DC operation": "on", "At meet": "yes"}],
        [("C2", "error")],
        meet=True,
    ),
    _CURVE.line(
        "full drive at Middle already", [{"Loco": "A", "Address": 12, "Vstart": 5, "Vmid": 255, "Vhigh": 255}]
    ),
    _CURVE.line(
        "full drive at Start already",
        [{"Loco": "A", "Address": 12, "Vstart": 255, "Vmid": 255, "Vhigh": 255}],
        [("D2", "error")],
    ),
    _DC.line(
        "blank, and CV29 read as many decoders come: a note",
        [{"Loco": "A", "Address": 12, "DC operation": ""}],
        [("C2", "note")],
        readings=[{"Loco": "A", "CV": 29, "Value": 6}],
    ),
    _DC.line(
        "blank, and read so, on a layout with blocks of direct current",
        [{"Loco": "A", "Address": 12, "DC operation": ""}],
        [("C2", "warning")],
        layout={"DC blocks": "yes"},
        readings=[{"Loco": "A", "CV": 29, "Value": 6}],
    ),
    _DC.line(
        "blank, and read without it",
        [{"Loco": "A", "Address": 12, "DC operation": ""}],
        layout={"DC blocks": "yes"},
        readings=[{"Loco": "A", "CV": 29, "Value": 2}],
    ),
    _DC.line(
        "off, and read with it: that is a reading that differs",
        [{"Loco": "A", "Address": 12, "DC operation": "off"}],
        readings=[{"Loco": "A", "CV": 29, "Value": 6}],
    ),
    _DC.line(
        "typed, whatever was read",
        [{"Loco": "A", "Address": 12, "DC operation": "on"}],
        [("C2", "warning")],
        readings=[{"Loco": "A", "CV": 29, "Value": 6}],
    ),
    _STEPS.line(
        "14 beside 28/128 in one consist",
        [
            {"Loco": "A", "Address": 12, "Speed steps": "14"},
            {"Loco": "B", "Address": 13, "Speed steps": ""},
            {"Loco": "C", "Address": 14, "Speed steps": "14"},
        ],
        [("C2", "warning"), ("C4", "warning")],
        consists=[
            {"Consist": "X", "Address": 85, "Position": 1, "Loco": "A"},
            {"Consist": "x", "Address": 85, "Position": 2, "Loco": "B"},
        ],
    ),
    _CURVE.line("rising", [{"Loco": "A", "Address": 12, "Vstart": 5, "Vmid": 60, "Vhigh": 200}]),
    _CURVE.line(
        "Start above Middle",
        [{"Loco": "A", "Address": 12, "Vstart": 60, "Vmid": 40, "Vhigh": 200}],
        [("D2", "error")],
    ),
    _CURVE.line(
        "Middle above Top",
        [{"Loco": "A", "Address": 12, "Vstart": 5, "Vmid": 90, "Vhigh": 80}],
        [("E2", "error")],
    ),
    _CURVE.line(
        "not where CV29 read last keeps a table",
        [{"Loco": "A", "Address": 12, "Vstart": 60, "Vmid": 40, "Vhigh": 200}],
        readings=[{"Loco": "A", "CV": 29, "Value": 18}],
    ),
    _CURVE.line(
        "both",
        [{"Loco": "A", "Address": 12, "Vstart": 90, "Vmid": 80, "Vhigh": 70}],
        [("D2", "error"), ("E2", "error")],
    ),
    _CURVE.line(
        "level", [{"Loco": "A", "Address": 12, "Vstart": 60, "Vmid": 60, "Vhigh": 200}], [("D2", "error")]
    ),
    _CURVE.line(
        "a Middle of 0 or 1 is left out",
        [
            {"Loco": "A", "Address": 12, "Vstart": 60, "Vmid": 0, "Vhigh": 200},
            {"Loco": "B", "Address": 13, "Vstart": 60, "Vmid": 1, "Vhigh": 200},
        ],
    ),
    _CURVE.line(
        "Start against Top where Middle is left out",
        [
            {"Loco": "A", "Address": 12, "Vstart": 60, "Vmid": 1, "Vhigh": 50},
            {"Loco": "B", "Address": 13, "Vstart": 60, "Vmid": "", "Vhigh": 50},
        ],
        [("E2", "error"), ("E3", "error")],
    ),
    _CURVE.line(
        "a Top of 0 or 1 is full drive", [{"Loco": "A", "Address": 12, "Vstart": 60, "Vmid": 90, "Vhigh": 1}]
    ),
    _CURVE.line(
        "a table makes its own curve",
        [{"Loco": "A", "Address": 12, "Vstart": 60, "Vmid": 40, "Speed curve": "table", "Speed table": "T"}],
    ),
    _CURVE.line("one point is no curve", [{"Loco": "A", "Address": 12, "Vstart": 200}]),
    _NO_TABLE.line(
        "3-point needs none", [{"Loco": "A", "Address": 12, "Speed curve": "3 point", "Speed table": ""}]
    ),
    _NO_TABLE.line(
        "named", [{"Loco": "A", "Address": 12, "Speed curve": "table", "Speed table": "Switcher"}]
    ),
    _NO_TABLE.line(
        "not named",
        [{"Loco": "A", "Address": 12, "Speed curve": "table", "Speed table": ""}],
        [("D2", "error")],
    ),
    _NO_TABLE.line(
        "no such column: at the first cell of the row",
        [{"Loco": "A", "Address": 12, "Speed curve": "table"}],
        [("A2", "error")],
    ),
    _NO_TABLE.line(
        "a name that cannot be used is another fault",
        [{"Loco": "A", "Address": 12, "Speed curve": "table", "Speed table": "x" * 41}],
    ),
    _SCALED.line("no table is in use", [_BY_TABLE | {"Speed curve": "3-point", "Vstart": 40}]),
    _SCALED.line(
        "Vstart of 0, Vmid and Vhigh that are not used, and full drive change nothing",
        [_BY_TABLE | {"Vstart": 0, "Vmid": 1, "Vhigh": 0}, _BY_TABLE | {"Loco": "B", "Vhigh": 255}],
    ),
    _SCALED.line(
        "nobody said whether the decoder scales its table",
        [_BY_TABLE | {"Vstart": 40, "Vmid": "", "Vhigh": 200}],
        [("E2", "note")],
    ),
    _SCALED.line(
        "the decoder does",
        [_BY_TABLE | {"Vstart": 0, "Vmid": 100, "Decoder": "Full"}],
        [("F2", "warning")],
        decoders=[_FULL | {"Table scaled by Vstart/Vmid/Vhigh": "yes"}],
    ),
    _SCALED.line(
        "the decoder does not",
        [_BY_TABLE | {"Vstart": 40, "Decoder": "Full"}],
        decoders=[_FULL | {"Table scaled": "no"}],
    ),
    _UNKNOWN.line(
        "listed, whatever the letter case",
        [{"Loco": "A", "Address": 12, "Decoder": "FULL "}, {"Loco": "B", "Address": 13}],
        decoders=[_FULL],
    ),
    _UNKNOWN.line(
        "not listed",
        [{"Loco": "A", "Address": 12, "Decoder": "Fuller"}],
        [("C2", "warning")],
        decoders=[_FULL],
    ),
    _UNKNOWN.line("no list", [{"Loco": "A", "Address": 12, "Decoder": "Fuller"}]),
    _LACKS.line(
        "a decoder that can do everything, and one that is not listed",
        [
            {
                "Loco": "A",
                "Address": 500,
                "Decoder": "Full",
                "Speed curve": "table",
                "BiDi": "on",
                "Speed steps": "128",
                "Lock": 1,
            },
            {"Loco": "B", "Address": 501, "Decoder": "Unlisted", "BiDi": "on"},
        ],
        decoders=[_FULL],
    ),
    _LACKS.line(
        "settings that a bare decoder takes",
        [{"Loco": "A", "Address": 12, "Decoder": "Bare", "Speed steps": 14, "BiDi": "off"}],
        decoders=[_BARE],
    ),
    _LACKS.line(
        "a long address, at home and at the meet",
        [{"Loco": "A", "Address": 500, "Decoder": "Bare", "Speed steps": 14, "Meet address": 501}],
        [("B2", "error"), ("E2", "error")],
        decoders=[_BARE],
    ),
    _LACKS.line(
        "a speed table",
        [{"Loco": "A", "Address": 12, "Decoder": "Bare", "Speed steps": 14, "Speed curve": "table"}],
        [("E2", "error")],
        decoders=[_BARE],
    ),
    _LACKS.line(
        "BiDi",
        [{"Loco": "A", "Address": 12, "Decoder": "Bare", "Speed steps": 14, "BiDi": "yes"}],
        [("E2", "error")],
        decoders=[_BARE],
    ),
    _LACKS.line(
        "28/128 steps, also by the layout's setting",
        [
            {"Loco": "A", "Address": 12, "Decoder": "Bare", "Speed steps": 28},
            {"Loco": "B", "Address": 13, "Decoder": "Bare", "Speed steps": ""},
        ],
        [("D2", "error"), ("D3", "error")],
        decoders=[_BARE],
    ),
    _LACKS.line(
        "a lock",
        [{"Loco": "A", "Address": 12, "Decoder": "Bare", "Speed steps": 14, "Lock": 1}],
        [("E2", "error")],
        decoders=[_BARE],
    ),
    _OVERLOADED.line(
        "up to the continuous current, and what is not known",
        [
            {"Loco": "A", "Address": 12, "Decoder": "Full", "Stall A": 1.0},
            {"Loco": "B", "Address": 13, "Decoder": "Full", "Stall A": ""},
            {"Loco": "C", "Address": 14, "Decoder": "Unlisted", "Stall A": 9},
            {"Loco": "D", "Address": 15, "Decoder": "Bare", "Stall A": 9},
        ],
        decoders=[_FULL, _BARE],
    ),
    _OVERLOADED.line(
        "beyond the peak",
        [{"Loco": "A", "Address": 12, "Decoder": "Full", "Stall A": "2,1"}],
        [("D2", "error")],
        decoders=[_FULL],
    ),
    _OVERLOADED.line(
        "beyond the continuous current and up to the peak",
        [
            {"Loco": "A", "Address": 12, "Decoder": "Full", "Stall A": 1},
            {"Loco": "B", "Address": 13, "Decoder": "Full", "Stall A": 1.1},
            {"Loco": "C", "Address": 14, "Decoder": "Full", "Stall A": 2},
        ],
        [("D3", "warning"), ("D4", "warning")],
        decoders=[_FULL],
    ),
    _OVERLOADED.line(
        "beyond the continuous current where no peak is given",
        [
            {"Loco": "A", "Address": 12, "Decoder": "Weak", "Stall A": 0.5},
            {"Loco": "B", "Address": 13, "Decoder": "Weak", "Stall A": 0.6},
        ],
        [("D3", "warning")],
        decoders=[{"Decoder": "Weak", "Continuous A": 0.5}],
    ),
)
