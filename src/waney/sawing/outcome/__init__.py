"""Outcome of a plan: its cuts on the logs that the readings allow."""
