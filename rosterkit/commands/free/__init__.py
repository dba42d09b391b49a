"""The command ``free``: addresses that nobody uses, the best first."""
