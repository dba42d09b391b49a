"""The derived parts of every document, made anew by ``python -m tests.docs`` and compared by a test."""
