"""Tests of the command ``compare``: rows and engines of two workbooks."""
