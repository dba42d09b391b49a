"""One fault at a time: how each faulty sample differs from the clean club."""

import re
from collections.abc import Callable, Sequence
from datetime import date
from typing import Any

from openpyxl import Workbook

from tests.planning.speed.runs import GOOD, timed_runs
from tests.samples.clean import Records

Change = Callable[[Records], None]
Touch = Callable[[Workbook], None]


def _engine(row: int, **values: Any) -> Change:
    def change(records: Records) -> None:
        records["Locomotives"][row] |= values

    return change


def _layout(**values: Any) -> Change:
    def change(records: Records) -> None:
        records["Layout"][0] |= values

    return change


def _range(**values: Any) -> Change:
    def change(records: Records) -> None:
        records["Address ranges"].append({"member": None} | values)

    return change


def _decoder(**values: Any) -> Change:
    def change(records: Records) -> None:
        records["Decoder types"].append({"manufacturer_id": 13} | values)

    return change


def _row(title: str, row: int, **values: Any) -> Change:
    def change(records: Records) -> None:
        records[title][row] |= values

    return change


def _more(title: str, **values: Any) -> Change:
    def change(records: Records) -> None:
        records[title].append(values)

    return change


def _read(cv: int, value: int | None, loco: str = "SM 7001") -> Change:
    return _more("Readings", date="2026-04-19", loco=loco, cv=cv, value=value)


def _several(*changes: Change) -> Change:
    def change(records: Records) -> None:
        for one in changes:
            one(records)

    return change


def _timed(*timed_runs: dict[str, Any], goals: Sequence[dict[str, Any]] = ()) -> Change:
    def change(records: Records) -> None:
        records["Speed runs"] = list(timed_runs)
        records["Speed goals"] = list(goals)

    return change


_LOCO = "NE 0814"
_RUNS = timed_runs(_LOCO)
_BENT = {12: 0.0, 15: 2.0, 22: 30.0, 30: 42.0, 60: 75.0, 110: 92.0, 170: 100.0, 220: 106.0, 255: 112.0}


def _drop_range(records: Records, row: int) -> None:
    del records["Address ranges"][row]


CHANGES: dict[str, Change] = {
    "address-missing": _engine(1, address=None),
    "address-out-of-range": _several(
        _layout(address_rule="none"), _engine(2, address=200, address_kind="short")
    ),
    "address-shared": _several(_layout(address_rule="none"), _engine(4, address=5201)),
    "address-default": _several(
        _layout(address_rule="none"), lambda records: _drop_range(records, 1), _engine(2, address=3)
    ),
    "address-kind-doubtful": _several(
        _layout(address_rule="none", short_range="1-127"),
        _range(kind="short", first=100, last=127, use="engines"),
        _engine(2, address=105),
    ),
    "address-reserved": _several(
        _layout(address_rule="none", short_range="1-127", speed_steps="14"),
        _range(kind="short", first=100, last=127, use="engines"),
        _engine(2, address=113, decoder="Old"),
    ),
    "address-off-rule": _engine(2, address=32),
    "address-not-for-engines": _several(_layout(address_rule="none"), _engine(2, address=88)),
    "address-in-another-range": _several(_layout(address_rule="none"), _engine(1, address=7050)),
    "address-outside-range": lambda records: records["Address ranges"][3].update(last=5000),
    "meet-address-kept": _several(_layout(address_rule="none"), _engine(1, address=9950)),
    "ranges-overlap": _range(kind="long", first=7050, last=7150, use="engines", member="M02"),
    "range-impossible": _range(kind="long", first=8100, last=8000, use="engines"),
    "steps-mismatch": _engine(1, speed_steps="14"),
    "dc-operation-on": _engine(1, dc_operation="on"),
    "curve-not-rising": _engine(1, vstart=95),
    "speed-table-missing": _engine(1, speed_curve="table"),
    "decoder-unknown": _engine(1, decoder="Plane"),
    "decoder-lacks-feature": _several(
        _decoder(decoder="Basic", bidi="no"), _engine(1, bidi="on", decoder="Basic")
    ),
    "decoder-repeated": _decoder(decoder="plain"),
    "decoder-overloaded": _engine(1, stall=2.9),
    "number-repeated": _several(_layout(address_rule="none"), _engine(1, number="2101")),
    "card-incomplete": _engine(1, at_meet="yes", checked_by=None),
    "tag-open": _engine(1, fault="Front coupler hangs low"),
    "registered-late": _several(
        _layout(closing_date="2026-04-01"), _engine(1, at_meet="yes", registered_on="2026-04-02")
    ),
    "too-many-engines": _several(
        _layout(engines_per_member=1), _engine(1, at_meet="yes"), _engine(2, at_meet="yes", owner="M01")
    ),
    "driven-by-owner-only": _several(
        _layout(who_drives="anyone"), _engine(1, at_meet="yes", drivers="owner")
    ),
    "braking-too-long": _engine(3, deceleration=18),
    "engine-too-long": _engine(1, length=398),
    "value-not-allowed": _engine(1, direction="sideways"),
    "value-missing": _range(kind="long", first=8000, last=8099),
    "loco-repeated": _engine(2, loco="jv 2101"),
    "extra-value-clashes": _row("Extra values", 0, cv=29),
    "register-not-writable": _row("Extra values", 0, cv=8),
    "page-missing": _row("Extra values", 1, index_low=None),
    "page-unused": _row("Extra values", 0, index_high=16, index_low=1),
    "bidi-configuration-unused": _several(
        _engine(3, bidi="off"), _more("Extra values", loco="NE 5201", cv=28, value=3)
    ),
    "speed-table-incomplete": _row("Speed tables", 0, step8=None),
    "speed-table-falls": _row("Speed tables", 0, step8=60),
    "speed-table-unknown": _engine(1, speed_curve="table", speed_table="Slow"),
    "table-scaled": _several(
        _decoder(decoder="Basic", table_scaled="yes"),
        _engine(1, decoder="Basic", speed_curve="table", speed_table="Even", vstart=40),
    ),
    "speed-table-unused": _engine(1, speed_table="Even"),
    "table-repeated": lambda records: records["Speed tables"].append(dict(records["Speed tables"][0])),
    "consist-address-shared": _more("Consists", consist="Express", address=85, position=1, loco="NE 5201"),
    "consist-addresses-differ": _row("Consists", 1, address=86),
    "consist-outside-range": _several(_row("Consists", 0, address=70), _row("Consists", 1, address=70)),
    "consist-address-cut": _several(
        _row("Consists", 0, address=1985),
        _row("Consists", 1, address=1985),
        _range(kind="long", first=1985, last=1985, use="consists"),
    ),
    "loco-in-two-consists": _more("Consists", consist="Express", address=86, position=1, loco="JV 2101"),
    "consist-without-lead": _row("Consists", 0, position=3),
    "consist-decoder-left-out": _several(
        _layout(address_rule="none"),
        _engine(0, decoder="Sound", lock=1),
        lambda records: records["Locomotives"].append(
            records["Locomotives"][0] | {"loco": "JV 2101 sound", "address": 2151, "lock": 2}
        ),
    ),
    "function-unknown": _row("Consists", 0, functions="F0f F15"),
    "momentum-differs": _engine(1, acceleration=7),
    "headlight-within-consist": _row("Consists", 1, functions="F0r"),
    "consist-without-headlight": _row("Consists", 0, functions="F1"),
    "owner-spelt-otherwise": _engine(2, owner="m01"),
    "loco-unknown": _row("Consists", 1, loco="JV 2201"),
    "accessory-address-shared": _row("Accessories", 1, address=1),
    "accessory-beyond-outputs": _row("Accessories", 0, address=4, outputs=2),
    "accessory-decoder-contradictory": _several(
        _row("Accessories", 0, bidi="on"),
        _more("Accessories", accessory="Yard track 2", address=2, bidi="off"),
    ),
    "accessory-bit-missing": _read(29, 6, "Yard throat"),
    "accessory-reading-differs": _read(1, 9, "Yard throat"),
    "accessory-aspects-beyond": _row("Accessories", 1, kind="signal", aspects=40),
    "accessory-address-reserved": _row("Accessories", 1, address=2041),
    "accessory-outside-range": _range(kind="accessory", first=1, last=16, use="devices"),
    "accessory-repeated": _row("Accessories", 1, accessory="Yard throat"),
    "readings-contradict": _several(_read(4, 9), _read(4, 3)),
    "reading-differs": _read(4, 9),
    "reading-unreliable": _several(_read(29, 255, "KC 12"), _read(1, 255, "KC 12")),
    "decoder-not-as-listed": _read(8, 14),
    "lock-closed": _read(15, 1),
    "consist-left-behind": _read(19, 166),
    "meet-address-left": _several(
        _engine(6, meet_address=9950), _read(17, 230), _read(18, 222), _read(29, 34)
    ),
    "factory-values-left": _several(_read(17, 195), _read(18, 232)),
    "pair-half-taken": _read(18, 232),
    "address-not-active": _read(29, 2),
    "dc-operation-still-on": _several(_engine(6, dc_operation="off"), _read(29, 38)),
    "run-unusable": _timed(*_RUNS, {"loco": _LOCO, "drive": 90, "distance": 900}),
    "run-stands-out": _timed(*_RUNS[:5], _RUNS[5] | {"time": 7.5}, *_RUNS[5:]),
    "runs-too-few": _timed(*timed_runs(_LOCO, {60: 31.0, 110: 60.0})),
    "runs-too-short": _timed(*timed_runs(_LOCO, seconds=3.0)),
    "speed-falls": _timed(*timed_runs(_LOCO, dict(GOOD) | {170: 57.5, 220: 93.0})),
    "goal-unreached": _timed(goals=[{"loco": _LOCO, "top": 100}]),
    "goal-not-applied": _timed(*_RUNS, goals=[{"loco": _LOCO, "top": 100}]),
}
"""Slug to what is changed in the records of the clean club."""


def _cell(sheet: str, cell: str, value: object, number_format: str | None = None) -> Touch:
    def touch(workbook: Workbook) -> None:
        target = workbook[sheet][cell]
        target.value = value
        if number_format:
            target.number_format = number_format

    return touch


def _merge(workbook: Workbook) -> None:
    workbook["Locomotives"].merge_cells("B2:B3")


def _stale(workbook: Workbook) -> None:
    """Leave a value of an earlier fill, with the text beside it by which it is known."""
    workbook["Locomotives"]["AG2"], workbook["Locomotives"]["AN2"] = 3, "note [Address] of an earlier fill"


def _no_address_heading(workbook: Workbook) -> None:
    workbook["Locomotives"]["I1"].value = "My own column"


def _more_engines(workbook: Workbook) -> None:
    page = workbook.create_sheet("Diesels")
    for row in (("Loco", "Owner", "Address"), ("SM 7021", "M02", 7021), ("SM 7022", "M02", 7022)):
        page.append(row)


TOUCHES: dict[str, Touch] = {
    "value-is-error": _cell("Locomotives", "F3", "#REF!"),
    "number-became-date": _cell("Locomotives", "D4", date(2026, 1, 2), "yyyy-mm-dd"),
    "number-became-float": _cell("Locomotives", "D4", 400.0, "0.00E+00"),
    "formula-without-value": _cell("Locomotives", "F3", "=190+5"),
    "heading-missing": _no_address_heading,
    "heading-unknown": _cell("Locomotives", "E1", "Modell"),
    "cells-merged": _merge,
    "engines-elsewhere": _more_engines,
    "computed-stale": _stale,
    "computed-not-ours": _cell("Locomotives", "AG2", "see card"),
}
"""Slug to what is done to the clean workbook after it was made."""


APPLIED: dict[str, Change] = {
    "speed-unit-doubtful": _timed(
        *_RUNS, *timed_runs("NE 5201", factor=1.609), goals=[{"loco": "NE 5201", "match": _LOCO}]
    ),
    "speeds-differ": _several(
        _engine(7, vstart=None, vhigh=None, vmid=None),
        _timed(*_RUNS, *timed_runs("SM 60", _BENT), goals=[{"loco": "SM 60", "match": _LOCO}]),
    ),
    "top-speed-outside-band": _timed(*_RUNS, goals=[{"loco": _LOCO, "top": 100, "prototype": 60}]),
    "siding-too-short": _timed(*_RUNS, goals=[{"loco": _LOCO, "top": 100, "siding": 300}]),
    "steps-idle": _timed(*_RUNS, goals=[{"loco": _LOCO, "top": 12}]),
    "entry-in-the-way": _timed(*_RUNS, goals=[{"loco": _LOCO, "top": 100, "seconds": 9}]),
}
"""Faults that show when the speed goals were applied."""


Damage = Callable[[str], str]
"""What is done to the XML of the filled sheet Locomotives."""


def _in_cell(cell: str, damage: Damage) -> Damage:
    pattern = re.compile(f'<c r="{cell}"[^>]*>.*?</c>')

    def done(xml: str) -> str:
        changed, count = pattern.subn(lambda found: damage(found[0]), xml)
        assert count == 1, cell
        return changed

    return done


def _without_formula(cell: str) -> str:
    return re.sub("<f[^>]*/>|<f[^>]*>.*?</f>", "", cell)


DAMAGED: dict[str, Damage] = {
    "formula-missing": _in_cell("AG3", _without_formula),
    "formula-damaged": _in_cell("AG2", lambda cell: cell.replace("$AF2", "#REF!")),
}
"""Slug to what becomes of a formula of the clean workbook after it was filled."""
