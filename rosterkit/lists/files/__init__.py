"""Files of every format that lists come in, read into plain sheets with every text as typed."""
