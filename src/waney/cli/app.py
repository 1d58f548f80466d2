"""The program as typer knows it, and how a command ends: a sentence and exit code 1 for what the person can mend."""

from __future__ import annotations

import sys
from collections.abc import Callable
from functools import wraps
from typing import ParamSpec

import typer

from waney.figures.problem import Problem

Given = ParamSpec("Given")

app = typer.Typer(
    add_completion=False,
    no_args_is_help=True,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    help="Waney carries wood from the log to the finished, sold or built thing, and does the arithmetic on the way.",
)


def answering(command: Callable[Given, None]) -> Callable[Given, None]:
    """A command whose problems are printed as sentences; it then ends with code 1."""

    @wraps(command)
    def answered(*given: Given.args, **named: Given.kwargs) -> None:
        try:
            command(*given, **named)
        except Problem as problem:
            print(problem, file=sys.stderr)
            raise typer.Exit(1) from None
        except BrokenPipeError:  # the reader has seen enough
            raise typer.Exit(0) from None
        except OSError as problem:
            print(f"{problem.filename}: {problem.strerror}.", file=sys.stderr)
            raise typer.Exit(1) from None

    return answered
