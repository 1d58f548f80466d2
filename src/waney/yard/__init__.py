"""The yard book: what happened in the yard, kept for years, and what a person can do with it."""
