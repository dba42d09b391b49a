"""The command ``speed``: timed runs to speed tables and trims."""
