"""A firm's own figures: basis files in a folder that it names, never part of the package.

The form is that of the package's own files, but for `[document]`, which says the firm, a title and
a date; and a key that is left out is not stated, so that common practice is assumed and said. A
house figure is printed as one, in the firm's words, never as published guidance.
"""

import re
from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from datetime import date
from pathlib import Path
from typing import Any

from ..errors import BasisError, FileError
from .basis import (
    KEYS,
    Basis,
    Document,
    Strict,
    Value,
    checked_table,
    entries_of,
    shipped_bases,
    value_of,
)

OPTION = "--bases"
MOST = 3  # files in a folder: as many columns of the allowances are kept for them
LONGEST = 300  # characters of a text that is printed
HOUSE = "house figure"
_NAME = re.compile(r"[a-z][a-z0-9_]{0,39}")
_UNANSWERED = {
    "value": "not stated",
    "source": "not answered",
    "says": "The firm's file leaves it out.",
}
_GIVEN: ContextVar[tuple[Basis, ...]] = ContextVar("house bases", default=())


class HouseDocument(Strict):
    """Whose figures they are, what the firm calls them, and of which day."""

    firm: str
    title: str
    date: str | date


def given() -> tuple[Basis, ...]:
    """The firm's bases of the folder in use; none outside `from_folder`."""
    return _GIVEN.get()


@contextmanager
def given_too(found: tuple[Basis, ...]) -> Iterator[None]:
    """While it lasts, a job may choose these bases too, where the folder in use has none."""
    token = _GIVEN.set(_GIVEN.get() or found)
    try:
        yield
    finally:
        _GIVEN.reset(token)


@contextmanager
def from_folder(folder: Path | None) -> Iterator[None]:
    """While it lasts, every job that is read may choose a basis of that folder; None: of none.

    Raises as house_bases, before anything is read.
    """
    token = _GIVEN.set(() if folder is None else house_bases(folder))
    try:
        yield
    finally:
        _GIVEN.reset(token)


def house_bases(folder: Path) -> tuple[Basis, ...]:
    """Every basis file of the folder, by name. Raises BasisError or FileError: one sentence, and
    then none of them is used.
    """
    if not folder.is_dir():
        found = "a file" if folder.exists() else None
        raise FileError(f"{OPTION} {folder}", found, "a folder of basis files (.toml)")
    files = sorted(p for p in folder.iterdir() if p.suffix.lower() == ".toml" and p.is_file())
    if not 1 <= len(files) <= MOST:
        found = f"{len(files)} files ending in .toml"
        raise FileError(f"{OPTION} {folder}", found, f"1 to {MOST} of them")
    taken = {b.name for b in shipped_bases()}
    for path in files:
        if not _NAME.fullmatch(path.stem):
            accepted = "a name of small letters, digits and _, beginning with a letter, 40 at most"
            raise BasisError(f"{OPTION} {folder}", path.name, accepted)
        if path.stem in taken:
            accepted = "a name that no guidance of the program has"
            raise BasisError(f"{OPTION} {folder}", path.name, accepted)
    return tuple(_house_basis(path) for path in files)


def _house_basis(path: Path) -> Basis:
    entries = entries_of(path, whole=False)
    said = checked_table(HouseDocument, entries.get("document"), f"{path.name}: document")
    firm, title = (
        _printed(getattr(said, f), f"{path.name}: document.{f}") for f in ("firm", "title")
    )
    day = _printed(str(said.date), f"{path.name}: document.date")
    document = Document(
        title=f"House figures of {firm}: {title}, {day}",
        nation="none",
        binds=f"Nobody: house figures of {firm}, not published guidance.",
        regulatory=False,
        name=f"house figures of {firm}",
        edition=day,
        firm=firm,
    )
    values: dict[str, Value] = {}
    for key in KEYS:
        entry: Any = entries.get(key.name, _UNANSWERED)
        if isinstance(entry, dict):
            entry = {"source": title, "standing": HOUSE, **entry}
        value = value_of(key, entry, path)
        for field in ("says", "source", "document", "edition"):
            if getattr(value, field):
                _printed(getattr(value, field), f"{path.name}: {key.name}.{field}")
        values[key.name] = value.model_copy(update={"standing": HOUSE})
    return Basis(path.stem, document, values)


def _printed(text: str, where: str) -> str:
    """A text that can be printed in one line of a sheet."""
    if not text.strip() or not text.isprintable() or len(text) > LONGEST:
        raise BasisError(where, text, f"a text of one line, {LONGEST} characters at most")
    return text.strip()
