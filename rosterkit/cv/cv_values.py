"""A value to key in, and one that is held back: which CV, for what, and why."""

from dataclasses import dataclass
from enum import StrEnum

from rosterkit.cv.extra_values import CvKey, Index
from rosterkit.standards.configuration import EVERY_BIT


class CvGroup(StrEnum):
    """What a CV belongs to; a card has the groups in this order."""

    LOCK = "lock"
    ADDRESS = "address"
    CONFIGURATION = "configuration"
    CONSIST = "consist"
    MOTOR = "motor"
    TABLE = "speed table"
    FUNCTIONS = "functions"
    EXTRAS = "extra values"


@dataclass(frozen=True, slots=True, kw_only=True)
class CvValue:
    """A value to key in."""

    cv: int
    value: int
    meaning: str
    group: CvGroup
    index: Index | None = None
    """CV31 and CV32, for CV257 to CV512."""
    kept: int = 0
    """Bits that no column states, and that stay as they read last."""
    assumed: int = 0
    """Bits that no column states and no reading tells."""

    @property
    def stated(self) -> int:
        """The bits in which a decoder that reads otherwise is not as the roster says."""
        return EVERY_BIT & ~(self.kept | self.assumed)

    @property
    def key(self) -> CvKey:
        """The CV and its index."""
        return self.cv, self.index

    @property
    def bits(self) -> str:
        """The value's eight bits, bit 7 first, as two groups of four."""
        return bits_of(self.value)


@dataclass(frozen=True, slots=True, kw_only=True)
class Withheld:
    """What an engine's rows ask for and cannot be keyed in as they are."""

    cv: int
    """The first CV of what is held back."""
    meaning: str
    group: CvGroup
    reason: str
    """What is wrong, and where."""


def bits_of(value: int) -> str:
    """Return a byte's eight bits, bit 7 first, as two groups of four."""
    return f"{value >> 4:04b} {value & 15:04b}"
