"""Plans in which a product must come at least, or may come at most, so many times."""
