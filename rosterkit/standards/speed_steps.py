"""Speed steps as speed instructions carry them, with 14, 28 or 128 steps."""

from enum import StrEnum

from rosterkit.standards.bounds import one_of, within

TOP_STEPS = {14: 14, 28: 28, 128: 126}
"""The highest step by the number of steps; two of the 128 values are the stops (NMRA S-9.2.1, Jul 2012)."""

_FIRST_CODE = {14: 2, 28: 4, 128: 2}
_CODES = {14: range(16), 28: range(32), 128: range(128)}


class Halt(StrEnum):
    """The two ways of standing still."""

    STOP = "stop"
    EMERGENCY_STOP = "emergency stop"


def top_step(steps: int) -> int:
    """Return the highest step of 14, 28 or 128 steps: 14, 28 or 126 (NMRA S-9.2.1, Jul 2012).

    ValueError for others.
    """
    return TOP_STEPS[one_of(steps, TOP_STEPS, "speed steps")]


def speed_code(speed: int | Halt, steps: int) -> int:
    """Return the speed bits for a step, 1 to the top, or a halt, with 14, 28 or 128 steps.

    14: SSSS; 128: SSSSSSS (NMRA S-9.2.1, Jul 2012). 28: CSSSS, where C is the least bit of the speed (S-9.2,
    Jul 2004, Figure 2; NEM 671, 2014, Table 1). ValueError outside.
    """
    top = top_step(steps)
    if isinstance(speed, Halt):
        return 0 if speed is Halt.STOP else 1
    code = within(speed, range(1, top + 1), "speed step") + _FIRST_CODE[steps] - 1
    return (code & 1) << 4 | code >> 1 if steps == 28 else code


def speed_of_code(code: int, steps: int) -> int | Halt:
    """Read the speed bits of 14 (0 to 15), 28 (0 to 31, CSSSS) or 128 steps (0 to 127).

    NMRA S-9.2 (Jul 2004), Figure 2; S-9.2.1 (Jul 2012). With 28 steps two codes stand for each halt.
    ValueError outside.
    """
    top_step(steps)
    within(code, _CODES[steps], "speed code")
    if steps == 28:
        code = (code & 15) << 1 | code >> 4
    first = _FIRST_CODE[steps]
    if code < first:
        return Halt.STOP if code < first // 2 else Halt.EMERGENCY_STOP
    return code - first + 1


def step_mismatch(*, decoder_has_28: bool, station_steps: int) -> str | None:
    """Say what a decoder (CV29 bit 1) does under a station that sends 14, 28 or 128 steps.

    None where they agree. The mechanism is NMRA S-9.2.1 (Jul 2012), derived; the symptoms are common
    practice. With 128 steps the speed does not pass through that bit, though bit 1 is usually set. ValueError
    for other steps.
    """
    one_of(station_steps, TOP_STEPS, "speed steps")
    if station_steps == 28 and not decoder_has_28:
        return "the headlight goes on and off as the speed changes, and every second step does nothing"
    if station_steps == 14 and decoder_has_28:
        return "the headlight cannot be switched"
    return None
