"""Speed steps as speed instructions carry them, with 14, 28 or 128 steps."""

from rosterkit.standards.bounds import one_of

TOP_STEPS = {14: 14, 28: 28, 128: 126}
"""The highest step by the number of steps; two of the 128 values are the stops (NMRA S-9.2.1, Jul 2012)."""


def top_step(steps: int) -> int:
    """Return the highest step of 14, 28 or 128: 14, 28 or 126 (NMRA S-9.2.1, Jul 2012); else ValueError."""
    return TOP_STEPS[one_of(steps, TOP_STEPS, "speed steps")]


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
