"""Cards: what to key in at the programming track, engine by engine and in a safe order."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass

from rosterkit.addressing import Address
from rosterkit.registers import Register, Registers, registers_of
from rosterkit.roster import Locomotive, Roster
from rosterkit.sheets import folded
from rosterkit.standards.service_mode import ServiceMode, reaches

CAUTIONS = (
    "One engine only on the programming track: every decoder there is written alike.",
    "All wheels past the gaps in both rails; a wheel across a gap lets the whole layout be reprogrammed.",
    "Key in from top to bottom, CV17 and CV18 directly one after the other, then read back.",
    "Keep DC running off (CV29) unless you need it: a glitch can start the engine at full speed.",
    "Unplug supplies before you touch wiring; maker's instructions and local electrical codes come first.",
)
"""The usual cautions; they stand above every batch of cards."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One line of a card: a register and the value to key in."""

    cv: int
    value: int
    bits: str
    meaning: str
    mode: str
    page: tuple[int, int] | None
    """CV31 and CV32 to key in directly before, for CV257 to CV512."""
    last_read: int | None
    state: str
    """key in, or why it cannot be."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Card:
    """What to key in for one engine."""

    workbook: str
    loco: str
    address: Address | None
    steps: Sequence[Step]
    cautions: Sequence[str]
    """What is to be minded with this engine, beyond the cautions for all."""
    about: str
    """Which engine it is: railway, number, owner, decoder."""


def cards_of(roster: Roster, labels: Collection[str] = (), *, meet: bool = False) -> list[Card]:
    """Make the cards of a roster's engines, or of those with the given labels, in the order of the sheet."""
    wanted = {folded(label) for label in labels}
    return [
        _card(roster, engine, meet=meet)
        for engine in roster.engines
        if not wanted or folded(engine.loco or "") in wanted
    ]


def unknown_labels(roster: Roster, labels: Collection[str]) -> list[str]:
    """Give those labels that no engine of the roster has."""
    known = {folded(engine.loco) for engine in roster.engines if engine.loco}
    return [label for label in labels if folded(label) not in known]


def _card(roster: Roster, engine: Locomotive, *, meet: bool) -> Card:
    registers = registers_of(engine, roster.layout, meet=meet)
    mode = ServiceMode(roster.layout.service_mode)
    return Card(
        workbook=roster.book.name,
        loco=engine.loco or f"row {engine.table.rows[engine.index]}",
        address=registers.address if registers.values else None,
        steps=[_step(register, mode) for register in registers.values],
        cautions=_cautions(engine, registers),
        about=_about(engine),
    )


def _step(register: Register, mode: ServiceMode) -> Step:
    reached = reaches(mode, register.cv)
    return Step(
        cv=register.cv,
        value=register.value,
        bits=register.bits,
        meaning=register.meaning,
        mode=mode.value,
        page=None,
        last_read=None,
        state="key in" if reached else f"not within reach of {mode.value} mode",
    )


def _cautions(engine: Locomotive, registers: Registers) -> list[str]:
    if registers.hindrances:
        columns = " and ".join(engine.heading(name) for name in registers.hindrances)
        return [f"Nothing to key in: {columns} cannot be used, see Findings."]
    cautions = []
    if engine.tag:
        cautions.append(f"Open fault: {engine.tag}")
    if engine.dc_running == "on":
        cautions.append("DC running is on in this engine: it can start by itself on a glitch.")
    return cautions


def _about(engine: Locomotive) -> str:
    name = " ".join(part for part in (engine.railway, engine.number) if part)
    parts = [name, engine.model, f"owner {engine.owner}" if engine.owner else None]
    parts.append(f"decoder {engine.decoder}" if engine.decoder else None)
    return ", ".join(part for part in parts if part)
