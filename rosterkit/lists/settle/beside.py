"""What the CVs of engines come to in other sheets: Consists, Speed tables, Extra values, Decoder types."""

from collections.abc import Iterator, Sequence

from rosterkit.cv.extra_values import can_be_extra
from rosterkit.lists.adopted import AdoptedRow, AdoptedValue
from rosterkit.lists.settle.draft import Draft
from rosterkit.lists.settle.typed_cvs import TypedCv
from rosterkit.roster.schema import folded
from rosterkit.standards.consists import consist_of_pair
from rosterkit.standards.functions import consist_functions
from rosterkit.standards.identity import LOCK_KEY_CV, MAKER_CV, READ_ONLY_CVS
from rosterkit.standards.service_mode import INDEXED_CVS
from rosterkit.standards.speed_curve import SPEED_TABLE_CVS, table_step_for_cv

CONSIST_CVS = (19, 20)
FUNCTION_CVS = (21, 22)
_IDLE = {"long": (1,), "short": (17, 18)}
"""The CVs of the address that an engine does not answer, by the kind of the one that it does."""


def consist_row(draft: Draft) -> AdoptedRow | None:
    """Return an engine's place in a consist by CV19 and CV20; None where it is in none.

    NMRA S-9.2.2 (Jul 2012), CV19; RCN-225 (27.07.2025), CV19/20: bit 7 of CV19 is the engine's direction in
    it, bit 7 of CV20 marks the lead.
    """
    low, high = (draft.plain.get(cv) for cv in CONSIST_CVS)
    functions = [draft.plain[cv] for cv in FUNCTION_CVS if cv in draft.plain]
    place = consist_of_pair(low.value, high.value if high else 0) if low else None
    if low is None or place is None or place.address is None:
        for one in functions:
            if one.value:
                message = f"CV{one.cv} = {one.value} is for a consist, and the engine is in none"
                draft.doubt(one.place, message, "Enter the engine in Consists if it is in one.")
                draft.own[f"CV{one.cv}"] = one.value
        return None
    values: dict[str, AdoptedValue] = {
        "consist": f"Consist {place.address}",
        "address": place.address,
        "loco": draft.label,
        "facing": "reverse" if place.reversed else "forward",
    }
    if place.lead:
        values["position"] = 1
    if len(functions) == len(FUNCTION_CVS):
        cv21, cv22 = (one.value for one in functions)
        values["functions"] = " ".join(consist_functions(cv21, cv22)) or "none"
    elif functions:
        one = functions[0]
        message = f"CV{one.cv} = {one.value} is half of the functions of a consist"
        draft.doubt(one.place, message, "Enter all of them as Functions in Consists.")
        draft.own[f"CV{one.cv}"] = one.value
    places = dict.fromkeys(("consist", "address", "facing"), low.place)
    return AdoptedRow(values, came_from=draft.came_from, places=places)


def speed_table_row(draft: Draft) -> AdoptedRow | None:
    """Return CV67 to CV94 of an engine as a speed table that it names; None unless all 28 are there."""
    found = {cv: draft.plain[cv] for cv in SPEED_TABLE_CVS if cv in draft.plain}
    if not found:
        return None
    first = next(iter(found.values()))
    if len(found) < len(SPEED_TABLE_CVS):
        message = (
            f"of the speed table in CV67 to CV94 the list has {len(found)} of {len(SPEED_TABLE_CVS)} values"
        )
        draft.doubt(first.place, message, "Read the others, then enter all in Speed tables.")
        draft.own.update({f"CV{cv}": one.value for cv, one in found.items()})
        return None
    label = str(draft.values.setdefault("speed_table", draft.label))
    draft.places.setdefault("speed_table", first.place)
    steps = {f"step{table_step_for_cv(cv)}": one for cv, one in found.items()}
    return AdoptedRow(
        {"label": label, **{name: one.value for name, one in steps.items()}},
        came_from=draft.came_from,
        places={name: one.place for name, one in steps.items()},
    )


def extra_rows(draft: Draft) -> Iterator[AdoptedRow]:
    """Return the CVs of an engine that no column sets, each once, with the index of CV257 to CV512."""
    done = set()
    for one in (*draft.plain.values(), *(one for one in draft.cvs if one.cv in INDEXED_CVS)):
        if not can_be_extra(one.cv):
            continue
        key = one.cv, one.index
        if key not in done:
            done.add(key)
            yield _extra(draft, one)


def _extra(draft: Draft, one: TypedCv) -> AdoptedRow:
    values: dict[str, AdoptedValue] = {"loco": draft.label, "cv": one.cv, "value": one.value}
    if one.index:
        values |= {"index_high": one.index[0], "index_low": one.index[1]}
    elif one.cv in INDEXED_CVS:
        message = f"CV{one.cv} = {one.value} has no index: the list does not say CV31 and CV32 for it"
        draft.doubt(one.place, message, "Enter Index high and Index low in Extra values.")
    places = dict.fromkeys(("cv", "value"), one.place)
    return AdoptedRow(values, came_from=draft.came_from, places=places)


def keep_unset(draft: Draft, told: set[int]) -> None:
    """Keep the CVs that no column sets, nor Extra values, in columns of the member's own.

    They are those that are never keyed in, the key of a lock, and the address of the other kind than the one
    that the engine answers. Of the first a doubt says so once in a list; ``told`` has those told of.
    """
    for cv in _IDLE.get(str(draft.values.get("address_kind")), ()):
        idle = draft.plain.get(cv)
        if idle is not None and not idle.of_note:
            draft.own.setdefault(f"CV{cv}", idle.value)
    for cv in (*READ_ONLY_CVS, LOCK_KEY_CV):
        one = draft.plain.get(cv)
        if one is None:
            continue
        if not one.of_note:
            draft.own.setdefault(f"CV{cv}", one.value)
        if cv in told or cv == LOCK_KEY_CV:
            continue
        told.add(cv)
        what = "manufacturer ID" if cv == MAKER_CV else "version"
        column = "Manufacturer ID" if cv == MAKER_CV else "Version"
        message = f"CV{cv} = {one.value} is the decoder's own {what}, which is read and never keyed in"
        draft.doubt(
            one.place, message, f"Enter it as {column} of its kind of decoder in Decoder types, if it fits."
        )


def decoder_rows(drafts: Sequence[Draft], typed: Sequence[AdoptedRow]) -> list[AdoptedRow]:
    """Return a row of Decoder types, its label alone, for each that engines name and that has none yet."""
    known = {folded(str(row.values["decoder"])) for row in typed if "decoder" in row.values}
    found = []
    for draft in drafts:
        label = draft.values.get("decoder")
        if label and folded(str(label)) not in known:
            known.add(folded(str(label)))
            place = draft.places["decoder"]
            found.append(AdoptedRow({"decoder": label}, came_from=draft.came_from, places={"decoder": place}))
    return found
