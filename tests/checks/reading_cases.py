"""What the checks of readings find: each reading that is not as wanted is explained by one check.

Consist: NMRA S-9.2.1 (Jul 2012), Consist Control; S-9.2.2 (Jul 2012), CV19. Pair: S-9.2.1, long form, note 8.
CV29: S-9.2.2. Lock: S-9.2.2, CV15/16. Reset: S-9.2.3 (Jul 2012). 255 without an answer is common practice.
"""

from datetime import datetime, time

from tests.checks.cases import Table

_DIFFERS = Table("reading-differs")
_CONTRADICT = Table("readings-contradict")
_DOUBTFUL = Table("reading-unreliable")
_DECODER = Table("decoder-not-as-listed")
_LOCK = Table("lock-closed")
_CONSIST = Table("consist-left-behind")
_MEET = Table("meet-address-left")
_FACTORY = Table("factory-values-left")
_PAIR = Table("pair-half-taken")
_ACTIVE = Table("address-not-active")
_DC = Table("dc-operation-still-on")

_SHORT = [{"Loco": "A", "Address": 12, "Deceleration": 5}]
_OFF = [_SHORT[0] | {"DC operation": "off"}]
_LONG = [{"Loco": "A", "Address": 1000}]
_OTHER = [{"Loco": "A", "Address": 1234}]
_GUEST = [{"Loco": "A", "Address": 12, "Meet address": 1000, "At meet": "yes"}]
_SOUND = [{"Decoder": "Sound", "Manufacturer ID": 13, "Version": 21, "Lock": "yes"}]
_WITH_SOUND = [{"Loco": "A", "Address": 12, "Decoder": "Sound"}]


def _read(pairs: str, date: str = "2026-04-18") -> list[dict[str, object]]:
    """Make the rows of ``CV=VALUE`` pairs; the value stands in column D."""
    rows = (pair.split("=") for pair in pairs.split())
    return [{"Date": date, "Loco": "A", "CV": int(cv), "Value": int(v) if v != "-" else ""} for cv, v in rows]


def _at(clock: str | time, pairs: str) -> list[dict[str, object]]:
    return [row | {"Time": clock} for row in _read(pairs)]


