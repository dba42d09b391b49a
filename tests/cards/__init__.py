"""Tests of ``rosterkit.cards``: the cards of engines, as text, JSON, CSV and as a printed sheet."""
