"""The short name of each CV, as the trade calls it."""

from rosterkit.standards.bounds import CV_NUMBERS, within
from rosterkit.standards.functions import MAPPING_CVS, function_of_mapping_cv
from rosterkit.standards.service_mode import INDEXED_CVS
from rosterkit.standards.speed_curve import SPEED_TABLE_CVS, table_step_for_cv

_NAMES = {
    1: "short address",
    2: "Vstart",
    3: "acceleration",
    4: "deceleration",
    5: "Vhigh",
    6: "Vmid",
    7: "decoder version",
    8: "manufacturer ID",
    9: "total PWM period",
    10: "EMF feedback cutout",
    11: "packet time-out",
    12: "power sources",
    13: "analog mode function status, F1 to F8",
    14: "analog mode function status, F0 and F9 to F12",
    15: "lock, key",
    16: "lock, identity",
    17: "long address, high byte",
    18: "long address, low byte",
    19: "consist address",
    20: "consist address, high digits",
    21: "consist address active for F1 to F8",
    22: "consist address active for F0 and F9 up",
    23: "acceleration adjustment",
    24: "deceleration adjustment",
    25: "speed curve choice",
    26: "reserved",
    27: "automatic stop",
    28: "BiDi configuration",
    29: "configuration",
    30: "error",
    31: "index high byte",
    32: "index low byte",
    65: "kick start",
    66: "forward trim",
    95: "reverse trim",
    96: "function mapping method",
    105: "user identification 1",
    106: "user identification 2",
    107: "extended manufacturer ID, high bits",
    108: "extended manufacturer ID, low byte",
    109: "extended version, first",
    110: "extended version, second",
    111: "extended version, third",
}

_RANGES = (
    (range(97, 105), "reserved or manufacturer unique"),
    (range(47, 257), "manufacturer unique"),
    (range(513, 880), "manufacturer unique"),
    (range(880, 896), "dynamic information"),
    (range(896, 1025), "function module bus"),
)

_ACCESSORY_NAMES = {
    1: "accessory address, low bits",
    2: "auxiliary activation",
    3: "on-time of output 1",
    4: "on-time of output 2",
    5: "on-time of output 3",
    6: "on-time of output 4",
    9: "accessory address, high bits",
    17: "output address, high bits",
    18: "output address, low bits",
}


def cv_name(cv: int) -> str:
    """Return the short name of a locomotive decoder's CV, 1 to 1024.

    NMRA S-9.2.2 (Jul 2012), Table 1; RCN-225 (27.07.2025), section 2. They differ on CV10, CV65 and 97 to 111
    (manufacturer unique in RCN-225, apart from 105 to 108), 880 to 895 (reserved there) and 896 (the bus
    begins at 897 there). That CV26 is reserved is from memory. ValueError outside.
    """
    within(cv, CV_NUMBERS, "CV")
    if cv in _NAMES:
        return _NAMES[cv]
    if cv in MAPPING_CVS:
        return f"outputs of {function_of_mapping_cv(cv)}"
    if cv in SPEED_TABLE_CVS:
        return f"speed table, step {table_step_for_cv(cv)}"
    if cv in INDEXED_CVS:
        return f"indexed CV {cv - 256} of 256"
    return next(name for cvs, name in _RANGES if cv in cvs)


def named_cvs() -> tuple[int, ...]:
    """Return the CVs of a locomotive decoder that the standards name one by one, in rising order.

    NMRA S-9.2.2 (Jul 2012), Table 1; RCN-225 (27.07.2025), section 2. Without those that are reserved, the
    maker's own and those of an index (see ``cv_name``).
    """
    named = {cv for cv, name in _NAMES.items() if name != "reserved"}
    return tuple(sorted({*named, *MAPPING_CVS, *SPEED_TABLE_CVS}))


def accessory_register_name(cv: int) -> str:
    """Return the short name of an accessory decoder's CV, 1 to 1024, or of its alias 512 higher.

    NMRA S-9.2.2 (Jul 2012), Table 3; RCN-225 (27.07.2025), section 3. That CV2 is the auxiliary activation is
    from memory of Table 3. ValueError outside.
    """
    within(cv, CV_NUMBERS, "CV")
    plain = cv - 512 if cv > 512 else cv
    if plain in _ACCESSORY_NAMES:
        return _ACCESSORY_NAMES[plain]
    return cv_name(plain) if plain in (7, 8, 28, 29) else "manufacturer unique"
