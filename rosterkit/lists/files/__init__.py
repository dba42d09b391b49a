"""Files of every format, read into plain sheets with every text as typed."""
