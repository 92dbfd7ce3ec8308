"""What is said of the pictures that went along with a copy of the record."""

from __future__ import annotations

import click

from stillroom.records.pictures import CopiedPictures

SHOWN = 20


def print_pictures(copied: CopiedPictures) -> None:
    """Say how many pictures were copied, and which were not."""
    if copied.number:
        pictures = "picture" if copied.number == 1 else "pictures"
        click.echo(f"  {copied.number:,} {pictures} of lots copied too.")
    for fault in copied.faults[:SHOWN]:
        click.echo(f"  NOT copied: {fault}.", err=True)
    if len(copied.faults) > SHOWN:
        click.echo(f"  and {len(copied.faults) - SHOWN} more", err=True)
