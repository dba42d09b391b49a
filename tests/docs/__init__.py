"""The README's derived parts, made anew by ``python -m tests.docs`` and compared by a test."""
