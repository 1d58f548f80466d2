"""The compiled arithmetic of drying. It imports nothing of the program but `figures.compiled` and itself."""
