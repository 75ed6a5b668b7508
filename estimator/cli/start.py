"""Where the program starts. A page of help, or the version, is shown without loading anything.

The pages stand ready in `help/`, as the command line itself would print them (a test compares
them); `python -m estimator.reference docs` writes them again. All else is the command line's.
"""

import os
import sys

from .. import __version__

HELP = os.path.join(os.path.dirname(__file__), "help")
WIDTH = 80  # of the kept pages; on a narrower terminal they are made anew
WHOLE = "estimator"  # the page of the program itself; others have their command's name


def kept_page(words: list[str]) -> str | None:
    """The text for these words of a command line, where it stands ready."""
    if words == ["--version"]:
        return f"estimator, version {__version__}\n"
    if words == ["--help"] or (len(words) == 2 and words[1] == "--help" and words[0].isalpha()):
        name = words[0] if len(words) == 2 else WHOLE
        path = os.path.join(HELP, f"{name}.txt")
        if os.path.isfile(path) and not (len(words) == 2 and name == WHOLE):
            with open(path, encoding="ascii") as page:
                return page.read()
    return None


def main() -> None:
    """The program: a kept page, or else the command line."""
    page = kept_page(sys.argv[1:]) if _is_wide() else None
    if page is not None:
        sys.stdout.write(page)
        return
    from gc import freeze, set_threshold

    from .main import main as command_line

    # A workbook is hundreds of thousands of small things that stay: looking through them for what
    # could be thrown away took a fifth of a command's time. At the end nothing need be looked for.
    set_threshold(1_000_000, 20, 20)
    try:
        command_line(prog_name="estimator")
    finally:
        freeze()


def _is_wide() -> bool:
    if "COLUMNS" in os.environ:
        return False
    try:
        return os.get_terminal_size(sys.stdout.fileno()).columns >= WIDTH
    except (OSError, ValueError, AttributeError):
        return True  # no terminal, or one that does not say how wide it is


if __name__ == "__main__":
    main()
