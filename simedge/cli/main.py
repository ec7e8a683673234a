"""The entry of the command line: which commands there are, and how errors are told."""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from contextlib import suppress
from typing import TextIO

import click

from simedge import __version__
from simedge.cli.another_steel import another_steel
from simedge.cli.compare import compare
from simedge.cli.hardness import hardness
from simedge.cli.media import media
from simedge.cli.micro_bevel import micro_bevel
from simedge.cli.new import new
from simedge.cli.profile import profile
from simedge.cli.run import run
from simedge.cli.slimmest import slimmest
from simedge.cli.steady_hand import steady_hand
from simedge.cli.steels import steels
from simedge.cli.stiffness import stiffness
from simedge.cli.verify import verify
from simedge.errors import NumericsFailed, SimedgeError

INTERRUPTED = 130


@click.group(context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 96})
@click.version_option(__version__, prog_name="simedge")
def commands() -> None:
    """How thin may an edge be before the work damages it, and why.

    Start with "simedge new" (five questions), or run a case that comes along: "simedge run
    rope-knife-in-a-knot". Knives cut and grinding throws sparks and dust: no result is a safety
    certificate.
    """


for command in (
    run,
    new,
    profile,
    stiffness,
    micro_bevel,
    slimmest,
    hardness,
    steady_hand,
    another_steel,
    compare,
    steels,
    media,
    verify,
):
    commands.add_command(command)


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command line and give its exit code.

    Returns
    -------
    int
        0 answered, 1 a check fails or an edge does not come through, 2 bad input, 3 the
        numerics failed or the machine had no room, 4 a system library is missing, 130 interrupted.
    """
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):  # a terminal without µ still gets an answer
            stream.reconfigure(errors="replace")
    try:
        outcome = commands.main(arguments, prog_name="simedge", standalone_mode=False)
        if sys.stdout is not None:
            sys.stdout.flush()  # a full disk is told here, and not after the end
    except SimedgeError as error:
        return _told(error.exit_code, *str(error).splitlines())
    except click.ClickException as error:
        with suppress(OSError):
            error.show()
        return error.exit_code
    except (click.Abort, KeyboardInterrupt):
        return _told(INTERRUPTED, "stopped; nothing half written was left behind")
    except MemoryError:
        return _told(
            NumericsFailed.exit_code,
            "the machine's memory does not suffice; ask for a larger accuracy_percent, or end "
            "other programs",
        )
    except BrokenPipeError:
        _silence(sys.stdout)  # the reader went away, as `simedge steels | head` does
        return 0
    except OSError as error:
        _silence(sys.stdout)
        where = f"{error.filename}: " if error.filename else "standard output: "
        reason = error.strerror or type(error).__name__
        return _told(NumericsFailed.exit_code, f"{where}{reason}; nothing more was written")
    return outcome if isinstance(outcome, int) else 0


def _told(code: int, *lines: str) -> int:
    """Tell lines where errors are told, as far as anybody takes them, and give the exit code."""
    with suppress(OSError):
        for line in lines:
            click.echo(f"simedge: {line}", err=True)
    return code


def _silence(stream: TextIO | None) -> None:
    """Drop what a stream still holds and nobody takes, which the end of Python complains of."""
    with suppress(OSError, ValueError, AttributeError):
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, stream.fileno())  # type: ignore[union-attr]
        os.close(nowhere)


def entry() -> None:
    """Run the command line as a program."""
    sys.exit(main())
