"""The workbooks of sample_workbooks/, made anew by ``python -m tests.samples``."""
