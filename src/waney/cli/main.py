"""The commands. Each stands in a module of its own and loads its engines only when it is called."""

from __future__ import annotations

from waney.cli.air import emc
from waney.cli.app import app
from waney.cli.demo import demo
from waney.cli.plan import plan
from waney.cli.replay import replay
from waney.cli.scale import scale
from waney.cli.weight import weight
from waney.cli.wood import wood

__all__ = ["app"]

for command in (scale, plan, replay, wood, emc, weight, demo):
    app.command()(command)

if __name__ == "__main__":
    app()
