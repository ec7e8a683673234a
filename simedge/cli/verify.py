"""``simedge verify``: the published checks, replayed on this machine."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

import click

from simedge.cli.run import named_folder

if TYPE_CHECKING:
    from simedge.studies.verify.check import Check
    from simedge.studies.verify.suite import Progress

#: A check that fails is neither bad input nor broken numerics.
FAILED = 1


@click.command()
@click.argument("keys", nargs=-1, metavar="[KEY]...")
@click.option("--out", "folder", callback=named_folder, help="Folder for verify.html and .json.")
@click.option("--list", "only_list", is_flag=True, help="Tell which checks there are; run none.")
def verify(keys: tuple[str, ...], folder: Path | None, only_list: bool) -> int:
    """Hold the program against published figures, and say how close it comes.

    All checks, which take under a minute, or those of each KEY. Ends with 1 when one fails.
    """
    from simedge.output.terminal import console
    from simedge.output.verify_table import print_list, print_results
    from simedge.studies.verify.suite import chosen_checks, run_checks

    checks = chosen_checks(keys or None)
    if only_list:
        print_list(checks, console())
        return 0
    if folder is not None:
        from simedge.output.answer_folder import prepare_folder
        from simedge.output.verify_report import VERIFY_FILES

        prepare_folder(folder, files=VERIFY_FILES)
    with _told_progress() as progress:
        results = run_checks([check.key for check in checks], progress)
    out = console()
    print_results(results, out)
    if folder is not None:
        from simedge.output.verify_report import write_report

        report, document = write_report(results, folder)
        out.print()
        out.print(f"report: {report}")
        out.print(f"also in {folder}: {document.name}")
    return 0 if all(result.holds for result in results) else FAILED


@contextmanager
def _told_progress() -> Iterator[Progress | None]:
    """Tell on the terminal which check is running; elsewhere nothing."""
    if not sys.stderr.isatty():
        yield None
        return
    from simedge.output.terminal import console

    with console(stderr=True).status("checking") as status:

        def told(number: int, total: int, check: Check) -> None:
            status.update(f"{number} of {total}: {check.title}")

        yield told
