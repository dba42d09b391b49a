"""What checks say that belongs on an engine's card: it forbids to key in, or holds some CVs back."""

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence

from rosterkit.cards.known_errors import KnownError, row_of
from rosterkit.cv.consist import consist_column
from rosterkit.cv.extra_values import can_be_extra
from rosterkit.findings import Finding, Severity
from rosterkit.roster.model import ExtraValue, Locomotive, Roster
from rosterkit.roster.rows import Row
from rosterkit.roster.schema import folded
from rosterkit.standards.speed_curve import SPEED_TABLE_CVS

_SAID_BY_CARDS = "engine-too-long"
"""The card says it by itself: it depends on the way of writing."""
_AT_HOME, _AT_A_MEET = ("address", "address_kind"), ("meet_address", "meet_kind")
_FORBIDDING = (
    *("loco", "decoder", "lock"),
    *("direction", "speed_steps", "bidi", "speed_curve", "speed_table"),
)
"""Columns of an engine that must be right before anything is keyed in: which engine answers what, and what
its decoder can do."""
_MOTOR_CVS = {"vstart": 2, "vmid": 6, "vhigh": 5, "acceleration": 3, "deceleration": 4}
_CURVE = "curve-not-rising"
_CURVE_CVS = (2, 5, 6)
_CONSIST_CVS = (19, 20, 21, 22)


def errors_by_row(
    roster: Roster, findings: Iterable[Finding], *, meet: bool = False
) -> dict[int, list[KnownError]]:
    """Return what is known to be wrong with engines, by sheet row, beyond what their cards say anyway.

    What is wrong in other sheets is told of every engine that the row there is about. For the cards of a
    ``meet`` the meet address has to be right, and not the home address; so has that of a consist.
    """
    forbidding = (*_FORBIDDING, *(_AT_A_MEET if meet else _AT_HOME))
    errors = [one for one in findings if one.severity is Severity.ERROR and one.rule != _SAID_BY_CARDS]
    said: dict[int, list[KnownError]] = {}
    own = roster.book.tables["Locomotives"]
    engines = {own.rows[engine.index]: engine for engine in roster.engines}
    elsewhere = _About(roster, meet=meet) if any(one.place.sheet != own.title for one in errors) else None
    for finding in errors:
        row = finding.place.row or 0
        if finding.place.sheet == own.title and row in engines:
            said.setdefault(row, []).append(_of_engine(finding, engines[row], forbidding))
        elif elsewhere:
            for at, one in elsewhere.told(finding):
                said.setdefault(at, []).append(one)
    return said


def device_errors_by_row(roster: Roster, findings: Iterable[Finding]) -> dict[int, list[str]]:
    """Return what is known to be wrong with devices, by row of the sheet Accessories."""
    table = roster.book.tables.get("Accessories")
    said: dict[int, list[str]] = {}
    for finding in findings:
        here = table is not None and finding.place.sheet == table.title
        if here and finding.severity is Severity.ERROR:
            words = f"Error in {finding.column or 'its row'}: {finding.message}."
            said.setdefault(finding.place.row or 0, []).append(words)
    return said


def _of_engine(finding: Finding, engine: Locomotive, forbidding: Iterable[str]) -> KnownError:
    words = f"Error in {finding.column or 'its row'}: {finding.message}."
    unnamed = engine.loco is None and finding.column == engine.heading("loco")
    forbids = not unnamed and finding.column in {engine.heading(name) for name in forbidding}
    motor = [cv for name, cv in _MOTOR_CVS.items() if finding.column == engine.heading(name)]
    cvs = _CURVE_CVS if finding.rule == _CURVE else motor
    return KnownError(words=words, blocks=forbids, cvs=cvs, reason=finding.message)


def _keyed_in(extra: ExtraValue) -> Collection[int]:
    """Return the CV of an extra value; none where a column has it, which goes before."""
    return (extra.cv,) if extra.cv is not None and can_be_extra(extra.cv) else ()


def _counting_elsewhere(roster: Roster, *, meet: bool) -> Iterator[tuple[tuple[str, int], str]]:
    """Return by the row of a consist the heading of the address that counts on the other side of a meet only.

    At a meet a row without a Meet address has its address, and lacks the other one: then both count.
    """
    other = "address" if meet else "meet_address"
    for member in roster.consist_members:
        if consist_column(member, meet=meet) != other:
            yield (member.table.title, member.table.rows[member.index]), member.heading(other)


class _About:
    """The rows of other sheets with the sheet rows of the engines that they are about."""

    def __init__(self, roster: Roster, *, meet: bool) -> None:
        by_label: dict[str, list[Locomotive]] = {}
        by_decoder: dict[str, list[Locomotive]] = {}
        by_table: dict[str, list[Locomotive]] = {}
        for engine in roster.engines:
            for label, found in (
                (engine.loco, by_label),
                (engine.decoder, by_decoder),
                (engine.speed_table, by_table),
            ):
                if label is not None:
                    found.setdefault(folded(label), []).append(engine)
        self._engines: dict[tuple[str, int], Sequence[Locomotive]] = {}
        self._cvs: dict[tuple[str, int], Collection[int]] = {}
        self._elsewhere = dict(_counting_elsewhere(roster, meet=meet))
        for member in roster.consist_members:
            self._note(member, member.loco, by_label, _CONSIST_CVS)
        for extra in roster.extra_values:
            self._note(extra, extra.loco, by_label, _keyed_in(extra))
        for table in roster.speed_tables:
            self._note(table, table.label, by_table, SPEED_TABLE_CVS)
        for kind in roster.decoder_types:
            self._note(kind, kind.decoder, by_decoder, ())
        for reading in roster.readings:
            if reading.unusable:
                self._note(reading, reading.loco, by_label, ())

    def _note(
        self, row: Row, label: str | None, by: Mapping[str, list[Locomotive]], cvs: Collection[int]
    ) -> None:
        key = row.table.title, row.table.rows[row.index]
        self._engines[key] = by.get(folded(label), ()) if label is not None else ()
        self._cvs[key] = cvs

    def told(self, finding: Finding) -> Iterator[tuple[int, KnownError]]:
        """Return, by sheet row, what a finding in another sheet says of engines."""
        place = finding.place
        key = place.sheet or "", place.row or 0
        if finding.column is not None and self._elsewhere.get(key) == finding.column:
            return
        for engine in self._engines.get(key, ()):
            where = f"{place.sheet} {place.cell}"
            words = f"Error in {where} ({finding.column or 'the row'}): {finding.message}."
            reason = f"{finding.message} ({where})"
            yield (
                row_of(engine),
                KnownError(words=words, cvs=self._cvs[key], reason=reason),
            )
