"""The command that opens the page."""

from __future__ import annotations

from pathlib import Path

import click

from labeler.types import LabelerError

__all__ = ["page"]


@click.command()
@click.argument("folder", required=False, default=".", metavar="[FOLDER]")
@click.option("--port", type=click.IntRange(0, 65535), default=0, help="Port of the address; else a free one.")
@click.option("--no-browser", is_flag=True, help="Print the address and open nothing.")
@click.option("--demo", is_flag=True, help="Make the folder with three recipes to look around in.")
def page(folder: str, port: int, no_browser: bool, demo: bool) -> None:
    """Open the recipes of a folder in the browser, on this machine alone."""
    from labeler.page.start import serve

    place = Path(folder)
    if demo:
        from labeler.page.demo import make_demo

        make_demo(place)
    if not place.exists():
        raise LabelerError(f"{folder}: there is no such folder; make it, or add --demo to have it made with recipes")
    if not place.is_dir():
        raise LabelerError(f"{folder}: is no folder; give the folder that holds the recipes")
    serve(place, port=port, browser=not no_browser, say=click.echo)
