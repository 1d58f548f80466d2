"""Edging together: which flitches stand on edge side by side, and at what heights."""
