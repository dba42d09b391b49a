"""Files of every format, made here and read back."""
