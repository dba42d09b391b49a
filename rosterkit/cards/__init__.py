"""The programming track: what is keyed in, in which order and mode, and what comes before."""
