"""What to look at before a batch of cards: the track, the engine, and the people around it."""

from rosterkit.cards.write_modes import LIMITS, WriteMode, cvs_words
from rosterkit.cv.meanings import DC_RUNAWAY
from rosterkit.cv.to_read import OPTIONAL_CVS
from rosterkit.roster.model import Layout, Locomotive

_TRACK = (
    "One engine only on the isolated section: every decoder there takes what is keyed in.",
    "All its wheels past both gaps, tender and lighted cars too: a wheel across a gap feeds the layout, and "
    "every engine standing there is rewritten as well.",
    "Both rails cut at each end, not one alone, and the rest of the layout not fed from this output: "
    "otherwise the same happens without a wheel on the gap.",
    "Sound, smoke and lamps off, buffer capacitor disconnected, wheels clean: they hide the acknowledgment, "
    "and CVs then read as 255 or not at all.",
)
_RUNNING_TRACK = (
    "Every engine with that address takes what is keyed in: no second engine on 3, none of the same number.",
    "Call the engine by its own address, never by the consist's: CVs are not written through that.",
    "Nothing can be read back without BiDi equipment: look at what the engine does.",
)
_PAGES = "CV31 and CV32 directly before the CVs of their index."
_AFTER_LOCK = ", after CV15 where it is listed"
_ORDER = (
    f"Read CV8 and CV7 first{_AFTER_LOCK}: if they are not as printed, the wrong engine is on the track.",
    "Where CV29 is read first, the bits that are assumed stay as they read: record the reading and print the "
    "card again, or key in the value below with those bits as read.",
    f"Key in from top to bottom, CV17 and CV18 directly one after the other, {_PAGES}",
    "Read each back and write it beside the value. "
    "Without an acknowledgment the value may still have been written.",
)
_SAFETY = (
    f"DC operation (CV29) is best off: with it on, {DC_RUNAWAY}; the emergency stop does not reach it "
    "before.",
    "The instructions of the decoder's and the station's makers come first, then local electrical codes and "
    "licensed practice; for wiring and soldering unplug every supply, and solder in fresh air.",
)
_READ_OUT = (
    "A reset sets CVs to the maker's defaults: as a rule all of them, address, consist, speed curve and "
    "functions too, and some resets only a part; the maker's instructions say which. What was not written "
    "down before is lost.",
    "Read each CV from top to bottom, and write down what it reads; - where there was no acknowledgment. "
    "CV15, CV31 and CV32 are keyed in where the list says so, so that others can be read; nothing else is.",
    "Then record it, by --record or in the sheet Readings. After the reset 'rosterkit cards --restore' "
    "prints the card that puts it back.",
    "The list has the CVs that the standards name and that can be put back, and what the workbook knows "
    "besides. It leaves out CV67 to CV94 where no speed table is in use, what this kind of decoder lacks by "
    "the sheet Decoder types, the lock where the column Lock is blank, and, unless the roster or an earlier "
    "reading has them, the maker's own CVs and those of an index.",
    "Whether and how the decoder is reset, and which CVs it has besides, its maker's instructions say; they "
    "come first.",
)
_RESTORE = (
    "These cards put back what was read last, whatever the roster says now but for the lock. Compare the day "
    "of the readings, in the sheet Readings, with what was keyed in since.",
    "What was not read is not put back. Each card names what the standards define of that; it cannot name "
    "the maker's own CVs and those of an index that nobody recorded.",
    "They begin with a decoder that was reset. What CVs beyond the standards take, and in which order, its "
    "maker's instructions say; they come first.",
)


def preflight(mode: WriteMode, layout: Layout) -> tuple[str, ...]:
    """Return the list for a batch of cards, in the order in which it is gone through.

    The isolated section and the loads that should be off: NMRA S-9.2.3 (Jul 2012), section B; one decoder at
    a time because service mode carries no address (section E, derived); the rest is common practice.
    """
    limits = (LIMITS[mode],) if mode in LIMITS else ()
    if mode is WriteMode.OPERATIONS:
        return (*_RUNNING_TRACK, *limits, f"Key in from top to bottom, {_PAGES}", *_SAFETY)
    order: tuple[str, ...] = _ORDER
    if mode is WriteMode.ADDRESS_ONLY:
        order = _ORDER[3:]
    elif mode is WriteMode.REGISTER:
        # No lock is opened in this mode, and nothing has a pair or an index.
        identity = _ORDER[0].replace("CV8 and CV7", "R8 and R7").replace(_AFTER_LOCK, "")
        order = (identity, _ORDER[1].replace("CV29", "R5 (CV29)"), "Key in from top to bottom.", *_ORDER[3:])
    return (*_TRACK, *_room_words(layout), *limits, *order, *_SAFETY)


def read_out_preflight(mode: WriteMode, layout: Layout) -> tuple[str, ...]:
    """Return what to do with a list of what to read, and the list for the track that goes before it.

    That a reset sets all CVs to the factory values of the decoder's manual: RCN-226 (2014), section 2.1; that
    others set a part of them: section 2.2.
    """
    limits = (LIMITS[mode],) if mode in LIMITS else ()
    where = f"Only where the decoder has them, as it need not: {cvs_words(OPTIONAL_CVS)}."
    optional = () if mode is WriteMode.REGISTER else (where,)
    return (*_READ_OUT, *optional, *_TRACK, *_room_words(layout), *limits, _SAFETY[1])


def restore_preflight(mode: WriteMode, layout: Layout) -> tuple[str, ...]:
    """Return the list for a batch of cards that put readings back after a reset."""
    return (*_RESTORE, *preflight(mode, layout))


def _room_words(layout: Layout) -> tuple[str, ...]:
    unclear = [layout.heading(name) for name in ("track_length", "clearance") if name in layout.unusable]
    if unclear:
        return (
            f"Measure whether the engine fits the section: {' and '.join(unclear)} in the sheet Layout "
            "cannot be understood.",
        )
    if layout.track_length is None:
        return ()
    unit = layout.length_unit
    return (
        f"The section is {layout.track_length:g} {unit} from gap to gap; {layout.clearance:g} {unit} kept at "
        f"each end leave room for {max(room_of(layout) or 0, 0):g} {unit}.",
    )


def room_of(layout: Layout) -> float | None:
    """Return the length that one may have on the isolated section, in the layout's unit; None if unknown.

    It can be negative where the clearances are longer than the section.
    """
    if layout.track_length is None or "clearance" in layout.unusable:
        return None
    return layout.track_length - 2 * layout.clearance


def too_long_words(engine: Locomotive, layout: Layout) -> str | None:
    """Say that an engine does not fit on to the isolated section; None if it does or nobody knows."""
    room = room_of(layout)
    if room is None or engine.length is None or engine.length <= room:
        return None
    unit = layout.length_unit
    return (
        f"Too long for the section: {engine.length:g} {unit}, and there is room for {max(room, 0):g} {unit}. "
        "Do not key anything in here."
    )
