"""A piece's outline from a photo with our printed target lying on its face."""
