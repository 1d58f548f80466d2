"""Figures and where they come from: estimates, scenarios, the source registry, packaged tables."""
