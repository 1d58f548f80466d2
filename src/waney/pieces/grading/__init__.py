"""Hardwood grades by the published cutting-unit rules: advice, not a grade stamp."""
