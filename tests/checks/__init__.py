"""Tests of ``rosterkit.checks``: tables of workbooks and what each check finds in them, with its words."""
