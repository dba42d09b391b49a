"""Words in, exit status out: what is typed at a terminal, and the help."""
