"""Blank means "leave as it is": every reading of CV29 with every setting stated or left open."""

from itertools import product

import pytest

from rosterkit.cards.card import CardOptions, cards_of
from rosterkit.cards.steps import AGREES, KEY_IN, READ
from rosterkit.cv.decode import decoded
from rosterkit.cv.engine import cvs_of
from rosterkit.cv.readings import Verdict
from rosterkit.roster.model import Roster
from rosterkit.writeback.computed_columns import computed_rows
from tests.each import for_each
from tests.rosters import findings, roster

# NMRA S-9.2.2 (Jul 2012), CV29: the bit of each column, and what sets it to 0 and to 1.
_COLUMNS = (
    ("Direction", 1, ("normal", "reversed")),
    ("Speed steps", 2, ("14", "28/128")),
    ("DC operation", 4, ("off", "on")),
    ("BiDi", 8, ("off", "on")),
    ("Speed curve", 16, ("3-point", "table")),
    ("Address kind", 32, ("short", "long")),
)
_OPEN = 31
"""The bits whose column may be blank; the address always says which kind it is."""

Settings = tuple[str, ...]


def _settings() -> list[Settings]:
    """Return every row of settings: each blank, or one of its two values."""
    choices = [("", *values) if bit & _OPEN else values for _, bit, values in _COLUMNS]
    return list(product(*choices))


def _bits(settings: Settings) -> tuple[int, int]:
    """Return the bits that a row of settings states, and which of these are 1."""
    stated = sum(bit for (_, bit, _), cell in zip(_COLUMNS, settings, strict=True) if cell)
    on = sum(bit for (_, bit, (_, one)), cell in zip(_COLUMNS, settings, strict=True) if cell == one)
    return stated, on


def _roster(settings: Settings, *readings: int | str, layout: dict[str, object] | None = None) -> Roster:
    columns = {heading: cell for (heading, _, _), cell in zip(_COLUMNS, settings, strict=True)}
    rows = [{"Loco": "A", "CV": 29, "Value": value} for value in readings]
    return roster([{"Loco": "A", "Address": 77, **columns}], readings=rows, layout=layout)


def _cv29(made: Roster) -> int | None:
    return cvs_of(made.engines[0], made).value(29)


def _names(settings: Settings) -> str:
    return " ".join(cell or "-" for cell in settings)


@for_each(_settings(), _names)
def test_every_reading_keeps_the_bits_of_blank_columns_and_no_other(settings: Settings) -> None:
    """Bits 0 to 4 that are stated are as stated, the others as read, bit 6 too; bit 5 is the address's."""
    stated, on = _bits(settings)
    engine = {"Address": 77, **{h: c for (h, _, _), c in zip(_COLUMNS, settings, strict=True)}}
    made = roster(
        [{"Loco": f"E{read}", **engine} for read in range(256)],
        readings=[{"Loco": f"E{read}", "CV": 29, "Value": read} for read in range(256)],
    )
    columns, verdicts = computed_rows(made, "Locomotives"), computed_rows(made, "Readings")

    for read, own in enumerate(made.engines):
        kept = read & 127 & ~stated if read < 128 else 2 & ~stated  # 128 and over: no locomotive decoder's
        wanted = on | kept & ~32
        (cv29,) = (one for one in cvs_of(own, made).values if one.cv == 29)
        assert cv29.value == columns[read]["cv29"] == verdicts[read]["wanted"] == wanted
        assert cv29.kept == (64 | _OPEN & ~stated if read < 128 else 0)
        assert cv29.assumed == (0 if read < 128 else _OPEN & ~stated)
        # The verdict differs only in bits that are stated, or that no locomotive decoder has.
        same = (read ^ wanted) & (stated | 128) == 0
        assert verdicts[read]["verdict"] == (Verdict.AGREES if same else Verdict.DIFFERS).value


