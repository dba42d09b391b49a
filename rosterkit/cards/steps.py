"""The lines of one engine's card: what to read and to key in, in an order where no write undoes another."""

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from rosterkit.cards.write_modes import WriteMode, entry_of, hint_of, is_reached, refusal_of
from rosterkit.cv.configured import CONFIGURATION_CV
from rosterkit.cv.cv_values import CvGroup, CvValue, Withheld, bits_of
from rosterkit.cv.engine import NO_HIGH_DIGITS, EngineCvs
from rosterkit.cv.extra_values import CvKey, Index
from rosterkit.cv.meanings import meaning_of
from rosterkit.cv.readings import agree
from rosterkit.standards.configuration import bits_named
from rosterkit.standards.cv_names import cv_name
from rosterkit.standards.identity import MAKER_CV, VERSION_CV
from rosterkit.standards.service_mode import physical_register

READ, KEY_IN, AGREES = "read", "key in", "agrees"
READ_OUT = "read out"
"""The states of a step that can be done, the last before a reset; any other says why it cannot."""
HELD_BACK = "held back: "
"""How the state of a step begins that waits until something is put right in the workbook."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One line of a card: a CV, and the value to key in or to find there."""

    cv: int
    value: int | None
    """What to key in; in a step that only reads, what should be found, None where nobody knows."""
    bits: str | None
    meaning: str
    mode: str
    index: Index | None
    """CV31 and CV32, which stand as steps of their own before the first CV of an index."""
    last_read: int | None
    no_answer: bool
    """The decoder gave no acknowledgment when this CV was last read."""
    state: str
    """read, key in, agrees (the last reading shows the value already), read out, or why it cannot be done."""
    entry: str
    """What the CV is called in the mode: CV29, R5, address."""
    register: int | None
    """The physical register, in register mode."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WriteConditions:
    """How an engine's card is made."""

    mode: WriteMode
    changes: bool
    """Only what the last readings do not already show."""
    after_reset: bool
    """Everything, as after a reset to factory values."""
    last_read: Mapping[CvKey, int]
    unanswered: Collection[CvKey] = ()
    """CVs that were read last without an answer."""
    faulty: Mapping[int, str] = field(default_factory=dict)
    """CVs that are held back because of what checks say, each with the reason."""

    def step(
        self, cv: int, value: int | None, meaning: str, state: str | None = None, index: Index | None = None
    ) -> Step:
        """Make the line of a CV; without a state it is to be keyed in, or says why it cannot be."""
        hint = hint_of(self.mode, cv)
        return Step(
            cv=cv,
            value=value,
            bits=None if value is None else bits_of(value),
            meaning=f"{meaning} ({hint})" if hint else meaning,
            mode=self.mode.value,
            index=index,
            last_read=self.last_read.get((cv, index)),
            no_answer=(cv, index) in self.unanswered,
            state=state or refusal_of(self.mode, cv, value, self.last_read) or KEY_IN,
            entry=entry_of(self.mode, cv),
            register=physical_register(cv) if self.mode is WriteMode.REGISTER else None,
        )


def steps_of(cvs: EngineCvs, conditions: WriteConditions, lock: Sequence[Step] = ()) -> list[Step]:
    """Return the lines of an engine's card, with those that open its lock; none where nothing is to be done.

    First the lock, as a closed one blocks reading too (RCN-225 (27.07.2025), CV15/16), then what shows that
    the right engine is on the track, an old consist, and the CVs in the order of ``cvs_of``.
    """
    steps = [_step(one, conditions) for one in _with_withheld(_in_order(cvs, conditions), cvs.withheld)]
    work = [step for step in _pulled_along(steps) if not (conditions.changes and step.state == AGREES)]
    if not work and len(lock) < 2:
        return []
    look_first = [*_look_first(cvs, conditions), *_assumed_first(cvs, work, conditions)]
    steps = [*lock, *look_first, *with_index(work, conditions)]
    return [step for step in steps if not _is_passed_over(step, conditions)]


def unreached(cvs: EngineCvs, conditions: WriteConditions) -> list[int]:
    """Return the CVs that are to be keyed in and that the mode cannot write, where it writes a few only."""
    steps = (_step(cv_value, conditions) for cv_value in cvs.values)
    return [step.cv for step in steps if step.state != AGREES and _is_passed_over(step, conditions)]


def _is_passed_over(step: Step, conditions: WriteConditions) -> bool:
    """Tell whether a line is left out: one of the many that a mode of few registers cannot write."""
    few = conditions.mode in (WriteMode.REGISTER, WriteMode.ADDRESS_ONLY)
    return few and not is_reached(conditions.mode, step.cv) and not step.state.startswith(HELD_BACK)


