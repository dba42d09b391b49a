"""Checks of rosterkit.cards: the order of cards."""
