"""Which records are engines, and the label of each: typed or made, and each only once."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from functools import cache

from rosterkit.lists.adopted import Doubt
from rosterkit.lists.reading import TableReading
from rosterkit.lists.settle.draft import Draft
from rosterkit.lists.settle.facts import cells_of, stands_in_row
from rosterkit.lists.settle.labels import made_label, made_unique
from rosterkit.lists.settle.words import means, spellings
from rosterkit.lists.tables import Skipped, Table, shortened
from rosterkit.roster.schema import folded

_NAMES = ("loco", "number")
_ENGINE_LIKE = ("railway", "model", "decoder")
_FOR = (" for ", " für ", " pour ", " voor ", " till ", " til ", " per ", " para ", " pro ", " dla ")
_SHORTEST = 4
UNNAMED = "it has neither a number nor an address nor a decoder, which the others have"
_ENOUGH = 4
_NEARLY_ALL = 0.7


def why_no_engine(draft: Draft, reading: TableReading, *, all_named: bool = False) -> str | None:
    """Say why a record is no engine; None where it is one.

    An engine has a label or a number, or else a model beside a railway, decoder or owner; or else an address
    or CVs beside one of them (an owner only where no column of the table names engines). ``all_named``: its
    fellows nearly all have a name, and an address or a decoder.
    """
    name = draft.typed.get("loco") or draft.typed.get("number") or ""
    if name and _is_no_engine(name):
        return f"'{name}' is no engine"
    if name and any(draft.values.get(one) or draft.as_typed for one in _NAMES):
        return None
    told = [one for one in (*_ENGINE_LIKE, "owner") if one in draft.values and _own(draft, reading, one)]
    if "model" in told and len(told) > 1:
        return UNNAMED if all_named and not is_digital(draft) else None
    named = {column.read_as for column in reading.columns} & {*_NAMES, "engine"}
    if named and told == ["owner"]:
        told = []
    if (told or draft.record.pairs) and (draft.cvs or "address" in draft.typed):
        return None
    if "address" in draft.typed:
        return "an address that no engine is said to have"
    return "nothing there names an engine"


def is_digital(draft: Draft) -> bool:
    """Tell whether a record has an address, a decoder or CVs."""
    return bool(draft.cvs) or bool({"address", "decoder"} & draft.typed.keys())


def are_all_named(drafts: Sequence[Draft]) -> bool:
    """Tell whether nearly all records of a table have a label or number, and an address, decoder or CVs."""
    named = [one for one in drafts if any(one.typed.get(name) for name in _NAMES) and is_digital(one)]
    return len(named) >= _ENOUGH and len(named) >= _NEARLY_ALL * len(drafts)


def skipped_doubts(skipped: Iterable[Skipped]) -> Iterator[Doubt]:
    """Return a doubt for each record that may be an engine all the same."""
    for one in skipped:
        if one.why == UNNAMED:
            message = f"'{one.text}' is taken for no engine: {one.why}"
            yield Doubt(one.place, message, "If it is one, give it a number or a label in the list.")


def _is_no_engine(name: str) -> bool:
    if means("no engine", name) or means("nothing", name):
        return True
    return folded(name).startswith(_kept_for())


@cache
def _kept_for() -> tuple[str, ...]:
    """Return, folded, how texts such as "reserved for M09" begin."""
    known = [word for word in spellings("no engine") if len(word) >= _SHORTEST]
    return tuple(folded(f"{word}{behind}") for word in known for behind in _FOR)


def _own(draft: Draft, reading: TableReading, name: str) -> bool:
    """Tell whether a value stands in the record itself."""
    return any(
        column.read_as == name
        and column.heading in draft.record.cells
        and stands_in_row(reading.table.headings[column.heading])
        for column in reading.columns
    )


@dataclass(slots=True)
class SkippedRecords:
    """Records of a table that are no engines; those that follow one another for the same reason are one."""

    table: Table
    found: list[Skipped] = field(default_factory=list)
    _last: int = -2

    def add(self, number: int, why: str) -> None:
        """Add the record of that number in the table."""
        cells = cells_of(self.table.records[number], self.table)
        if not cells:
            return
        places = [one.place for one in cells]
        text = " | ".join(one.cell.text for one in cells if one.cell.text)
        one = Skipped(min(places), max(places), shortened(text), why)
        before = self.found[-1] if self.found else None
        if before and self._last == number - 1 and before.why == why:
            text = shortened(f"{before.text}; {one.text}")
            self.found[-1] = Skipped(before.place, one.last, text, why)
        else:
            self.found.append(one)
        self._last = number


def label_all(drafts: Iterable[Draft]) -> None:
    """Give every engine a label of its own: the typed one, or one of railway and number.

    One that an engine before it has gets (2) behind it, and a doubt. The rows of a sheet of ours keep what
    they have, as a roster reads them.
    """
    taken: set[str] = set()
    counts: dict[str, int] = {}
    for draft in drafts:
        if draft.exact:
            taken.add(folded(draft.label))
            continue
        place = draft.places.get("loco") or draft.places.get("number") or draft.place
        label = draft.label or _made(draft)
        unique = made_unique(label, taken, counts)
        if unique != label:
            message = f"'{label}' is the label of more than one engine; this one is '{unique}' for now"
            draft.doubt(place, message, "Give each engine a label of its own in Loco, or remove the row.")
            if "loco" in draft.typed:
                draft.as_typed.setdefault("Loco", draft.typed["loco"])
        taken.add(folded(unique))
        draft.values["loco"] = unique
        draft.places.setdefault("loco", place)
        draft.doubts = [replace(one, engine=unique) for one in draft.doubts]


def _made(draft: Draft) -> str:
    railway, number = draft.values.get("railway"), draft.values.get("number")
    if number:
        made = made_label(str(railway) if railway else None, str(number), ())
    else:
        others = (railway, draft.values.get("address"))
        made = made_label(None, None, [str(one) for one in others if one])
        made = made or draft.record.key.rpartition("!")[2]
        message = f"nothing there is a label or a number; the engine is '{made}' for now"
        draft.doubt(draft.place, message, "Give the engine a label in Loco.")
    return made or "engine"
