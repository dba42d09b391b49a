"""Damages workbooks at random: each is refused in a sentence, or read and filled without loss."""
