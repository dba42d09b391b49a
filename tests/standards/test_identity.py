"""Maker, owner and lock."""

from collections.abc import Callable

import pytest

from rosterkit.standards import identity

LOCK = "NMRA S-9.2.2 (Jul 2012), CV15/16; RCN-225 (27.07.2025), CV15/16"
LOCK_RCN = "RCN-225 (27.07.2025), CV15/16"
EXTENDED = "RCN-225 (27.07.2025), CV107/108"


@pytest.mark.parametrize(
    ("source", "constant", "expected"),
    [
        pytest.param("RCN-226 (2014), section 2.1", identity.RESET_VALUE, 8, id="8 to CV8 resets"),
        pytest.param(
            "NMRA S-9.2.3 (Jul 2012), Decoder Factory Reset",
            identity.RESET_IN_PROGRESS,
            255,
            id="255 is not done yet",
        ),
        pytest.param(
            "RCN-225 (27.07.2025), CV8", identity.EXTENDED_ID, 238, id="238 points to CV107 and CV108"
        ),
        pytest.param(
            "NMRA S-9.2.2, appendix A, secondary source", identity.DO_IT_YOURSELF, 13, id="13 is home-made"
        ),
        pytest.param(LOCK_RCN, identity.UNLOCK_ALL, 255, id="255 to CV15 unlocks all"),
        pytest.param(
            "NMRA S-9.2.2 (Jul 2012), CV105/106", identity.OWNER_CVS, (105, 106), id="the owner's two"
        ),
        pytest.param(
            "NMRA S-9.2.1 (Jul 2012)", identity.FLAG_SUBADDRESSES, range(8), id="three bits of identity"
        ),
        pytest.param(
            LOCK, identity.LOCK_IDENTITIES, {1: "motor", 2: "sound"}, id="1 is the motor, 2 the sound"
        ),
    ],
)
def test_the_values_with_a_meaning(source: str, constant: object, expected: object) -> None:
    assert constant == expected, source


@pytest.mark.parametrize(
    ("source", "maker", "cv107", "cv108"),
    [
        pytest.param(f"{EXTENDED}; derived", 300, 1, 44, id="300 is 1 and 44"),
        pytest.param(f"{EXTENDED}; derived", 255, 0, 255, id="255 is 0 and 255"),
        pytest.param(f"{EXTENDED}; derived", 4095, 15, 255, id="4095 is the highest"),
    ],
)
def test_an_extended_id_has_twelve_bits(source: str, maker: int, cv107: int, cv108: int) -> None:
    assert identity.extended_id_cvs(maker) == (cv107, cv108), source


@pytest.mark.parametrize(
    ("source", "cv8", "words"),
    [
        pytest.param("NMRA S-9.2.2 (Jul 2012), CV8", 200, "manufacturer ID 200", id="200 is an ID"),
        pytest.param("NMRA S-9.2.2, appendix A, secondary source", 13, "public domain or home-made", id="13"),
        pytest.param(EXTENDED, 238, "manufacturer ID in CV107 and CV108", id="238"),
        pytest.param("NMRA S-9.2.3 (Jul 2012)", 255, "a reset has not ended yet", id="255"),
    ],
)
def test_cv8_in_words(source: str, cv8: int, words: str) -> None:
    assert identity.maker_words(cv8) == words, source


@pytest.mark.parametrize(
    ("source", "cv15", "cv16", "opened"),
    [
        pytest.param(f"{LOCK}; derived", 2, 1, False, id="key 2 does not open identity 1"),
        pytest.param(f"{LOCK}; derived", 1, 1, True, id="key 1 opens identity 1"),
        pytest.param(f"{LOCK}; derived", 0, 0, True, id="a decoder never locked is open"),
        pytest.param(f"{LOCK_RCN}; derived", 0, 3, False, id="key 0 locks what has an identity"),
    ],
)
def test_the_lock_is_open_when_both_are_equal(source: str, cv15: int, cv16: int, opened: bool) -> None:
    assert identity.lock_is_open(cv15, cv16) is opened, source


@pytest.mark.parametrize(
    ("source", "cv16", "allowed"),
    [
        pytest.param(LOCK, 1, True, id="1 is an identity"),
        pytest.param(f"{LOCK_RCN}, advised against", 0, True, id="0 is allowed, if unwise"),
        pytest.param(LOCK_RCN, 239, True, id="239 is the highest identity"),
        pytest.param(LOCK_RCN, 240, False, id="240 is a command"),
        pytest.param(LOCK_RCN, 255, False, id="255 is a command"),
    ],
)
def test_commands_are_no_identities(source: str, cv16: int, allowed: bool) -> None:
    assert identity.is_lock_identity(cv16) is allowed, source


def test_writing_255_to_cv15_unlocks_every_identity_and_is_not_kept() -> None:
    for cv16 in range(240):
        assert identity.cv15_after_write(255, cv16) == cv16, LOCK_RCN
        assert identity.lock_is_open(identity.cv15_after_write(255, cv16), cv16)


@pytest.mark.parametrize(
    ("source", "written"),
    [pytest.param(LOCK, 0, id="0"), pytest.param(LOCK, 2, id="2"), pytest.param(LOCK_RCN, 239, id="239")],
)
def test_other_keys_are_kept(source: str, written: int) -> None:
    assert identity.cv15_after_write(written, 1) == written, source


@pytest.mark.parametrize(
    ("call", "message"),
    [
        pytest.param(
            lambda: identity.cv15_after_write(240, 1),
            "^CV15 240 is outside 0 to 239 and 255$",
            id="command 240",
        ),
        pytest.param(
            lambda: identity.cv15_after_write(256, 1),
            "^CV15 256 is outside 0 to 239 and 255$",
            id="key 256",
        ),
        pytest.param(
            lambda: identity.lock_is_open(256, 1), "^CV15 256 is outside 0 to 255$", id="CV15 of 256"
        ),
        pytest.param(lambda: identity.lock_is_open(1, -1), "^CV16 -1 is outside 0 to 255$", id="CV16 of -1"),
        pytest.param(
            lambda: identity.extended_id_cvs(4096),
            "^extended manufacturer ID 4096 is outside 0 to 4095$",
            id="extended ID 4096",
        ),
    ],
)
def test_numbers_outside_are_refused(call: Callable[[], object], message: str) -> None:
    with pytest.raises(ValueError, match=message):
        call()
