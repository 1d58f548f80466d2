"""Applying: how each act changes the read models. The same code serves the first time and every reading anew."""
