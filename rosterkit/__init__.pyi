from rosterkit.frames import read as read
from rosterkit.frames import read_all as read_all

__version__: str
__all__ = ["__version__", "read", "read_all"]
