"""What the checks of extra values and speed tables find.

CV7, CV8 and CV28: NMRA S-9.2.2 (Jul 2012); indexes: CV31/32; tables: CV67 to CV94. That a table never falls
is common practice, no source.
"""

from tests.checks.cases import Table

_CLASH = Table("extra-value-clashes")
_READ_ONLY = Table("register-not-writable")
_PAGE = Table("page-missing")
_NO_PAGE = Table("page-unused")
_BIDI = Table("bidi-configuration-unused")
_INCOMPLETE = Table("speed-table-incomplete")
_FALLS = Table("speed-table-falls")
_UNKNOWN = Table("speed-table-unknown")
_UNUSED = Table("speed-table-unused")
_REPEATED = Table("table-repeated")

_ENGINE = [{"Loco": "A", "Address": 12}]
_BY_TABLE = [{"Loco": "A", "Address": 12, "Speed curve": "table", "Speed table": "Slow"}]
_SLOW = {"Table": "Slow"} | {str(step): 3 * step for step in range(1, 29)}

_SET_BY_COLUMNS = (*range(1, 7), *range(15, 23), 29, 31, 32, *range(67, 95))


def _extra(cv: object, value: object = 1, **more: object) -> dict[str, object]:
    return {"Loco": "A", "CV": cv, "Value": value} | {name.replace("_", " "): v for name, v in more.items()}


CASES = (
    _CLASH.line(
        "CVs that nothing else sets", _ENGINE, extras=[_extra(33), _extra(49), _extra(95), _extra(1024)]
    ),
    _CLASH.line(
        "the same CV on two indexes",
        _ENGINE,
        extras=[_extra(257, Index_high=16, Index_low=0), _extra(257, Index_high=16, Index_low=1)],
    ),
    _CLASH.line(
        "every CV that a column sets",
        _ENGINE,
        [(f"B{row}", "error") for row in range(2, 2 + len(_SET_BY_COLUMNS))],
        extras=[_extra(cv) for cv in _SET_BY_COLUMNS],
    ),
    _CLASH.line(
        "one CV twice",
        _ENGINE,
        [("B2", "error"), ("B3", "error")],
        extras=[_extra(49, 1), _extra(49, 2)],
    ),
    _READ_ONLY.line("others can be set", _ENGINE, extras=[_extra(9)]),
    _READ_ONLY.line(
        "CV7 and CV8", _ENGINE, [("B2", "error"), ("B3", "error")], extras=[_extra(7), _extra(8, 8)]
    ),
    _PAGE.line("CV256 and CV513 need none", _ENGINE, extras=[_extra(256), _extra(513)]),
    _PAGE.line("index 0/0", _ENGINE, extras=[_extra(257, Index_high=0, Index_low=0)]),
    _PAGE.line(
        "CV257 and CV512 without",
        _ENGINE,
        [("D2", "error"), ("E3", "error")],
        extras=[_extra(257, Index_high="", Index_low=1), _extra(512, Index_high=16, Index_low="")],
    ),
    _NO_PAGE.line("an index where it is needed", _ENGINE, extras=[_extra(300, Index_high=16, Index_low=0)]),
    _NO_PAGE.line(
        "an index at CV49",
        _ENGINE,
        [("D2", "warning"), ("E2", "warning")],
        extras=[_extra(49, Index_high=16, Index_low=0)],
    ),
    _BIDI.line("CV28 while BiDi is on", [_ENGINE[0] | {"BiDi": "on"}], extras=[_extra(28, 3)]),
    _BIDI.line("nothing in CV28 while BiDi is off", [_ENGINE[0] | {"BiDi": "off"}], extras=[_extra(28, 0)]),
    _BIDI.line(
        "CV28 while BiDi is off", [_ENGINE[0] | {"BiDi": "off"}], [("C2", "note")], extras=[_extra(28, 3)]
    ),
    _INCOMPLETE.line("28 values", _ENGINE, tables=[_SLOW]),
    _INCOMPLETE.line("27 values", _ENGINE, [("I2", "error")], tables=[_SLOW | {"8": ""}]),
    _FALLS.line("level is no fall", _ENGINE, tables=[_SLOW | {"8": 21, "9": 21}]),
    _FALLS.line("step 9 below step 8", _ENGINE, [("J2", "error")], tables=[_SLOW | {"8": 28, "9": 27}]),
    _UNKNOWN.line("a table that there is", _BY_TABLE, tables=[_SLOW | {"Table": "slow"}]),
    _UNKNOWN.line(
        "a table that there is not", _BY_TABLE, [("D2", "error")], tables=[_SLOW | {"Table": "Fast"}]
    ),
    _UNUSED.line("in use", _BY_TABLE, tables=[_SLOW]),
    _UNUSED.line(
        "with three points", [_BY_TABLE[0] | {"Speed curve": "3-point"}], [("D2", "note")], tables=[_SLOW]
    ),
    _REPEATED.line("labels of their own", _ENGINE, tables=[_SLOW, _SLOW | {"Table": "Fast"}]),
    _REPEATED.line("the same label", _ENGINE, [("A2", "error"), ("A3", "error")], tables=[_SLOW, _SLOW]),
)
