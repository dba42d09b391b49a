"""The two families of standards, for CVs that they read differently."""

from enum import StrEnum


class StandardFamily(StrEnum):
    """Whose text a CV is read by where the texts differ."""

    NMRA = "NMRA"
    """NMRA S-9.2.2 (Jul 2012)."""
    RCN = "RCN"
    """RailCommunity RCN-225 (27.07.2025)."""
