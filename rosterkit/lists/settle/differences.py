"""What is typed of an engine beside what its CVs and its label say: the typed stays, with a doubt."""

import re
from collections.abc import Mapping

from rosterkit.cv.readings import nothing_read
from rosterkit.lists.reading import ENGINES
from rosterkit.lists.settle.configured import Odd, derived_of
from rosterkit.lists.settle.draft import Draft
from rosterkit.lists.settle.labels import is_short_for, number_in
from rosterkit.lists.settle.stored_address import settled_address
from rosterkit.lists.settle.typed_cvs import agreed, indexed, values_of
from rosterkit.lists.settle.words import spellings
from rosterkit.roster.schema import folded, sheet
from rosterkit.standards.addresses import LONG_ADDRESSES

_SHEET = sheet(ENGINES)
_KINDS = {"address": "address_kind", "meet_address": "meet_kind"}
_DIGITS = re.compile(r"[0-9]{1,9}")
_PARTED = re.compile(r"([1-9][0-9]?) ([0-9]{3})")
_CORRECT = "Read the CV again, then correct the one or the other."


def settle_typed_and_stored(draft: Draft) -> None:
    """Fill what an engine's row leaves blank from its CVs and its label, and note where they differ."""
    _settle_kinds(draft)
    _take_parted(draft)
    _take_derived(draft)
    _propose_number(draft)
    _take_parts_of_label(draft)


def _settle_kinds(draft: Draft) -> None:
    """Take the kind that stands in an address's cell; where its own column says otherwise, neither."""
    for name, beside in _KINDS.items():
        kind, place = draft.kinds.get(name), draft.places.get(name, draft.place)
        typed = draft.values.get(beside)
        if kind is None or typed == kind:
            continue
        if typed is None:
            draft.values[beside] = kind
            draft.places.setdefault(beside, place)
            continue
        message = f"'{draft.typed[name]}' says {kind}, and {_SHEET[beside].heading} says {typed}"
        draft.doubt(place, message, f"Enter short or long in {_SHEET[beside].heading}.")
        draft.as_typed.setdefault(_SHEET[beside].heading, draft.typed.get(beside, str(typed)))
        del draft.values[beside]
        del draft.places[beside]


def _take_parted(draft: Draft) -> None:
    """Take 1307 of an address "1 307" where the number on the engine says that it is one number."""
    found = _PARTED.fullmatch(draft.typed.get("address", ""))
    if found is None or "address" in draft.values or f"{found[1]}{found[2]}" != _digits_of(draft):
        return
    place = draft.typed_at["address"]
    draft.values["address"] = int(f"{found[1]}{found[2]}")
    draft.places["address"] = place
    draft.as_typed.pop("Address", None)
    draft.doubts = [one for one in draft.doubts if one.place != place]


def _digits_of(draft: Draft) -> str:
    """Return the figures of the number on an engine, blank where it has none or several: 1307 of BB 1307."""
    number = str(draft.values.get("number") or draft.of_label.get("number", ("",))[0])
    runs = _DIGITS.findall(number)
    return str(runs[0]) if len(runs) == 1 else ""


def _take_derived(draft: Draft) -> None:
    """Take what CVs say for the columns; what is typed there stays, and a difference is a doubt."""
    draft.cvs = indexed(draft.cvs)
    draft.plain, against = agreed(draft.cvs)
    for unread in against:
        draft.doubt(unread.place, unread.message, unread.fix)
    values = values_of(draft.plain)
    if nothing_read(values.items()):
        place = next(iter(draft.plain.values())).place
        draft.doubt(place, "every CV is 255, so probably nothing was read", "Read the CVs again.")
        draft.cvs, draft.plain = [], {}
        return
    _take_address(draft, values)
    for one in derived_of(values):
        place = draft.plain[one.cv].place
        if isinstance(one, Odd):
            draft.doubt(place, one.message, one.fix)
            continue
        typed = draft.values.setdefault(one.name, one.value)
        if typed == one.value:
            draft.places.setdefault(one.name, place)
            continue
        message = f"{typed} is typed, and CV{one.cv} = {values[one.cv]} {_says(one.name, one.value)}"
        draft.doubt(draft.places.get(one.name, place), message, _CORRECT)


def _says(name: str, value: str | int) -> str:
    return f"says {_SHEET[name].heading} {value}"


def _take_address(draft: Draft, values: Mapping[int, int]) -> None:
    number, kind = draft.values.get("address"), draft.values.get("address_kind")
    if number is None and kind is None and "address" not in draft.typed and draft.short_at:
        number, kind = values.get(1), "short"
        draft.places["address"] = draft.places["address_kind"] = draft.short_at
    settled = settled_address(
        number if isinstance(number, int) else None, str(kind) if kind else None, values, _digits_of(draft)
    )
    place = draft.places.get("address") or draft.places.get("address_kind")
    if settled.cv in draft.plain:
        place = place or draft.plain[settled.cv].place
    for name, value in (("address", settled.number), ("address_kind", settled.kind)):
        if value is not None:
            draft.values[name] = value
            draft.places.setdefault(name, place or draft.place)
    if settled.doubt:
        at = draft.places.get("address_kind") if settled.of_kind else place
        draft.doubt(at or draft.place, *settled.doubt)


def _propose_number(draft: Draft) -> None:
    """Say which address a note such as "address = road number" would mean where the address is blank."""
    number = str(draft.values.get("number") or draft.of_label.get("number", ("",))[0])
    if "address" in draft.values or not _DIGITS.fullmatch(number) or int(number) not in LONG_ADDRESSES:
        return
    texts = (draft.typed.get("address", ""), str(draft.values.get("notes", "")))
    said = next(
        (text for text in texts if any(folded(word) in folded(text) for word in spellings("as the number"))),
        None,
    )
    if said is None:
        return
    place = draft.typed_at.get("address", draft.place)
    draft.doubts = [one for one in draft.doubts if one.place != place]
    message = f"the address is blank, and '{said}' would make it {int(number)}"
    draft.doubt(place, message, f"Enter {int(number)} in Address if that is so.")


def _take_parts_of_label(draft: Draft) -> None:
    """Take railway, number and model from the label where no cell says them.

    Where a railway is typed of which the letters in the label are no short form, they belong to the number.
    """
    railway = draft.values.get("railway")
    letters = draft.of_label.get("railway", ("",))[0]
    if railway and letters and not is_short_for(letters, str(railway)):
        draft.of_label.pop("number", None)
    for name, (value, place) in draft.of_label.items():
        typed = draft.values.get(name)
        if typed is None and len(value) <= int(_SHEET[name].schema["maxLength"]):
            draft.values[name] = value
            draft.places[name] = place
        elif name == "number" and typed is not None and not _one_number(str(typed), value):
            message = f"the number in '{draft.typed['loco']}' is not that in Number, '{typed}'"
            draft.doubt(place, message, "Correct the one or the other.")
    _number_of_label(draft)


def _one_number(typed: str, labelled: str) -> bool:
    """Tell whether two numbers on engines are the same but for zeros before them."""
    if folded(typed).lstrip("0") == folded(labelled).lstrip("0"):
        return True
    return typed.isdecimal() and _DIGITS.findall(labelled) == [typed]


def _number_of_label(draft: Draft) -> None:
    """Take the number from the label where its own cell holds something that cannot be used."""
    railway, label = draft.values.get("railway"), draft.values.get("loco")
    if "number" in draft.typed and "number" not in draft.values and railway and label:
        number = number_in(str(label), str(railway))
        if number:
            draft.values["number"] = number
            draft.places["number"] = draft.places.get("loco", draft.place)
