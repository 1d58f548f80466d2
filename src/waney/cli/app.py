"""The program as typer knows it, and how a command ends: an exit code, and one line that says what to change."""

from __future__ import annotations

import os
import re
import sys
import traceback
from collections.abc import Callable, Sequence
from enum import IntEnum
from functools import wraps
from typing import Any, NoReturn, ParamSpec, cast

import typer
from typer.core import TyperGroup

from waney.figures.problem import Problem

Given = ParamSpec("Given")

UsageError = cast(type[typer.BadParameter], typer.BadParameter.__mro__[1])
"""What typer raises for a command line it cannot read; it exports only the child."""


class Ended(IntEnum):
    """Exit codes; docs/commands.md lists them from here."""

    ANSWERED = 0
    """the answer was given"""
    SHEET = 1
    """what was handed over cannot be used; the error line says what to change"""
    WRITTEN = 2
    """the command line itself cannot be read; the error line says which word"""
    NO = 3
    """all was read, and the answer is no: the plan does not replay, or no plan can be had"""
    FAULT = 70
    """a fault of the program, with its trace; please report it"""
    STOPPED = 130
    """stopped by the person (Ctrl-C)"""


class AnswerIsNo(Exception):
    """Nothing is wrong with what was handed over; the sentence says why the answer is no."""


class WrittenWrong(Exception):
    """The words of the command do not go together; the sentence says which to add or leave out."""


class Commands(TyperGroup):
    """The commands; a line that cannot be read is answered with one line."""

    def main(
        self,
        args: Sequence[str] | None = None,
        prog_name: str | None = None,
        complete_var: str | None = None,
        standalone_mode: bool = True,
        windows_expand_args: bool = True,
        **extra: Any,
    ) -> Any:
        """Run a command line and end the process."""
        words = [_with_minus(word) for word in (sys.argv[1:] if args is None else args)] or ["--help"]
        try:
            if "--help" in words:
                self._help(words[0])
            code = super().main(words, "waney", standalone_mode=False, **extra)
            sys.stdout.flush()
        except BrokenPipeError:  # whoever reads has read enough
            os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
            sys.exit(Ended.ANSWERED)
        except UsageError as slip:
            _end(Ended.WRITTEN, f"{_sentence(slip.format_message())} See: {_asked(slip)} --help")
        if code == Ended.STOPPED:
            _end(Ended.STOPPED, "Stopped.")
        sys.exit(code if isinstance(code, int) else Ended.ANSWERED)

    def _help(self, name: str) -> None:
        """Print the help of a command, or of all, and end: typer's own way loads its readers of values first."""
        own = typer.Context(self, info_name="waney")
        command = self.commands.get(name)
        if command is not None:
            print(command.get_help(typer.Context(command, info_name=name, parent=own)))
        elif name == "--help":
            print(self.get_help(own))
        else:
            return
        sys.stdout.flush()
        sys.exit(Ended.ANSWERED)


def _with_minus(word: str) -> str:
    """A temperature below zero, not an option: "-5 C" with a true minus sign."""
    return f"\N{MINUS SIGN}{word[1:]}" if re.match(r"-[.\d]", word) else word


def _sentence(message: str) -> str:
    words = " ".join(message.replace("Value error, ", "").split())
    return words[:1].upper() + words[1:]


def _asked(slip: typer.BadParameter) -> str:
    return slip.ctx.command_path if slip.ctx else "waney"


def _end(code: Ended, said: str) -> NoReturn:
    print(said, file=sys.stderr)
    sys.exit(code)


app = typer.Typer(
    cls=Commands,
    add_completion=False,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    help="Waney carries wood from the log to the finished, sold or built thing, and does the arithmetic on the way.",
    epilog="Begin with: waney demo --no-serve. Every command has its example: waney plan --help. "
    "Exit codes: 0 answered, 1 a sheet or file to mend, 2 the command line, 3 the answer is no.",
)


def answering(command: Callable[Given, None]) -> Callable[Given, None]:
    """A command whose problems end it with a sentence and a code of `Ended`."""

    @wraps(command)
    def answered(*given: Given.args, **named: Given.kwargs) -> None:
        try:
            command(*given, **named)
        except (typer.Exit, UsageError):
            raise
        except BrokenPipeError:  # the reader has seen enough
            raise typer.Exit(Ended.ANSWERED) from None
        except Exception as problem:
            raise typer.Exit(_told(problem)) from None

    return answered


def _told(problem: Exception) -> Ended:
    """Says what went wrong and how the command ends."""
    for kind, code in ((AnswerIsNo, Ended.NO), (WrittenWrong, Ended.WRITTEN), (Problem, Ended.SHEET)):
        if isinstance(problem, kind):
            print(problem, file=sys.stderr)
            return code
    if isinstance(problem, OSError) and problem.filename is not None:
        print(_file_words(problem), file=sys.stderr)
        return Ended.SHEET
    traceback.print_exception(problem)
    print("This is a fault of Waney, not of what you wrote; please report it with the lines above.", file=sys.stderr)
    return Ended.FAULT


def _file_words(problem: OSError) -> str:
    """What to do about a file that could not be opened."""
    name = problem.filename
    if isinstance(problem, FileNotFoundError):
        return f"{name} is not there; look at the name and the folder."
    if isinstance(problem, IsADirectoryError):
        return f"{name} is a folder; name a file in it."
    if isinstance(problem, PermissionError):
        return f"{name} may not be opened; ask whoever owns it, or name another file."
    return f"{name} could not be opened ({problem.strerror}); name another file."
