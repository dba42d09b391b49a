"""Findings and cards of one roster with all that makes printing hard."""

from rosterkit.cards.card import Card, cards_of
from rosterkit.checks.result import CheckReport
from rosterkit.findings import in_reading_order
from tests.rosters import findings, roster

ROSTER = roster(
    [
        {
            "Loco": 'A,\n"B" 100%',
            "DCC\naddress": 500,
            "Railway": "=Elm",
            "Number": "7",
            "Owner": "@M01",
            "Fault": "=1+1; a::b, 5% \x1b[31m" + " very" * 30,
            "Model": "+" + "long" * 18,
            "DC operation": "off",
        },
        {"Loco": "-B", "DCC\naddress": 500, "Railway": "=Elm", "Number": "7", "DC operation": "on"},
        {"Loco": "C", "DCC\naddress": "none", "Fault": "=cmd"},
        {"Loco": "D" * 40, "DCC\naddress": 44, "Vstart": 5, "Vmid": 90, "Vhigh": 200},
    ],
    layout={"Service mode": "paged"},
    name="our, club 100%.xlsx",
)
REPORT = CheckReport(
    version="1.2.3",
    workbooks=[("our, club 100%.xlsx", 4)],
    findings=in_reading_order(findings(ROSTER)),
)
NOTHING = CheckReport(version="1.2.3", workbooks=[("a.xlsx", 1)], findings=[])
CARDS: list[Card] = cards_of(ROSTER)
