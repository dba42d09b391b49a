"""Checks of what is printed, and of the sheets made by rosterkit."""
