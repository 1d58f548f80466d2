"""The compiled search for cuttings; it imports only `waney.figures.compiled` and itself."""
