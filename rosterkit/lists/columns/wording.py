"""Why a heading is read as it is, in a phrase for the member who keeps the list."""

from rosterkit.lists.columns.assign import Assigned, Choice
from rosterkit.lists.reading import ENGINES, OWN
from rosterkit.lists.tables import Heading
from rosterkit.lists.vocabulary import Known
from rosterkit.roster.schema import sheet

OF_OURS = "it is a heading of the sheet {0}"
_LOOSE = frozenset({"loco", "engine", "number", "model", "owner", "decoder"})
"""What nearly any text may be, more or less."""
_SPECIAL = {
    "engine": "a label of the engine",
    "cv": "the numbers of CVs",
    "value": "the values of CVs",
    "cv:17/18": "CV17 and CV18 in one cell",
}


def shown_field(field: str) -> str:
    """Return what people call a word of ``ColumnReading.read_as`` of engines: Address, CV49, a label."""
    if field in _SPECIAL:
        return _SPECIAL[field]
    if field.startswith("cv:"):
        return f"CV{field.removeprefix('cv:')}"
    return sheet(ENGINES)[field].heading


def why_read(heading: Heading, assigned: Assigned, headings: tuple[Heading, ...]) -> str:
    """Say why a heading is read as the field that it is assigned."""
    choice = assigned.choice
    if choice.fit is None:
        below = "there is nothing below it"
    elif round(choice.fit * 100) >= 95:
        below = "all that stands below it fits"
    elif choice.candidate.field in _LOOSE:
        below = "what stands below it may be that"
    else:
        below = f"{round(choice.fit * 100)} % of what stands below it fits"
    said = f"{_of_heading(heading, choice)}, and {below}"
    if assigned.may_count:
        return f"{said}, though it may only count the rows"
    if assigned.rival is None:
        return said
    other = headings[assigned.rival.heading]
    return f"{said}; {other.key} '{other.text}' would do as well"


def _of_heading(heading: Heading, choice: Choice) -> str:
    meant = shown_field(choice.candidate.field)
    if choice.candidate.known is Known.TYPO:
        return f"'{heading.text}' is spelt much like a word for {meant}"
    if choice.candidate.field == "engine":
        return f"'{heading.text}' names the engine, often with its railway and number"
    return f"'{heading.text}' {'may mean' if choice.candidate.choices > 1 else 'means'} {meant}"


def why_own(heading: Heading, fields: tuple[str, ...], taken: dict[str, Heading], *, misfit: bool) -> str:
    """Say why a heading stays a column of the member's own."""
    named = [field for field in fields if field != OWN]
    if not heading.text:
        return "it has no heading"
    if not fields:
        return f"'{heading.text}' is no heading that is known"
    if not named or fields[0] == OWN:
        return f"'{heading.text}' is something of your own"
    meant = shown_field(named[0])
    if named[0] in taken:
        other = taken[named[0]]
        return f"'{heading.text}' may mean {meant}, but that is {other.key} '{other.text}'"
    if misfit:
        return f"'{heading.text}' may mean {meant}, but what stands below it does not fit"
    return f"'{heading.text}' may mean {meant} or something else"
