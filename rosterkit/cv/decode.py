"""What a set of CV values means together, and every fault in the combination."""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import partial
from itertools import chain

from rosterkit.cv.accessory_conflicts import accessory_faults, missing_bit_faults
from rosterkit.cv.address_conflicts import address_faults
from rosterkit.cv.addresses import Address
from rosterkit.cv.conflicts import (
    CONFIGURATION,
    CombinationFault,
    combination_faults,
    error,
    locomotive_cvs_beside,
    warning,
)
from rosterkit.cv.description import accessory_words, description
from rosterkit.cv.meanings import NOTHING_READ_FIX, consist_words, meaning_of
from rosterkit.cv.readings import nothing_read
from rosterkit.cv.stored_addresses import answered, stored_long
from rosterkit.errors import CannotRunError
from rosterkit.findings import Severity
from rosterkit.standards.accessories import ALIAS_OFFSET, decoder_of_cvs, output_of_cvs
from rosterkit.standards.bounds import BYTE, CV_NUMBERS
from rosterkit.standards.configuration import (
    AccessoryConfiguration,
    accessory_configuration,
    accessory_configuration_words,
    is_accessory,
)
from rosterkit.standards.consists import consist_of_pair
from rosterkit.standards.cv_names import accessory_register_name, cv_name
from rosterkit.standards.service_mode import INDEXED_CVS, index_number, index_use


@dataclass(frozen=True, slots=True, kw_only=True)
class DecodedCv:
    """One CV with what it means."""

    cv: int
    value: int
    meaning: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Decoded:
    """What a set of CV values says of its decoder."""

    address: Address | None
    """The address that a locomotive decoder answers; None where the values do not say."""
    kind: str | None
    """short, long or accessory; None where the values given do not say."""
    number: int | None
    settings: tuple[DecodedCv, ...]
    faults: tuple[CombinationFault, ...]
    summary: Mapping[str, str] = field(default_factory=dict)
    """By subject, such as direction and momentum, what the values come to."""

    @property
    def has_error(self) -> bool:
        """Whether one of the faults is an error."""
        return any(fault.severity is Severity.ERROR for fault in self.faults)


def cv_values(pairs: list[str]) -> dict[int, int]:
    """Read ``CV=VALUE`` pairs such as ``29=34`` or ``CV29=34``, in one text or several.

    CannotRunError if one is no such pair, or a CV stands twice with different values.
    """
    values: dict[int, int] = {}
    words = [re.sub(r"\s*=\s*", "=", text).replace(",", " ").split() or [""] for text in pairs]
    for pair in chain.from_iterable(words):
        cv_text, _, value_text = pair.strip().upper().removeprefix("CV").partition("=")
        try:
            cv, value = int(cv_text), int(value_text)
        except ValueError:
            unanswered = value_text == "-"
            fix = "Leave out what gave no acknowledgment." if unanswered else "Write CV=VALUE, such as 29=34."
            raise CannotRunError(f"'{pair}' is not a CV and its value", fix) from None
        if cv not in CV_NUMBERS or value not in BYTE:
            raise CannotRunError(
                f"'{pair}': CVs are 1 to {CV_NUMBERS[-1]} and their values 0 to {BYTE[-1]}",
                "Correct the CV or its value.",
            )
        if values.setdefault(cv, value) != value:
            raise CannotRunError(f"CV{cv} is given as {values[cv]} and as {value}", "Give each CV once.")
    return values


def decoded(values: Mapping[int, int]) -> Decoded:
    """Say what CV values (CV 1 to 1024, 0 to 255) mean together."""
    configuration = _or_alias(values, CONFIGURATION) or 0
    if is_accessory(configuration):
        return _accessory(values, accessory_configuration(configuration))
    address = answered(values)
    return Decoded(
        address=address,
        kind=address.space.value if address else None,
        number=address.number if address else None,
        settings=_settings(values, partial(_meaning, values)),
        faults=(
            *_nothing_read(values),
            *missing_bit_faults(values),
            *address_faults(values),
            *combination_faults(values),
        ),
        summary=description(values),
    )


def _or_alias(values: Mapping[int, int], cv: int) -> int | None:
    return values.get(cv, values.get(cv + ALIAS_OFFSET))


def _settings(values: Mapping[int, int], meaning: Callable[[int], str]) -> tuple[DecodedCv, ...]:
    return tuple(DecodedCv(cv=cv, value=value, meaning=meaning(cv)) for cv, value in sorted(values.items()))


def _nothing_read(values: Mapping[int, int]) -> list[CombinationFault]:
    if not nothing_read(values.items()):
        return []
    message = "every CV reads 255, so probably nothing was read"
    return [warning(tuple(sorted(values)), message, NOTHING_READ_FIX)]


def _meaning(values: Mapping[int, int], cv: int) -> str:
    if cv in (17, 18) and (pair := stored_long(values)):
        return f"{meaning_of(cv, values[cv])} of {pair.number}"
    if cv in INDEXED_CVS and 31 in values and 32 in values:
        index = index_number(values[31], values[32])
        return f"CV {cv} of index {values[31]}/{values[32]} ({index_use(index)})"
    if cv in (19, 20) and 20 in values and 19 in values:
        return f"{cv_name(cv)}, with CV{39 - cv}: {consist_words(consist_of_pair(values[19], values[20]))}"
    return meaning_of(cv, values[cv])


def _accessory(values: Mapping[int, int], byte: AccessoryConfiguration) -> Decoded:
    low, high = _or_alias(values, 1), _or_alias(values, 9)
    number: int | None = None
    faults = _nothing_read(values) or list(locomotive_cvs_beside(values))
    if low is not None and high is not None:
        read = output_of_cvs if byte.output_addressing else decoder_of_cvs
        try:
            number = read(low, high)
            faults += accessory_faults(number, by_output=byte.output_addressing)
        except ValueError as wrong:
            faults.append(error((1, 9), str(wrong), "Key in CV1 and CV9 again."))
    else:
        faults.append(warning((29,), "CV1 and CV9 are not both given", "Read CV1 and CV9 too."))
    words = ", ".join(accessory_configuration_words(byte))
    return Decoded(
        address=None,
        kind="accessory",
        number=number,
        settings=_settings(
            values, lambda cv: accessory_register_name(cv) + (f": {words}" if cv in (29, 541) else "")
        ),
        faults=tuple(faults),
        summary={} if number is None else {"answers": _answers(number, byte)},
    )


def _answers(number: int, byte: AccessoryConfiguration) -> str:
    return accessory_words(number, by_output=byte.output_addressing, extended=byte.extended)
