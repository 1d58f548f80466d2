"""python -m waney: the commands."""

from waney.cli.main import app

app()
