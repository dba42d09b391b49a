"""Each field to one heading, and each heading to one field: the surest first."""

from collections.abc import Sequence
from dataclasses import dataclass

from rosterkit.lists.columns.candidates import Candidate
from rosterkit.lists.columns.context import Context
from rosterkit.lists.tables import Origin

BY_WORDS = 0.4
"""What the words of a heading count where none of its cells fits; the cells make up the rest."""
EMPTY = 0.7
"""What words count that have no cells below them."""
ENOUGH = 0.5
"""The share of cells that have to fit a heading that means one thing."""
ENOUGH_OF_SEVERAL = 0.8
"""And one that may mean several, or is not the first of its meanings."""
NEAR = 0.06
"""Two choices whose scores are nearer than this are as good as each other."""
REPEATABLE = ("notes",)
LOOSE = frozenset({"notes", "model", "fault", "checked_by", "decoder", "railway", "owner"})
"""Of two headings for one of these the first may be taken without a doubt: nothing is keyed in from it."""


@dataclass(frozen=True, slots=True)
class Choice:
    """A field that a heading may be read as, and how much speaks for it."""

    heading: int
    candidate: Candidate
    fit: float | None
    score: float


@dataclass(frozen=True, slots=True)
class Assigned:
    """The choice for a heading, and what it was chosen from."""

    choice: Choice
    rival: Choice | None = None
    """Another heading that would do as well for the field."""
    may_count: bool = False
    """Whether the column may only count the rows."""


def choices_of(context: Context) -> list[Choice]:
    """Return everything that the headings of a table may be read as, the surest first."""
    found = []
    for number, some in enumerate(context.candidates):
        for candidate in some:
            fit = context.fit(number, candidate)
            score = _score(candidate, fit, context, number)
            if score > 0.0:
                found.append(Choice(number, candidate, fit, score))
    return sorted(found, key=lambda one: (-one.score, one.heading, one.candidate.rank))


def _score(candidate: Candidate, fit: float | None, context: Context, number: int) -> float:
    if fit is None:
        return candidate.worth * EMPTY if candidate.rank == 0 else 0.0
    needed = ENOUGH if candidate.choices == 1 or candidate.worth >= 1.0 else ENOUGH_OF_SEVERAL
    if candidate.field in {"loco", "engine", "number", "model"} or candidate.field.startswith("cv:"):
        needed = 0.3
    if fit < needed:
        return 0.0
    filled = 0.02 * context.contents[number].filled
    return candidate.worth * (BY_WORDS + (1 - BY_WORDS) * fit) + filled


def assigned(choices: Sequence[Choice], context: Context) -> dict[int, Assigned]:
    """Return one choice for each heading that gets any, by its number."""
    taken: dict[str, Choice] = {}
    found: dict[int, Assigned] = {}
    for choice in choices:
        field = choice.candidate.field
        if choice.heading in found:
            continue
        if field in taken and field not in REPEATABLE and not _never_together(choice, field, found, context):
            continue
        taken.setdefault(field, choice)
        found[choice.heading] = Assigned(
            choice, _rival(choice, choices, found), context.counts(choice.heading, choice.candidate)
        )
    return found


def _never_together(choice: Choice, field: str, found: dict[int, Assigned], context: Context) -> bool:
    """Whether a label stands in no form that has another for the field: Adr. here, Adresse there."""
    headings, contents = context.table.headings, context.contents
    others = [number for number, one in found.items() if one.choice.candidate.field == field]
    return (
        choice.candidate.rank == 0
        and all(
            headings[one].origin is Origin.LABEL
            and contents[one].by_record
            and contents[one].by_record.keys().isdisjoint(contents[choice.heading].by_record)
            for one in (choice.heading, *others)
            if one != choice.heading
        )
        and headings[choice.heading].origin is Origin.LABEL
    )


def _rival(choice: Choice, choices: Sequence[Choice], found: dict[int, Assigned]) -> Choice | None:
    """Return a choice that is as good and that this one shuts out."""
    field = choice.candidate.field
    for other in choices:
        near = abs(other.score - choice.score) < NEAR
        same_field = other.candidate.field == field and other.heading != choice.heading
        if near and same_field and other.heading not in found and field not in LOOSE:
            return other
    return None
