"""``simedge media``: what can be cut."""

from __future__ import annotations

import click


@click.command()
def media() -> None:
    """List what simedge can cut, with how hard each presses, and where that comes from."""
    from simedge.output.library_tables import print_media
    from simedge.output.terminal import console

    print_media(console())
