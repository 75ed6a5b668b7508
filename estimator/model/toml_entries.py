"""Entries of a small TOML file that an office keeps: each one that cannot be used is one sentence."""

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from ..errors import FileError
from ..files.opening import file_text, toml_in
from .spelling import as_listed


def entries_of(path: Path, page: str) -> dict[str, Any]:
    """What a TOML file holds; `page` shows how it is written. Raises FileError for any other."""
    try:
        return toml_in(file_text(path))
    except ValueError as error:
        if isinstance(error, FileError):
            raise
        raise FileError(path.name, str(error), f"TOML, as {page} shows") from None


def only(given: Mapping[str, Any], accepted: Sequence[str], place: str) -> None:
    """Refuse an entry of any other name. Raises FileError."""
    for key in given:
        if key not in accepted:
            raise FileError(place, key, "one of " + ", ".join(accepted))


def section(given: Mapping[str, Any], key: str, place: str) -> dict[str, Any]:
    """The section of that name; an empty one where there is none. Raises FileError."""
    found = given.get(key, {})
    if not isinstance(found, dict):
        raise FileError(f"{place}: {key}", found, f"a section [{key}]")
    return found


def one_of(value: Any, accepted: Sequence[str], where: str) -> str:
    """The value as it is listed, in capitals or not. Raises FileError for any other."""
    found = as_listed(value, accepted)
    if found not in accepted:
        raise FileError(where, value, "one of " + ", ".join(accepted))
    return str(found)
