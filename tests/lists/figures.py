"""The figures of a list: what of it is read rightly, wrongly or not at all."""

from collections import defaultdict
from dataclasses import dataclass, field


@dataclass(slots=True)
class Score:
    """How far a list, or all of them, is read as it should be."""

    file: str
    counts: dict[str, int] = field(default_factory=lambda: defaultdict(int))
    """Such as ``columns right`` or ``engines invented``."""
    faults: list[str] = field(default_factory=list)
    """What is wrong or missed, a sentence each."""

    @property
    def wrong(self) -> int:
        """How much of it is wrong; what is only missed is not."""
        bad = (
            "columns wrong",
            "values wrong",
            "engines invented",
            "extras wrong",
            "consists wrong",
            "unread",
        )
        return sum(self.counts.get(name, 0) for name in bad)

    def note(self, what: str, sentence: str = "") -> None:
        """Count one, and say which if it is not right."""
        self.counts[what] += 1
        if sentence:
            self.faults.append(f"{what}: {sentence}")
