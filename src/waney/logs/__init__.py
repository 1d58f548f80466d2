"""A log: what was measured, the shape that follows, its rings, what is hidden in it, its volume by every scale."""
