"""Works: what a worker does in a process of its own; no page imports it."""
