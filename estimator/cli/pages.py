"""Pages: the documentation, printed as plain text (the command help); those of --help, kept."""

import sys
from shutil import get_terminal_size

import click

from ..errors import FileError
from ..files.resources import pages
from .main import main
from .plain_page import as_plain, heading
from .start import WHOLE, WIDTH, kept_page

_WIDEST = 100  # characters of a line that is still read with ease


def help(topic: str | None) -> None:
    """Print a page of the documentation, or without a topic the list of pages."""
    found = pages()
    if topic is None:
        click.echo(_listed({name: path.read_text("utf-8") for name, path in found.items()}))
        return
    name = topic.lower().removeprefix("docs/").removesuffix(".md")
    of_command = kept_page([name, "--help"])
    if name in found:
        width = min(get_terminal_size().columns, _WIDEST)
        said = as_plain(found[name].read_text("utf-8"), width)
        if of_command is not None:
            said += f"\nIts options: estimator {name} --help\n"
    elif of_command is not None:
        said = of_command
    else:
        raise FileError("help", topic, "a page or a command: " + ", ".join(found))
    if sys.stdout.isatty():
        click.echo_via_pager(said)
    else:
        click.echo(said, nl=False)


def _listed(texts: dict[str, str]) -> str:
    width = max(map(len, texts))
    lines = [f"  {name:<{width}}  {heading(text)}" for name, text in texts.items()]
    return "\n".join(
        ["Pages, printed by `estimator help NAME`:", *lines, "Options: `estimator COMMAND --help`."]
    )


def help_pages() -> dict[str, str]:
    """The page of help of the program and of each command, as printed 80 columns wide."""
    whole = click.Context(main, info_name=WHOLE, terminal_width=WIDTH - 2)
    pages = {WHOLE: whole}
    for name, command in main.commands.items():
        pages[name] = click.Context(command, parent=whole, info_name=name)
    return {name: context.get_help() + "\n" for name, context in pages.items()}
