"""Sheets of rosterkit's own: new workbooks, and pages put into a member's."""
