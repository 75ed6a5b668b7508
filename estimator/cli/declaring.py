"""How a command is declared: its words here at once, its work imported when it runs."""

from collections.abc import Callable
from importlib import import_module
from pathlib import Path
from typing import Any

import click

from .. import __version__


@click.group()
@click.version_option(__version__, prog_name="estimator")
def main() -> None:
    """Damp-proofing materials: taken off, checked and priced in a live workbook."""


# Where the work of each command is: a module of this room, and a function of it that takes
# everything that was given by name.
WORK: dict[str, tuple[str, str]] = {}


def command(module: str) -> Callable[[Callable[..., None]], click.Command]:
    """A command whose work is the function of its own name in that module."""

    def declared(words: Callable[..., None]) -> click.Command:
        name = words.__name__
        WORK[name] = (module, name)

        def run(house: Path | None = None, **given: Any) -> None:
            from .manners import in_one_sentence

            def work() -> None:
                done: Callable[..., None] = getattr(import_module(f".{module}", __package__), name)
                if house is None:
                    done(**given)
                    return
                from ..guidance.house import from_folder

                with from_folder(house):
                    done(**given)

            in_one_sentence(work)()

        run.__doc__ = words.__doc__
        if hasattr(words, "__click_params__"):
            run.__click_params__ = words.__click_params__  # type: ignore[attr-defined]
        return main.command(name)(run)

    return declared
