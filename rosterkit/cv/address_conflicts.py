"""What is wrong with the CVs of a locomotive decoder's address and of its consist."""

from collections.abc import Iterator, Mapping

from rosterkit.cv.addresses import Address, Space, kind_doubt
from rosterkit.cv.conflicts import CONFIGURATION, CombinationFault, error, note, warning
from rosterkit.cv.meanings import NEW_DECODERS
from rosterkit.cv.stored_addresses import answered, stored_long
from rosterkit.standards.addresses import (
    DEFAULT_LONG_ADDRESS,
    DEFAULT_SHORT_ADDRESS,
    HIGH_BYTES,
    SHORT_ADDRESSES,
    leaves_dcc_by_nmra,
    leaves_dcc_by_rcn,
)
from rosterkit.standards.configuration import BIDI, LONG_ADDRESS, PROGRAMMING_ADDRESS
from rosterkit.standards.consists import consist_of_pair, decimal_consist_number

_EARLIER_PROGRAMMING_ADDRESS = Address(Space.LONG, 3)
"""RCN-225 before 27.07.2025, CV28 bit 4; long 0 since (RCN-225, 27.07.2025, annex B)."""


def address_faults(values: Mapping[int, int]) -> Iterator[CombinationFault]:
    """Return every fault in the CVs of a locomotive decoder's address and consist."""
    configuration = values.get(CONFIGURATION)
    if configuration is None:
        yield from _faults_without_configuration(values)
    elif configuration & LONG_ADDRESS:
        yield from _long_faults(values, configuration)
    else:
        yield from _short_faults(values, configuration)
    own = answered(values)
    if doubt := own and kind_doubt(own):
        cvs = (1, 29) if own and own.space is Space.SHORT else (17, 18, 29)
        yield warning(cvs, *doubt)
    yield from _consist_faults(values, own)
    yield from _programming_address_faults(values, own)


def _faults_without_configuration(values: Mapping[int, int]) -> Iterator[CombinationFault]:
    """Find what would be wrong with the address that CV29, which is not given, may make active."""
    short = values.get(1)
    if problem := _pair_problem(values):
        message = f"{problem}: the engine answers none if CV29 says long"
        yield warning(_pair_given(values), message, "Read CV29 too.")
    yield from _half_a_pair(values)
    if short is not None and short not in SHORT_ADDRESSES:
        message = f"CV1 = {short} is no short address: the engine answers none if CV29 says short"
        yield warning((1,), message, "Read CV29 too.")


def _long_faults(values: Mapping[int, int], configuration: int) -> Iterator[CombinationFault]:
    """Find faults where CV29 makes the long address active."""
    short, says = values.get(1), f"CV29 = {configuration} says long"
    if problem := _pair_problem(values):
        fix = "Key in CV17 and CV18 again, one directly after the other."
        yield error((*_pair_given(values), 29), f"{problem}, and {says}", fix)
    yield from _half_a_pair(values)
    if not _pair_given(values):
        yield warning((29,), f"{says}, but CV17 and CV18 are not given", "Read CV17 and CV18 too.")
    if short is None:
        return
    unused = f"CV1 = {short} is not used: {says}"
    if short not in SHORT_ADDRESSES:
        unused = f"CV1 = {short} is no short address, and not used: {says}, and RCN-225 then allows any CV1"
    if leaves_dcc_by_nmra(short):
        unused += "; by NMRA S-9.2.2 a decoder with CV1 = 0 leaves DCC for the power source in CV12"
    yield note((1, 29), unused, "")


def _short_faults(values: Mapping[int, int], configuration: int) -> Iterator[CombinationFault]:
    """Find faults where CV29 makes the short address active; the pair is then not used, whatever it holds."""
    short, says = values.get(1), f"CV29 = {configuration} says short"
    if short is None:
        yield warning((29,), f"{says}, but CV1 is not given", "Read CV1 too.")
    elif leaves_dcc_by_rcn(short, configuration):
        does = "and RCN-225 blocks DCC"
        if leaves_dcc_by_nmra(short):
            does += "; by NMRA S-9.2.2 it leaves DCC for the power source in CV12"
        message = f"CV1 = {short} is no short address, and {says}: the engine answers none, {does}"
        yield error((1, 29), message, "Set CV1 to an address from 1 to 127.")
    elif short == DEFAULT_SHORT_ADDRESS:
        message = f"the engine answers short 3, the address of {NEW_DECODERS}"
        yield warning((1, 29), message, "Give it an address of its own.")
    pair = stored_long(values)
    if pair and pair.number == DEFAULT_LONG_ADDRESS:
        message = f"CV17 and CV18 hold {pair}, their factory value (RCN-225); it is not used: {says}"
        yield note((17, 18, 29), message, "")
    elif pair:
        fix = f"Only if the engine is to answer {pair}, set bit 5 of CV29 (add {LONG_ADDRESS})."
        yield note((17, 18, 29), f"{pair} is stored and not used: {says}", fix)
    elif problem := _pair_problem(values):
        yield note((*_pair_given(values), 29), f"{problem}; it is not used: {says}", "")


