"""Progress of long work, on a terminal and nowhere else."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager


@contextmanager
def shown_progress(what: str) -> Iterator[Callable[[int, int], None]]:
    """Show how far work has got, and remove it when the work is done.

    Yields
    ------
    callable
        To be told how much is done, and of how much.
    """
    if not sys.stderr.isatty():
        yield lambda _done, _total: None
        return
    from rich.progress import Progress

    from simedge.output.terminal import console

    with Progress(console=console(stderr=True), transient=True) as bar:
        task = bar.add_task(what, total=None)
        yield lambda done, total: bar.update(task, completed=done, total=total)
