"""Loaded once by the process that workers of walks come from: every work, and what plans need."""

from importlib import import_module
from pkgutil import iter_modules

from waney.web import works
from waney.web.works.planning import load_planning

for each in iter_modules(works.__path__, f"{works.__name__}."):
    import_module(each.name)
load_planning(b"", lambda _share, _words: None)
