"""The command line: each command reads its input, makes one library call and shows the answer.

Exit status 0 with an answer; 2 for bad usage or unreadable input, with one line on standard error.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Callable

import click

from labeler import __version__
from labeler.cli.batch import batch
from labeler.cli.documents import label, matrix, post, worksheet
from labeler.cli.examples import add_examples
from labeler.cli.figures import allergens, foods, lines, nutrition
from labeler.cli.import_recipe import import_file
from labeler.cli.larder import larder
from labeler.cli.method import method
from labeler.cli.open_data import opendata
from labeler.cli.page import page
from labeler.cli.rules import requirements, rules
from labeler.processes import set_up
from labeler.types import LabelerError

__all__ = ["commands", "main"]


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__)
def commands() -> None:
    """From a recipe as cooks write it to grams, nutrition, allergens and a printed label."""


for command in (
    *(lines, foods, nutrition, allergens, matrix, requirements, rules, method, label, worksheet, post),
    *(larder, opendata, import_file, batch, page),
):
    commands.add_command(command)
add_examples(commands)


def _write_utf8() -> None:
    """Let what is written be UTF-8, whatever the terminal's locale is."""
    for stream in (sys.stdout, sys.stderr):
        reconfigure: Callable[..., None] | None = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(encoding="utf-8", errors="replace")


def main(arguments: list[str] | None = None) -> None:
    """Run the command line and leave with status 0, or 2 after one line on standard error."""
    set_up()
    _write_utf8()
    try:
        status = commands.main(args=arguments, prog_name="labeler", standalone_mode=False)
    except click.exceptions.NoArgsIsHelpError as error:
        click.echo(error.format_message())
        sys.exit(2)
    except click.ClickException as error:
        context = getattr(error, "ctx", None)
        help_with = f"; see {context.command_path} --help" if context else ""
        _complain(error.format_message().rstrip(".") + help_with)
        sys.exit(2)
    except LabelerError as error:
        _complain(str(error))
        sys.exit(2)
    except (KeyboardInterrupt, click.Abort):
        _complain("stopped")
        sys.exit(130)
    except BrokenPipeError:
        # The reader of our output went away, as `head` does: nothing is wrong with the input.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        sys.exit(0)
    except Exception as error:
        # A fault of the program is no reason to throw its insides at a cook; whoever mends it asks for them.
        if os.environ.get("LABELER_DEBUG"):
            raise
        _complain(
            f"this is a fault of the program, not of your input ({type(error).__name__}: {error}); "
            "please report it with the input; LABELER_DEBUG=1 shows where it happened"
        )
        sys.exit(1)
    sys.exit(status if isinstance(status, int) else 0)


def _complain(message: str) -> None:
    click.echo("labeler: " + " ".join(message.split()), err=True)


if __name__ == "__main__":
    main()