CASES = (
    _DIFFERS.line("all as wanted", _SHORT, readings=_read("1=12 29=2 19=0 4=5")),
    _DIFFERS.line("a CV that the roster does not set", _SHORT, readings=_read("49=7")),
    _DIFFERS.line("another value", _SHORT, [("D2", "warning")], readings=_read("4=6")),
    _DIFFERS.line(
        "only the newest by date counts",
        _SHORT,
        readings=[*_read("4=5", "2026-04-19"), *_read("4=6", "2026-04-18")],
    ),
    _DIFFERS.line("of one day the lower row counts", _SHORT, [("D3", "warning")], readings=_read("4=5 4=6")),
    _DIFFERS.line(
        "of one day the later time counts, wherever it stands",
        _SHORT,
        readings=[*_at("20:15:30", "4=5"), *_at(time(20, 15), "4=6"), *_read("4=7")],
    ),
    _DIFFERS.line(
        "the time of a date counts where Time is blank",
        _SHORT,
        readings=[{**_read("4=5")[0], "Date": datetime(2026, 4, 18, 20, 15)}, *_at("20:14", "4=6")],
    ),
    _CONTRADICT.line("of one day with times", _SHORT, readings=[*_at("9:05", "4=5"), *_at("20:15", "4=6")]),
    _CONTRADICT.line("of one day and alike", _SHORT, readings=_read("4=5 4=5")),
    _CONTRADICT.line("of two days", _SHORT, readings=[*_read("4=5"), *_read("4=6", "2026-04-19")]),
    _CONTRADICT.line(
        "older than the newest", _SHORT, readings=[*_read("4=6 4=7"), *_read("4=5", "2026-04-19")]
    ),
    _CONTRADICT.line(
        "under two indexes",
        _SHORT,
        readings=[row | {"Index high": 16, "Index low": n} for n, row in enumerate(_read("300=8 300=9"))],
    ),
    _CONTRADICT.line(
        "of an engine that is not there", _SHORT, readings=[r | {"Loco": "B"} for r in _read("4=5 4=6")]
    ),
    _CONTRADICT.line(
        "of one day without times", _SHORT, [("D2", "warning"), ("D3", "warning")], readings=_read("4=5 4=6")
    ),
    _CONTRADICT.line(
        "no acknowledgment, and a value",
        _SHORT,
        [("D2", "warning"), ("D3", "warning")],
        readings=_read("4=5 4=-"),
    ),
    _CONTRADICT.line(
        "of one time",
        _SHORT,
        [("D2", "warning"), ("D3", "warning")],
        readings=[*_at("20:15", "4=5"), *_at(time(20, 15), "4=6")],
    ),
    _CONTRADICT.line(
        "one with a time and one without",
        _SHORT,
        [("D2", "warning"), ("D3", "warning")],
        readings=[*_at("20:15", "4=5"), *_read("4=6")],
    ),
    _CONTRADICT.line(
        "without a date", _SHORT, [("D2", "warning"), ("D3", "warning")], readings=_read("4=5 4=6", "")
    ),
    _CONTRADICT.line(
        "of a device under a CV and its alias",
        _SHORT,
        [("D2", "warning"), ("D3", "warning")],
        accessories=[{"Accessory": "Throat", "Address": 1}],
        readings=[row | {"Loco": "Throat"} for row in _read("29=128 541=160")],
    ),
    _DIFFERS.line(
        "a reading without a date is the oldest", _SHORT, readings=[*_read("4=5"), *_read("4=6", "")]
    ),
    _DIFFERS.line("bits of CV29 that no column states", _SHORT, readings=_read("29=95")),
    _DIFFERS.line(
        "the direction, stated",
        [_SHORT[0] | {"Direction": "normal"}],
        [("D2", "warning")],
        readings=_read("29=3"),
    ),
    _DIFFERS.line("bit 7, which no engine has", _SHORT, [("D3", "warning")], readings=_read("1=12 29=130")),
    _DIFFERS.line(
        "the direction bit beside one that is explained",
        [_LONG[0] | {"Direction": "normal", "DC operation": "off"}],
        [("D2", "warning")],
        readings=_read("29=39"),
    ),
    _DIFFERS.line(
        "an index is known where the engine has the CV under one",
        _SHORT,
        [("D2", "warning")],
        extras=[{"Loco": "A", "CV": 300, "Value": 7, "Index high": 16, "Index low": 1}],
        readings=_read("300=8"),
    ),
    _DIFFERS.line(
        "a CV of another page is another CV",
        _SHORT,
        extras=[{"Loco": "A", "CV": 300, "Value": 7, "Index high": 16, "Index low": 1}],
        readings=[_read("300=8")[0] | {"Index high": 16, "Index low": 2}],
    ),
    _DIFFERS.line(
        "at a meet the meet address is wanted",
        _GUEST,
        readings=_read("17=195 18=232 29=34"),
        meet=True,
    ),
    _DOUBTFUL.line("one 255 is a value", _SHORT, readings=_read("5=255")),
    _DOUBTFUL.line("255 beside others is a value", _SHORT, readings=_read("1=12 5=255")),
    _DOUBTFUL.line("255 in CV5 and CV6 is full drive", _SHORT, readings=_read("5=255 6=255")),
    _DOUBTFUL.line("255 in CV3 too", _SHORT, [("D2", "warning")], readings=_read("5=255 6=255 3=255")),
    _DOUBTFUL.line("255 everywhere", _SHORT, [("D2", "warning")], readings=_read("1=255 29=255 8=255")),
    _DOUBTFUL.line("255 or no answer everywhere", _SHORT, [("D2", "warning")], readings=_read("1=- 29=255")),
    _DOUBTFUL.line("one without answer is a note", _SHORT, [("D3", "note")], readings=_read("1=12 29=-")),
    _DOUBTFUL.line("a reset that has not ended", _SHORT, [("D2", "warning")], readings=_read("8=255 1=12")),
    _DECODER.line("as listed", _WITH_SOUND, decoders=_SOUND, readings=_read("8=13 7=21")),
    _DECODER.line("not listed", _SHORT, readings=_read("8=14 7=2")),
    _DECODER.line(
        "another maker, and another version",
        _WITH_SOUND,
        [("D2", "warning"), ("D3", "note")],
        decoders=_SOUND,
        readings=_read("8=14 7=22"),
    ),
    _DECODER.line(
        "another version", _WITH_SOUND, [("D2", "note")], decoders=_SOUND, readings=_read("7=22 8=13")
    ),
    _DECODER.line(
        "a manufacturer ID above 255 is in CV107 and CV108",
        _WITH_SOUND,
        [("D4", "warning")],
        decoders=[_SOUND[0] | {"Manufacturer ID": 258}],
        readings=_read("8=238 107=1 108=3"),
    ),
    _LOCK.line("open", _SHORT, readings=_read("15=2 16=2")),
    _LOCK.line("half of it does not tell", _SHORT, readings=_read("15=2")),
    _LOCK.line("closed by a command", _SHORT, [("D2", "error")], readings=_read("15=1 16=240")),
    _LOCK.line("closed", _SHORT, [("D2", "error")], readings=_read("15=1 16=2")),
    _LOCK.line(
        "closed to one decoder of several is a note",
        [_WITH_SOUND[0] | {"Lock": 2}],
        [("D2", "note")],
        decoders=_SOUND,
        readings=_read("15=1 16=2"),
    ),
    _CONSIST.line("in none", _SHORT, readings=_read("19=0 20=0")),
    _CONSIST.line("128 is in none either", _SHORT, readings=_read("19=128")),
    _DIFFERS.line("a consist of 128 is none, as wanted", _SHORT, readings=_read("19=128")),
    # NMRA S-9.2.1 (Jul 2012), Consist Control: an address of its own that is the consist's is heeded.
    _CONSIST.line("in an old one of its own address", _SHORT, [("D2", "warning")], readings=_read("19=12")),
    _CONSIST.line(
        "in an old one of the address that it answers as read",
        _SHORT,
        [("D4", "warning")],
        readings=_read("1=38 29=2 19=38"),
    ),
    _CONSIST.line(
        "in its own",
        _SHORT,
        consists=[{"Consist": "X", "Address": 85, "Position": 1, "Loco": "A"}],
        readings=_read("19=85"),
    ),
    _CONSIST.line("255 where nothing was read is no consist", _SHORT, readings=_read("19=255 29=255")),
    _DC.line("255 where nothing was read is no DC operation", _LONG, readings=_read("19=255 29=255")),
    _CONSIST.line("in an old one, reverse", _SHORT, [("D2", "error")], readings=_read("19=166")),
    _CONSIST.line("in an old one of four digits", _SHORT, [("D3", "error")], readings=_read("19=0 20=12")),
    _MEET.line("back at its own", _GUEST, readings=_read("1=12 29=2")),
    _MEET.line("at the meet", _GUEST, readings=_read("17=195 18=232 29=34"), meet=True),
    _MEET.line(
        "still its meet address", _GUEST, [("D2", "warning")], readings=_read("17=195 18=232 29=34 1=12")
    ),
    # Factory values: RCN-225 (27.07.2025), CV1 and CV17/18; those of CV29 are common practice, no source.
    _FACTORY.line("the wanted pair", _OTHER, readings=_read("17=196 18=210 29=34")),
    _FACTORY.line("the factory pair is the wanted one", _LONG, readings=_read("17=195 18=232 29=2")),
    _FACTORY.line("the factory pair", _OTHER, [("D2", "warning")], readings=_read("17=195 18=232 29=34")),
    _FACTORY.line(
        "the factory pair and a usual CV29",
        _OTHER,
        [("D3", "warning")],
        readings=_read("1=3 17=195 18=232 29=6"),
    ),
    _FACTORY.line(
        "the factory pair shares CV17 with the wanted one",
        [{"Loco": "A", "Address": 814}],
        [("D2", "warning")],
        readings=_read("17=195 18=232"),
    ),
    _FACTORY.line("short 3", _OFF, [("D2", "warning")], readings=_read("1=3 29=6")),
    _FACTORY.line("short 3, the CV29 as wanted", _SHORT, [("D2", "warning")], readings=_read("1=3 29=2")),
    _FACTORY.line(
        "short 3 and a usual CV29 beside no pair", _OTHER, [("D2", "warning")], readings=_read("1=3 29=6")
    ),
    _FACTORY.line(
        "short 3, a usual CV29 and the factory pair, which is the wanted one",
        _LONG,
        [("D2", "warning")],
        readings=_read("1=3 17=195 18=232 29=6"),
    ),
    _FACTORY.line(
        "the factory pair of an engine of which nothing can be computed",
        [_LONG[0] | {"Direction": "sideways"}],
        readings=_read("17=195 18=232 29=2"),
    ),
    _FACTORY.line("another short address than 3", _SHORT, readings=_read("1=4 29=2")),
    _FACTORY.line("3 in CV1 beside a long address", _LONG, readings=_read("1=3 17=195 18=232 29=34")),
    _FACTORY.line("half of the factory pair", _OTHER, readings=_read("17=195 18=210")),
    _DC.line("on in a decoder at its factory values is said with them", _OFF, readings=_read("1=3 29=6")),
    _DC.line(
        "on in a decoder at its factory values, at a meet",
        [_OFF[0] | {"At meet": "yes"}],
        [("D3", "error")],
        readings=_read("1=3 29=6"),
        meet=True,
    ),
    _DIFFERS.line("factory values are said as such", _OTHER, readings=_read("17=195 18=232 29=6")),
    _PAIR.line("both", _OTHER, readings=_read("17=196 18=210")),
    _PAIR.line("neither is another fault", _OTHER, readings=_read("17=193 18=1")),
    _PAIR.line("the factory pair is no mixture", _OTHER, readings=_read("17=195 18=232")),
    _PAIR.line(
        "one half as wanted and the other of no known pair",
        _OTHER,
        readings=_read("17=196 18=3"),
    ),
    _PAIR.line(
        "the wanted CV17, the factory CV18", _OTHER, [("D3", "error")], readings=_read("17=196 18=232")
    ),
    _PAIR.line(
        "the factory CV17, the wanted CV18", _OTHER, [("D2", "error")], readings=_read("17=195 18=210")
    ),
    _PAIR.line(
        "the wanted CV17 with the CV18 of an earlier reading",
        _OTHER,
        [("D5", "error")],
        readings=[*_read("17=208 18=5", "2026-04-01"), *_read("17=196 18=5")],
    ),
    _PAIR.line(
        "the CV17 of an earlier reading with the wanted CV18",
        _OTHER,
        [("D4", "error")],
        readings=[*_read("17=208 18=5", "2026-04-01"), *_read("17=208 18=210")],
    ),
    _PAIR.line(
        "the wanted CV17 with the CV18 of the meet address",
        [_OTHER[0] | {"Meet address": 4100, "At meet": "yes"}],
        [("D3", "error")],
        readings=_read("17=196 18=4"),
    ),
    _ACTIVE.line("active", _LONG, readings=_read("17=195 18=232 29=34")),
    _ACTIVE.line("the pair, and CV29 short", _LONG, [("D4", "error")], readings=_read("17=195 18=232 29=2")),
    _ACTIVE.line("CV1, and CV29 long", _SHORT, [("D3", "error")], readings=_read("1=12 29=34")),
    _DC.line("off", _LONG, readings=_read("29=34")),
    _ACTIVE.line("bit 7 says accessory decoder", _LONG, readings=_read("17=195 18=232 29=130")),
    _DIFFERS.line("bit 7 says accessory decoder", _LONG, [("D2", "warning")], readings=_read("29=162")),
    _DC.line("bit 7 says accessory decoder", _LONG, readings=_read("29=166")),
    # NMRA S-9.2.2 (Jul 2012), CV12; RCN-225 (27.07.2025), CV12: bit 0 is direct current in both.
    _DC.line(
        "on, and CV12 permits no direct current",
        [_LONG[0] | {"DC operation": "off"}],
        readings=_read("29=38 12=4"),
    ),
    _DC.line(
        "on, and CV12 permits it",
        [_LONG[0] | {"DC operation": "off"}],
        [("D2", "warning")],
        readings=_read("29=38 12=5"),
    ),
    _DIFFERS.line(
        "DC operation on, and CV12 permits none",
        [_LONG[0] | {"DC operation": "off"}],
        [("D2", "warning")],
        readings=_read("29=38 12=4"),
    ),
    _DC.line("on as the roster has it", [_LONG[0] | {"DC operation": "on"}], readings=_read("29=38")),
    _DC.line("still on", [_LONG[0] | {"DC operation": "off"}], [("D2", "warning")], readings=_read("29=38")),
    _DC.line("on, and kept as the cell is blank", _LONG, [("D2", "note")], readings=_read("29=38")),
    _DC.line(
        "on, and kept at a meet",
        [_LONG[0] | {"At meet": "yes"}],
        [("D2", "warning")],
        readings=_read("29=38"),
        meet=True,
    ),
    _DC.line("204 is no locomotive decoder's", _LONG, readings=_read("1=3 29=204")),
    _DC.line(
        "at a meet it is an error",
        [_LONG[0] | {"At meet": "yes", "DC operation": "off"}],
        [("D2", "error")],
        readings=_read("29=38"),
        meet=True,
    ),
)
