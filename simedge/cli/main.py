"""The entry of the command line: which commands there are, and how errors are told."""

from __future__ import annotations

import sys
from collections.abc import Sequence

import click

from simedge import __version__
from simedge.cli.media import media
from simedge.cli.new import new
from simedge.cli.profile import profile
from simedge.cli.run import run
from simedge.cli.steels import steels
from simedge.errors import SimedgeError

INTERRUPTED = 130


@click.group(context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 96})
@click.version_option(__version__, prog_name="simedge")
def commands() -> None:
    """How thin may an edge be before the work damages it, and why.

    Start with "simedge new" (five questions), or run a case that comes along: "simedge run
    rope-knife-in-a-knot". Knives cut and grinding throws sparks and dust: no result is a safety
    certificate.
    """


for command in (run, new, profile, steels, media):
    commands.add_command(command)


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command line and give its exit code.

    Returns
    -------
    int
        0 answered, 2 bad input, 3 the numerics failed, 4 a system library is missing,
        130 interrupted.
    """
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):  # a terminal without µ still gets an answer
            stream.reconfigure(errors="replace")
    try:
        outcome = commands.main(arguments, prog_name="simedge", standalone_mode=False)
    except SimedgeError as error:
        for line in str(error).splitlines():
            click.echo(f"simedge: {line}", err=True)
        return error.exit_code
    except click.ClickException as error:
        error.show()
        return error.exit_code
    except (click.Abort, KeyboardInterrupt):
        click.echo("simedge: stopped; nothing half written was left behind", err=True)
        return INTERRUPTED
    except BrokenPipeError:
        sys.stderr.close()  # the reader went away, as `simedge steels | head` does
        return 0
    return outcome if isinstance(outcome, int) else 0


def entry() -> None:
    """Run the command line as a program."""
    sys.exit(main())