@pytest.mark.parametrize("read", [0, 2, 31, 32, 39, 95, 127, 128, 255])
def test_card_changes_and_checks_agree_with_the_column(read: int) -> None:
    for settings in _settings():
        made = _roster(settings, read)
        wanted = _cv29(made)
        (card,) = cards_of(made, options=CardOptions(changes=True))
        steps = {step.state: step.value for step in card.steps if step.cv == 29}
        (full,) = cards_of(made)
        line = next(step for step in full.steps if step.cv == 29 and step.state != READ)

        assert line.value == wanted
        assert line.state == (AGREES if read == wanted else KEY_IN)
        assert steps.get(KEY_IN) == (None if read == wanted else wanted)
        assert (READ in steps) is (read >= 128 and "" in settings)
        # What is said of a reading that needs no write is at most a note.
        severe = [f for f in findings(made) if f.place.sheet == "Readings" and f.severity.value != "note"]
        assert bool(severe) is (read != wanted)


@pytest.mark.parametrize(
    ("readings", "layout", "value", "meaning"),
    [
        pytest.param(
            (),
            {},
            2,
            "short address (CV1); assumed: direction normal, 28 or 128 speed steps, DC operation off, "
            "BiDi off, 3-point curve (CV2, CV6, CV5)",
            id="never read: the defaults, said to be assumed",
        ),
        pytest.param(
            (),
            {"Speed steps": "14"},
            0,
            "short address (CV1); assumed: direction normal, 14 speed steps, DC operation off, BiDi off, "
            "3-point curve (CV2, CV6, CV5)",
            id="never read: the layout's speed steps",
        ),
        pytest.param(
            (31,),
            {},
            31,
            "short address (CV1); kept as read: direction reversed, 28 or 128 speed steps, DC operation on, "
            "BiDi on, speed table (CV67 to CV94)",
            id="read: as it was read",
        ),
        pytest.param(
            (6, 3),
            {},
            3,
            "short address (CV1); kept as read: direction reversed, 28 or 128 speed steps, DC operation off, "
            "BiDi off, 3-point curve (CV2, CV6, CV5)",
            id="the newest reading counts",
        ),
        pytest.param(
            (11, ""),
            {},
            11,
            "short address (CV1); kept as read: direction reversed, 28 or 128 speed steps, DC operation off, "
            "BiDi on, 3-point curve (CV2, CV6, CV5)",
            id="no acknowledgment tells nothing, the reading before it does",
        ),
        pytest.param(
            (11, 255),
            {},
            11,
            "short address (CV1); kept as read: direction reversed, 28 or 128 speed steps, DC operation off, "
            "BiDi on, 3-point curve (CV2, CV6, CV5)",
            id="255 is no locomotive decoder's CV29, the reading before it is",
        ),
        pytest.param(
            (66,),
            {},
            66,
            "short address (CV1); kept as read: direction normal, 28 or 128 speed steps, DC operation off, "
            "BiDi off, 3-point curve (CV2, CV6, CV5), reserved bit 6 set",
            id="bit 6 has no column",
        ),
    ],
)
def test_a_row_with_nothing_but_loco_and_address_is(
    readings: tuple[int | str, ...], layout: dict[str, object], value: int, meaning: str
) -> None:
    made = _roster(("", "", "", "", "", "short"), *readings, layout=layout)
    cv29 = next(one for one in cvs_of(made.engines[0], made).values if one.cv == 29)

    assert (cv29.value, cv29.meaning) == (value, meaning)


def test_a_row_with_all_settings_stated_is_said_in_the_words_of_decode() -> None:
    for settings in product(*(values for _, _, values in _COLUMNS)):
        made = _roster(settings, 85)
        cv29 = next(one for one in cvs_of(made.engines[0], made).values if one.cv == 29)

        stated = cv29.meaning.removesuffix("; kept as read: reserved bit 6 set")
        (setting,) = decoded({29: cv29.value & 63}).settings
        assert setting.meaning == f"configuration: {stated}"


def test_a_cell_that_cannot_be_read_is_not_a_blank_one() -> None:
    made = _roster(("up", "", "", "", "", "short"), 3)

    assert cvs_of(made.engines[0], made).blocking_columns == ("direction",)
