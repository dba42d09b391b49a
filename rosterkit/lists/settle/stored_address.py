"""The address that an engine's CVs hold beside the typed one: which counts, and where they differ."""

from collections.abc import Mapping
from dataclasses import dataclass

from rosterkit.cv.addresses import Address, Space
from rosterkit.cv.stored_addresses import answered, stored_long, stored_short
from rosterkit.lists.settle.configured import CONFIGURATION_CV
from rosterkit.standards.configuration import LONG_ADDRESS, is_accessory

READ_AGAIN = "Read the CVs of the address again, then correct the one or the other."


@dataclass(frozen=True, slots=True)
class Settled:
    """An address and its kind, as far as they are sure."""

    number: int | None
    kind: str | None
    cv: int | None = None
    """The CV that says it, or contradicts; None where none does."""
    doubt: tuple[str, str] | None = None
    of_kind: bool = False
    """The doubt is about the kind alone."""


def settled_address(
    number: int | None, kind: str | None, values: Mapping[int, int], own_number: str
) -> Settled:
    """Settle an engine's address: what is typed beats what CVs hold, and a difference is a doubt.

    ``own_number`` is the number on the engine. Bit 5 of CV29 says which of CV1 and CV17/18 is active (NMRA
    S-9.2.2, Jul 2012, CV29; RCN-225, 27.07.2025, CV29); without CV29 an address counts only where the number
    on the engine, the typed address or the typed kind bears it out.
    """
    byte = values.get(CONFIGURATION_CV)
    if byte is not None and not is_accessory(byte):
        return _by_configuration(number, kind, values, byte)
    return _without_configuration(number, kind, values, own_number)


def _by_configuration(number: int | None, kind: str | None, values: Mapping[int, int], byte: int) -> Settled:
    space = Space.LONG if byte & LONG_ADDRESS else Space.SHORT
    there = answered(values)
    says = f"CV29 = {byte} says {space.value}"
    if number is None:
        return _stored_alone(kind, there, says, space, values, byte)
    other = (stored_short if space is Space.LONG else stored_long)(values)
    typed = f"{kind} {number}" if kind else str(number)
    if there and there.number != number:
        held = _said_together(there, values, byte)
        return Settled(number, kind, _cv_of(there), (f"{typed} is typed, and {held}", READ_AGAIN))
    if kind not in (None, space.value):
        held = _said_together(there, values, byte) if there else says
        return Settled(
            number, kind, CONFIGURATION_CV, (f"{kind} is typed, and {held}", READ_AGAIN), of_kind=True
        )
    if not there and (not Address(space, number).encodable or (other and other.number == number)):
        return Settled(number, kind, CONFIGURATION_CV, (f"{typed} is typed, and {says}", READ_AGAIN))
    return Settled(number, space.value, CONFIGURATION_CV)


def _stored_alone(
    kind: str | None, there: Address | None, says: str, space: Space, values: Mapping[int, int], byte: int
) -> Settled:
    """Settle the address where no number is typed: by the CVs, unless the typed kind is another."""
    if kind not in (None, space.value):
        held = _said_together(there, values, byte) if there else says
        return Settled(None, kind, CONFIGURATION_CV, (f"{kind} is typed, and {held}", READ_AGAIN))
    if there:
        return Settled(there.number, space.value, _cv_of(there))
    needed = "CV17 and CV18 do" if space is Space.LONG else "CV1 does"
    doubt = f"{says}, and {needed} not say which", "Enter the address."
    return Settled(None, space.value, CONFIGURATION_CV, doubt)


def _said_together(there: Address, values: Mapping[int, int], byte: int) -> str:
    return f"{_cvs_in_words(there, values)} and CV29 = {byte} say {there}"


def _without_configuration(
    number: int | None, kind: str | None, values: Mapping[int, int], own_number: str
) -> Settled:
    stored = [one for one in (stored_short(values), stored_long(values)) if one]
    if not stored:
        return Settled(number, kind)
    fitting = [one for one in stored if kind in (None, one.space.value)]
    if number is None:
        return _one_of(stored, fitting, kind, values, own_number)
    same = [one for one in fitting if one.number == number]
    if len(same) == 1:
        return Settled(number, same[0].space.value, _cv_of(same[0]))
    wrong = fitting if kind or len(stored) == 2 else [one for one in stored if _could_be(number, one)]
    if same or not wrong:
        return Settled(number, kind)
    typed = f"{kind} {number}" if kind else str(number)
    held = " and ".join(f"{_cvs_in_words(one, values)} {_hold(one)} {one}" for one in wrong)
    return Settled(number, kind, _cv_of(wrong[0]), (f"{typed} is typed, and {held}", READ_AGAIN))


def _one_of(
    stored: list[Address],
    fitting: list[Address],
    kind: str | None,
    values: Mapping[int, int],
    own_number: str,
) -> Settled:
    """Take the stored address that the number on the engine or the typed kind bears out, if one does."""
    digits = own_number.lstrip("0")
    alike = [one for one in fitting if str(one.number) == digits]
    sure = alike if len(alike) == 1 else fitting if kind and len(fitting) == 1 else []
    if sure:
        return Settled(sure[0].number, sure[0].space.value, _cv_of(sure[0]))
    held = " and ".join(f"{_cvs_in_words(one, values)} {_hold(one)} {one}" for one in stored)
    doubt = (
        f"{held}; whether that is active depends on CV29",
        "Read CV29, then enter Address and Address kind.",
    )
    return Settled(None, kind, _cv_of(stored[0]), doubt)


def _could_be(number: int, stored: Address) -> bool:
    """Tell whether a typed number would be of the same kind as what is stored, so that they contradict."""
    return Address(stored.space, number).encodable and (
        stored.space is Space.LONG or Address(Space.SHORT, number).encodable
    )


def _cv_of(address: Address) -> int:
    return 1 if address.space is Space.SHORT else 17


def _cvs_in_words(address: Address, values: Mapping[int, int]) -> str:
    if address.space is Space.SHORT:
        return f"CV1 = {values[1]}"
    return f"CV17 = {values[17]} and CV18 = {values[18]}"


def _hold(address: Address) -> str:
    return "holds" if address.space is Space.SHORT else "hold"