def _look_first(cvs: EngineCvs, conditions: WriteConditions) -> Iterator[Step]:
    if not cvs.values or conditions.mode in (WriteMode.OPERATIONS, WriteMode.ADDRESS_ONLY):
        return
    wanted = cvs.held
    for cv in (MAKER_CV, VERSION_CV, *(cv for cv in (107, 108) if (cv, None) in wanted)):
        value = wanted.get((cv, None))
        meaning = meaning_of(cv, value) if value is not None else cv_name(cv)
        yield conditions.step(cv, value, meaning, READ)
    if _may_hold_high_digits(cvs, conditions):
        yield conditions.step(20, 0, f"{NO_HIGH_DIGITS}, or no answer where the decoder lacks it", READ)


def _may_hold_high_digits(cvs: EngineCvs, conditions: WriteConditions) -> bool:
    """Tell whether CV20 decides with CV19 which consist it is, and nobody knows what it holds."""
    unknown = (20, None) not in conditions.last_read and (20, None) not in conditions.unanswered
    is_or_was_in_one = cvs.value(19) or conditions.last_read.get((19, None))
    reached = conditions.mode in (WriteMode.DIRECT, WriteMode.PAGED)
    may_have_it = (20, None) in cvs.held and cvs.value(20) is None
    return bool(reached and unknown and is_or_was_in_one and may_have_it)


def _assumed_first(cvs: EngineCvs, work: Sequence[Step], conditions: WriteConditions) -> Iterator[Step]:
    """Have CV29 read before it is keyed in with bits that no column states and no reading tells."""
    keyed = any(step.cv == CONFIGURATION_CV and step.state == KEY_IN for step in work)
    assumed = next((one.assumed for one in cvs.values if one.cv == CONFIGURATION_CV), 0)
    if keyed and assumed:
        are = f"{bits_named(assumed)} {'are' if assumed & (assumed - 1) else 'is'} assumed below"
        yield conditions.step(CONFIGURATION_CV, None, f"{cv_name(CONFIGURATION_CV)}: {are}", READ)


def _in_order(cvs: EngineCvs, conditions: WriteConditions) -> Iterator[CvValue]:
    """Return what is to be keyed in.

    An old consist is cleared first, its high digits where they are known.
    """
    values = [cv_value for cv_value in cvs.values if cv_value.group is not CvGroup.LOCK]
    in_none = cvs.value(19) == 0
    cleared = [cv_value for cv_value in values if in_none and cv_value.cv in (19, 20)]
    digits = conditions.last_read.get((20, None), 0)
    high = CvValue(cv=20, value=0, meaning=NO_HIGH_DIGITS, group=CvGroup.CONSIST)
    extra = [high] if digits and cvs.value(20) is None and not conditions.after_reset else []
    yield from (*cleared, *extra) if cleared else ()
    for cv_value in values:
        if cv_value not in cleared:
            yield cv_value
            if cv_value.cv == 19:
                yield from extra


def _with_withheld(values: Iterable[CvValue], withheld: Iterable[Withheld]) -> Iterator[CvValue | Withheld]:
    """Put what is held back behind the CVs of its group."""
    waiting = list(withheld)
    order = list(CvGroup)
    for value in values:
        while waiting and order.index(waiting[0].group) < order.index(value.group):
            yield waiting.pop(0)
        yield value
    yield from waiting


def _step(cv_value: CvValue | Withheld, conditions: WriteConditions) -> Step:
    reason = cv_value.reason if isinstance(cv_value, Withheld) else conditions.faulty.get(cv_value.cv)
    if reason is not None or isinstance(cv_value, Withheld):
        return conditions.step(cv_value.cv, None, cv_value.meaning, f"{HELD_BACK}{reason}")
    read = conditions.last_read.get(cv_value.key)
    agrees = read is not None and agree(cv_value.cv, read, cv_value.value) and not conditions.after_reset
    state = AGREES if agrees else None
    return conditions.step(cv_value.cv, cv_value.value, cv_value.meaning, state, cv_value.index)


def _pulled_along(steps: Sequence[Step]) -> Iterator[Step]:
    """Key in again what a pending write touches.

    CV17 and CV18 go together (NMRA S-9.2.1 (Jul 2012), long form, footnote 8), and a new CV1 clears CV19
    (NMRA S-9.2.3 (Jul 2012), section E).
    """
    pending = {step.cv for step in steps if step.index is None and step.state == KEY_IN}
    again = {17, 18} if pending & {17, 18} else set()
    again |= {19} if 1 in pending else set()
    for step in steps:
        touched = step.state == AGREES and step.cv in again and (step.cv != 19 or step.value)
        yield replace(step, state=KEY_IN) if touched else step


def with_index(steps: Iterable[Step], conditions: WriteConditions) -> Iterator[Step]:
    """Put CV31 and CV32 directly before the CVs of each index (NMRA S-9.2.2 (Jul 2012), CV31/32)."""
    current: Index | None = None
    for step in steps:
        if step.index is not None and step.index != current and step.state in (KEY_IN, AGREES, READ_OUT):
            current = step.index
            for cv, value in zip((31, 32), current, strict=True):
                yield conditions.step(cv, value, meaning_of(cv, value), KEY_IN)
        yield step
