"""The makers of sample_workbooks/ (``python -m tests.samples``), and tests of what is found in them."""
