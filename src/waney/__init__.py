"""Waney carries wood from the log to the finished, sold or built thing, and does the arithmetic on the way."""

__version__ = "0.1.0"
