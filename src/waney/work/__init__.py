"""Work: one function over many items, in this process or in several, within a budget, with progress, and stoppable."""
