"""Acts: everything that can be written into the yard book, each a value that checks itself."""
