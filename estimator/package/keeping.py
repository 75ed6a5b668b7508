"""Putting a new file where an old one stands: the old or the new is there at any moment."""

import os
import tempfile
from pathlib import Path

from ..errors import FileError

WRITTEN: list[Path] = []  # every file put in its place, for a sentence that has to say so


def refuse_open_elsewhere(path: Path) -> None:
    """Raises FileError when a spreadsheet program has the file open, by the mark it leaves beside."""
    for mark in (f".~lock.{path.name}#", f"~${path.name}"):
        if path.with_name(mark).exists():
            raise FileError(
                str(path), "a file that is open elsewhere", f"a closed file (or delete {mark})"
            )


def free_name(path: Path) -> Path:
    """That path, or the first with a number after it that is free."""
    found, n = path, 1
    while found.exists():
        n += 1
        found = path.with_name(f"{path.stem} {n}{path.suffix}")
    return found


def write_whole(path: Path, data: bytes) -> None:
    """Write a file whole or not at all. Raises FileError when it cannot be written."""
    try:
        handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.", suffix=".part")
        try:
            with os.fdopen(handle, "wb") as stream:
                stream.write(data)
                stream.flush()
                os.fsync(stream.fileno())
            os.chmod(name, _mode(path))
            os.replace(name, path)
            WRITTEN.append(path)
        except BaseException:
            Path(name).unlink(missing_ok=True)
            raise
    except OSError as error:
        raise FileError(str(path), error.strerror, "a place that can be written to") from None


def replace_keeping(path: Path, data: bytes, kept: Path, was: bytes) -> Path:
    """Write a file in the place of an old one, which is kept under another name; that name.

    `was` is the old file as it was read. Raises FileError when another stands there by now.
    """
    refuse_open_elsewhere(path)
    if path.read_bytes() != was:
        raise FileError(str(path), "a file that was saved meanwhile", "the same once more, from it")
    kept = free_name(kept)
    write_whole(kept, was)
    write_whole(path, data)
    return kept


def _mode(path: Path) -> int:
    if path.exists():
        return path.stat().st_mode & 0o777
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask
