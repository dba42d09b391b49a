"""What of an engine's rows is held back, so that nothing is silently missing among the CVs to key in."""

from collections.abc import Iterator

from rosterkit.cv.configured import cell_fault, table_fault, uses_table
from rosterkit.cv.consist import consist_address, consist_column
from rosterkit.cv.cv_values import CvGroup, Withheld
from rosterkit.cv.extra_values import can_be_extra, lacks_index
from rosterkit.roster.model import Locomotive, Roster
from rosterkit.roster.schema import folded
from rosterkit.standards.cv_names import cv_name
from rosterkit.standards.function_notation import functions_in
from rosterkit.standards.functions import MAPPING_CVS
from rosterkit.standards.speed_curve import SPEED_TABLE_CVS

_MOTOR = ("vstart", "acceleration", "deceleration", "vhigh", "vmid")
"""The columns of CV2 to CV6."""


def withheld(engine: Locomotive, roster: Roster, *, meet: bool = False) -> tuple[Withheld, ...]:
    """Return what an engine's rows ask for and cannot be keyed in, in the order of its CVs."""
    consist = _consist(engine, roster, meet=meet)
    return (*consist, *_motor(engine), *_table(engine, roster), *_extras(engine, roster))


def _consist(engine: Locomotive, roster: Roster, *, meet: bool) -> Iterator[Withheld]:
    member = roster.consist_of.get(folded(engine.loco or ""))
    if member is None:
        return
    column = consist_column(member, meet=meet)
    refused = [name for name in (column, "facing", "loco") if name in member.unusable]
    if consist_address(member, meet=meet) is None or refused:
        fault = cell_fault(member, refused[0] if refused else column)
        yield Withheld(cv=19, meaning=f"consist '{member.consist}'", group=CvGroup.CONSIST, reason=fault)
        return
    try:
        functions_in(member.functions or "")
        wrong = cell_fault(member, "functions") if "functions" in member.unusable else None
    except ValueError as unknown:
        wrong = f"{unknown} ({member.table.title} {member.place('functions').cell})"
    if wrong:
        meaning = "consist address active for functions (CV21 and CV22)"
        yield Withheld(cv=21, meaning=meaning, group=CvGroup.CONSIST, reason=wrong)


def _motor(engine: Locomotive) -> Iterator[Withheld]:
    for cv, column in enumerate(_MOTOR, 2):
        if column in engine.unusable:
            reason = cell_fault(engine, column)
            yield Withheld(cv=cv, meaning=cv_name(cv), group=CvGroup.MOTOR, reason=reason)


def _table(engine: Locomotive, roster: Roster) -> Iterator[Withheld]:
    fault = table_fault(engine, roster) if uses_table(engine, roster) else None
    if fault:
        bit = ", and bit 4 of CV29 that turns to it" if engine.speed_curve == "table" else ""
        meaning = f"speed table (CV67 to CV94){bit}"
        yield Withheld(cv=SPEED_TABLE_CVS[0], meaning=meaning, group=CvGroup.TABLE, reason=fault)


def _extras(engine: Locomotive, roster: Roster) -> Iterator[Withheld]:
    for extra in roster.extras_of.get(folded(engine.loco or ""), ()):
        if extra.cv is None or not can_be_extra(extra.cv):
            continue  # a finding of its own, which names the row
        group = CvGroup.FUNCTIONS if extra.cv in MAPPING_CVS else CvGroup.EXTRAS
        if extra.value is None:
            reason = cell_fault(extra, "value")
        elif lacks_index(extra):
            reason = cell_fault(extra, "index_low" if extra.index_high is not None else "index_high")
        else:
            continue
        yield Withheld(cv=extra.cv, meaning=cv_name(extra.cv), group=group, reason=reason)
