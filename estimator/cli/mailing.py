"""What commands that write e-mail share: whose it is, sending it, and saying what became of it."""

import os
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import NamedTuple

import click

from ..errors import MailError
from ..mail.sending import send
from ..mail.settings import ENVIRONMENT, Settings, read_settings
from ..model.beginning import FIRST_SUPPLIER
from .manners import warn


class Message(NamedTuple):
    """A message, the file it stands in, and the addresses it is for."""

    name: str
    content: bytes
    to: Sequence[str]


def mail_settings(file: Path | None, wanted: bool) -> Settings | None:
    """The settings where mail is to be sent, or where a file of them is named."""
    return read_settings(file, os.environ) if wanted or file is not None else None


def own_address(sender: str | None, settings: Settings | None) -> str | None:
    """Your own address: as given, else that of the settings, else that of the environment."""
    return sender or (settings.sender if settings else os.environ.get(ENVIRONMENT["from"]) or None)


def send_all(messages: Sequence[Message], settings: Settings, dry_run: bool) -> None:
    """Send one message after another, each with its account; the first that fails ends it.

    Raises MailError as send does; how many were sent before is printed.
    """
    for message in messages:
        if not message.to:
            raise MailError(
                message.name, None, "an e-mail address to send it to", "nothing was sent to anyone"
            )
    for n, message in enumerate(messages):
        click.echo(f"\n{message.name}")
        try:
            account = send(message.content, settings, message.to, dry_run, _say)
        except MailError:
            if len(messages) > 1 and not dry_run:
                rest = ", ".join(m.name for m in messages[n + 1 :]) or "none"
                click.echo(
                    f"{n} of {len(messages)} messages were sent before this one. "
                    f"Not tried after it: {rest}.",
                    err=True,
                )
            raise
        for line in account.lines:
            click.echo(f"  {line}")


def _say(text: str) -> None:
    click.echo(f"  {text}", err=True)


def warn_of_name(suppliers: Iterable[str]) -> None:
    """Say when what is sent is addressed by the name with which a new job begins."""
    if FIRST_SUPPLIER in suppliers:
        warn(
            f'"{FIRST_SUPPLIER}" is the name with which a new job begins, and what is sent is '
            "addressed to it. Type the supplier's own name in the list of suppliers."
        )
