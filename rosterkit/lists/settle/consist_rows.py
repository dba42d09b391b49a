"""Rows of a list's own table of consists: which engine each means, and its place by CV19 and CV20."""

from collections.abc import Iterable, Mapping, Sequence

from rosterkit.lists.adopted import AdoptedValue
from rosterkit.lists.settle.beside import CONSIST_CVS, FUNCTION_CVS
from rosterkit.lists.settle.cells import cell_said
from rosterkit.lists.settle.draft import Draft
from rosterkit.lists.settle.known_engines import number_of
from rosterkit.lists.settle.rows import TableFacts, new_draft, take_read
from rosterkit.lists.settle.typed_cvs import TypedCv, UnreadCv, agreed, cvs_in_cell
from rosterkit.lists.tables import Record
from rosterkit.roster.schema import folded, sheet
from rosterkit.standards.consists import CONSIST_ADDRESSES, consist_of_pair
from rosterkit.standards.functions import consist_functions

CONSISTS = "Consists"
_SHEET = sheet(CONSISTS)
_CV = "cv:"
_LABEL = "engine"
_CORRECT = "Correct the one or the other."


def consist_draft(record: Record, context: TableFacts) -> Draft:
    """Return a record as a row of Consists, as far as its cells say; whose it is is not known yet."""
    draft = new_draft(record, context)
    for column in context.reading.columns:
        located = record.cells.get(column.heading)
        if located is None:
            continue
        if column.read_as == _LABEL:
            said = cell_said(_SHEET["loco"], located.cell, "", (None, None))
            draft.take(_SHEET["loco"], said, located.place, located.cell.text)
        elif column.read_as.startswith(_CV):
            for one in cvs_in_cell(column.read_as.removeprefix(_CV), located.cell, located.place):
                if isinstance(one, UnreadCv):
                    draft.doubt(one.place, one.message, one.fix)
                else:
                    draft.cvs.append(one)
        else:
            take_read(draft, _SHEET, column, located, context)
    return draft


def settle_consists(drafts: Sequence[Draft], engines: Iterable[Draft]) -> None:
    """Give rows of consists the labels of the roster's engines, addresses, and the names of the consists."""
    labels = _labels_of(engines)
    _number_consists(drafts)
    for draft in drafts:
        _take_stored(draft)
        if "loco" in draft.values:
            _follow(draft, labels)
        elif draft.values:
            message = "nothing there says which engine is in the consist"
            draft.doubt(draft.place, message, "Enter the engine in Consists.")
    _name_consists(drafts)


def _name_consists(drafts: Sequence[Draft]) -> None:
    """Give rows that say the address alone the consist's name on its other rows, or one by the address."""
    names = {
        one.values["address"]: one.values["consist"]
        for one in reversed(drafts)
        if {"address", "consist"} <= one.values.keys()
    }
    for draft in drafts:
        if "address" in draft.values and "consist" not in draft.values:
            address = draft.values["address"]
            draft.values["consist"] = names.get(address, f"Consist {address}")
            draft.places.setdefault("consist", draft.places["address"])


def _labels_of(engines: Iterable[Draft]) -> Mapping[str, list[str]]:
    """Return by every name that the list has for an engine, folded, the labels that the roster has."""
    found: dict[str, list[str]] = {}
    for engine in engines:
        number, railway = number_of(engine), engine.values.get("railway")
        names = {engine.label, engine.typed.get("loco", "")}
        names |= {f"{railway} {number}" if railway and number else "", number or ""}
        for name in {folded(name) for name in names} - {""}:
            found.setdefault(name, []).append(engine.label)
    return found


def _follow(draft: Draft, labels: Mapping[str, list[str]]) -> None:
    """Put the roster's label for what a row calls its engine; a doubt where none or several may be meant."""
    typed = draft.label
    meant = labels.get(folded(typed), [])
    if len(meant) == 1:
        draft.values["loco"] = meant[0]
        if folded(meant[0]) != folded(typed):
            draft.as_typed.setdefault("Loco", typed)
        return
    several = "the list has several engines" if meant else "no engine of the list is"
    message = f"{several} called '{typed}'"
    draft.doubt(draft.places["loco"], message, "Enter the engine's label in Loco of Consists.")


def _number_consists(drafts: Sequence[Draft]) -> None:
    """Take a consist's number for its address where nothing else says one, with a doubt.

    Numbers that only count the consists, 1, 2, 3, stand for none.
    """
    bare = [one for one in drafts if "address" not in one.typed and not _stored(one)]
    numbers = {text for one in bare if (text := str(one.values.get("consist", ""))).isdecimal()}
    counted = {int(number) for number in numbers} == set(range(1, len(numbers) + 1))
    told: set[str] = set()
    for draft in bare:
        text = str(draft.values.get("consist", ""))
        if counted or text not in numbers or int(text) not in CONSIST_ADDRESSES:
            continue
        draft.values["address"], draft.places["address"] = int(text), draft.places["consist"]
        if text not in told:
            told.add(text)
            message = f"'{text}' is taken for the address of the consist as well as its name"
            draft.doubt(draft.places["consist"], message, "Enter its address in Consists if it is another.")


def _stored(draft: Draft) -> bool:
    return any(one.cv == CONSIST_CVS[0] for one in draft.cvs)


def _take_stored(draft: Draft) -> None:
    """Take what CV19 to CV22 say where nothing is typed; a difference is a doubt.

    NMRA S-9.2.2 (Jul 2012), CV19; RCN-225 (27.07.2025), CV19/20.
    """
    plain, against = agreed(draft.cvs)
    for unread in against:
        draft.doubt(unread.place, unread.message, unread.fix)
    low, high = (plain.get(cv) for cv in CONSIST_CVS)
    stored = consist_of_pair(low.value, high.value if high else 0) if low else None
    if low is not None and stored is not None and stored.address is not None:
        _compare(draft, "address", stored.address, low)
        _compare(draft, "facing", "reverse" if stored.reversed else "forward", low)
    elif low is not None:
        message = f"CV19 = {low.value} says that the engine is in no consist"
        draft.doubt(low.place, message, "Read CV19 again.")
    both = [plain[cv] for cv in FUNCTION_CVS if cv in plain]
    if len(both) == len(FUNCTION_CVS):
        functions = " ".join(consist_functions(*(one.value for one in both))) or "none"
        _compare(draft, "functions", functions, both[0])


def _compare(draft: Draft, name: str, value: AdoptedValue, one: TypedCv) -> None:
    typed = draft.values.setdefault(name, value)
    draft.places.setdefault(name, one.place)
    if typed != value:
        message = f"{_SHEET[name].heading} is {typed}, and CV{one.cv} = {one.value} says {value}"
        draft.doubt(one.place, message, _CORRECT)