def _pair_given(values: Mapping[int, int]) -> tuple[int, ...]:
    return tuple(cv for cv in (17, 18) if cv in values)


def _pair_problem(values: Mapping[int, int]) -> str | None:
    """Say why CV17 and CV18 hold no long address; None where they hold one, or do not say."""
    high = values.get(17)
    if high is not None and high not in HIGH_BYTES:
        return f"CV17 = {high} is outside 192 to 231, so the pair holds no long address"
    if (high, values.get(18)) == (192, 0):
        return "CV17 and CV18 hold long address 0, which RCN-225 does not allow"
    return None


def _half_a_pair(values: Mapping[int, int]) -> Iterator[CombinationFault]:
    given = _pair_given(values)
    if len(given) == 1:
        there, absent = given[0], 35 - given[0]
        message = f"CV{there} is given without CV{absent}, and only both make a long address"
        yield warning(given, message, f"Read CV{absent} too.")


def _consist_faults(values: Mapping[int, int], own: Address | None) -> Iterator[CombinationFault]:
    cvs = tuple(cv for cv in (19, 20) if cv in values)
    cv19, cv20 = values.get(19, 0), values.get(20, 0)
    if 19 not in values and cv20 & 127:
        message = f"CV20 = {cv20} is the beginning of a consist address, and CV19 with its end is not given"
        yield warning(cvs, message, "Read CV19 too.")
        return
    consist = consist_address(cv19, cv20)
    if consist is not None:
        message, heeded = consist_effect(consist, own)
        fix = "Set CV19 (and CV20) to 0 if it is in no consist."
        yield (note if heeded else warning)(cvs, f"in consist {consist.number}: {message}", fix)
    elif decimal_consist_number(cv19, cv20) > 10239:
        message = "the number in CV19 and CV20 is beyond 10239, so it is in no consist"
        yield warning(cvs, message, "Set CV19 and CV20 to 0.")


def consist_address(cv19: int, cv20: int) -> Address | None:
    """Return the address on the rails of the consist in CV19 and CV20, 0 to 255; None where there is none."""
    place = consist_of_pair(cv19, cv20)
    if place.address is None:
        return None
    return Address(Space.LONG if place.long else Space.SHORT, place.address)


def consist_effect(consist: Address, own: Address | None) -> tuple[str, bool]:
    """Say what an engine in a consist does with its own address, None if unknown; and whether it heeds it.

    NMRA S-9.2.1 (Jul 2012), Consist Control: it ignores speed and direction sent there, unless the address
    is the consist's as well.
    """
    if own == consist:
        return f"{own} is its own address too, so it heeds speed and direction sent there", True
    unless = "" if own else f", unless that is {consist}"
    return f"it ignores speed and direction sent to its own address{unless}", False


def _programming_address_faults(values: Mapping[int, int], own: Address | None) -> Iterator[CombinationFault]:
    """Find a programming address that is turned on beside an address that is none, or the same.

    RCN-225 (27.07.2025), CV28 bit 4: long 0; NMRA S-9.2.2 (Jul 2012), CV28 has the bit reserved.
    """
    configuration = values.get(CONFIGURATION)
    if not values.get(28, 0) & PROGRAMMING_ADDRESS or configuration is None or not configuration & BIDI:
        return
    turns_on = "bit 4 of CV28 turns on the programming address, long 0 by RCN-225"
    if own == _EARLIER_PROGRAMMING_ADDRESS:
        message = f"{turns_on} and long 3 by its earlier editions, and long 3 is the engine's own"
        fix = f"Choose another address, or clear bit 4 of CV28 (take {PROGRAMMING_ADDRESS} off)."
        yield warning((17, 18, 28, 29), message, fix)
    wanted = (17, 18) if configuration & LONG_ADDRESS else (1,)
    if own is None and all(cv in values for cv in wanted):
        message = f"{turns_on}; the engine has no other that it answers"
        yield note((*wanted, 28, 29), message, "")
