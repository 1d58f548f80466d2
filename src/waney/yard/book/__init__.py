"""The book itself: events, read models, files, copies. The only SQL of the project."""
