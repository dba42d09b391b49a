"""Sheets of our own: new workbooks, and pages put into a member's."""
