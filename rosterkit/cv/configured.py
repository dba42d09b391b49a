"""CV29 of an engine's row: what its columns state, what stays as it was read, and what is assumed."""

from rosterkit.cv.addresses import Address, Space
from rosterkit.cv.cv_values import CvGroup, CvValue
from rosterkit.cv.readings import configuration_read
from rosterkit.roster.cell_values import shown
from rosterkit.roster.model import Layout, Locomotive, Roster
from rosterkit.roster.rows import Row
from rosterkit.roster.schema import folded
from rosterkit.standards.configuration import (
    BIDI,
    DC_OPERATION,
    EVERY_BIT,
    RESERVED,
    REVERSED,
    SPEED_TABLE,
    STEPS_28,
    Configuration,
    configuration,
    configuration_words,
    cv29_of,
)
from rosterkit.standards.speed_curve import falling_steps

CONFIGURATION_CV = 29
SETTINGS = {
    "direction": REVERSED,
    "speed_steps": STEPS_28,
    "dc_operation": DC_OPERATION,
    "bidi": BIDI,
    "speed_curve": SPEED_TABLE,
}
"""The bit of CV29 that each column states; where it is blank the bit stays as it is."""


def cv29_for(engine: Locomotive, roster: Roster, address: Address) -> CvValue:
    """Return CV29 of an engine; the bit of a table that is held back counts as if its column were blank."""
    fault = table_fault(engine, roster) if engine.speed_curve == "table" else None
    blank = sum(bit for name, bit in SETTINGS.items() if getattr(engine, name) is None)
    value = cv29_of(_configuration(engine, roster.layout, address))
    if fault:
        blank, value = blank | SPEED_TABLE, value & ~SPEED_TABLE
    assumed = _cv29(value, assumed=blank)
    read = configuration_read(roster, engine.loco)
    return assumed if read is None else as_read(assumed, read)


def _configuration(engine: Locomotive, layout: Layout, address: Address) -> Configuration:
    """Return what an engine's columns say about CV29; what they leave open is off, and steps the layout's."""
    return Configuration(
        reversed=engine.direction == "reversed",
        steps_28=(engine.speed_steps or layout.speed_steps) == "28/128",
        dc_operation=engine.dc_operation == "on",
        bidi=engine.bidi == "on",
        speed_table=engine.speed_curve == "table",
        long_address=address.space is Space.LONG,
    )


def as_read(cv29: CvValue, read: int) -> CvValue:
    """Return CV29 with the bits that no column states as they were read, 0 to 127; bit 6 has no column."""
    kept = cv29.kept | cv29.assumed | RESERVED
    return _cv29(cv29.value & ~kept | read & kept, kept=kept)


def _cv29(value: int, *, kept: int = 0, assumed: int = 0) -> CvValue:
    """Make CV29, its meaning bit by bit in three parts: what is stated, what kept and what assumed."""
    words = list(enumerate(configuration_words(configuration(value))))
    parts = (("", EVERY_BIT & ~(kept | assumed)), ("kept as read: ", kept), ("assumed: ", assumed))
    named = [(how, [word for bit, word in words if bits >> bit & 1]) for how, bits in parts]
    meaning = "; ".join(how + ", ".join(said) for how, said in named if said)
    group = CvGroup.CONFIGURATION
    return CvValue(cv=CONFIGURATION_CV, value=value, meaning=meaning, group=group, kept=kept, assumed=assumed)


def uses_table(engine: Locomotive, roster: Roster) -> bool:
    """Tell whether an engine runs by a speed table: its column says so, or leaves CV29 as it read last."""
    if engine.speed_curve is not None or "speed_curve" in engine.unusable:
        return engine.speed_curve == "table"
    return bool((configuration_read(roster, engine.loco) or 0) & SPEED_TABLE)


def table_fault(engine: Locomotive, roster: Roster) -> str | None:
    """Say why the speed table that an engine names cannot be keyed in; None if it can, or names none."""
    if "speed_table" in engine.unusable:
        return cell_fault(engine, "speed_table")
    if engine.speed_table is None:
        return None
    table = roster.tables.get(folded(engine.speed_table))
    if table is None:
        return f"'{engine.speed_table}' is not in the sheet Speed tables"
    values = [value for value in table.steps if value is not None]
    if len(values) < len(table.steps):
        step = table.steps.index(None) + 1
        return cell_fault(table, f"step{step}", f"step {step} of '{table.label}'")
    falls = falling_steps(values)
    return f"'{table.label}' falls at step {falls[0]}" if falls else None


def cell_fault(row: Row, column: str, name: str | None = None) -> str:
    """Say of a cell, by its heading or another name, that nothing can be made of it, or that it is blank."""
    place, stored = row.place(column), row.table.raw[column][row.index] if column in row.table.raw else ""
    where = f"{name or row.heading(column)} in {place.sheet} {place.cell}"
    content = f"'{stored}'" if isinstance(stored, str) else shown(stored)
    return f"{where} is blank" if stored == "" else f"{where} cannot be used ({content})"
