"""Putting a new file where an old one stands: the old or the new is there at any moment."""

import contextlib
import os
import tempfile
from collections.abc import Iterator
from pathlib import Path

from ..errors import FileError

PRIVATE = 0o600
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
    while os.path.lexists(found):
        n += 1
        found = path.with_name(f"{path.stem} {n}{path.suffix}")
    return found


@contextlib.contextmanager
def locked(path: Path) -> Iterator[None]:
    """Nobody else of this program writes that file meanwhile; what a killed writer left is swept.

    The lock goes with the process that holds it, however it ends. Raises FileError when another
    holds it.
    """
    target = real(path)
    lock = target.with_name(f".{target.name}.lock")
    handle = _taken(lock, target)
    try:
        for folder in {target.parent, path.parent}:
            for part in folder.glob(f"{_part(target).translate(_PLAIN)}*.part"):
                part.unlink(missing_ok=True)
        yield
    finally:
        with contextlib.suppress(OSError):  # one system does not take away what is open
            lock.unlink()
        os.close(handle)


def _taken(lock: Path, path: Path) -> int:
    try:
        while True:
            handle = os.open(lock, os.O_CREAT | os.O_RDWR, PRIVATE)
            try:
                _hold(handle)
                if os.path.exists(lock) and os.path.samestat(os.fstat(handle), os.stat(lock)):
                    return handle
            except BlockingIOError:
                os.close(handle)
                found = "a file that is being written by another command"
                raise FileError(str(path), found, "the same once more, when that ends") from None
            os.close(handle)  # its holder took it away meanwhile: again, with a new one
    except OSError as error:
        raise FileError(
            str(path.parent), error.strerror, "a folder that can be written to"
        ) from None


def _hold(handle: int) -> None:
    """Lock an open file for as long as it is open. Raises BlockingIOError when somebody holds it."""
    try:
        import fcntl
    except ImportError:  # another system's way, which has not been run
        import msvcrt

        try:
            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)  # type: ignore[attr-defined,unused-ignore]
        except OSError:
            raise BlockingIOError from None
        return
    fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)


def write_whole(
    path: Path,
    data: bytes,
    mode: int | None = None,
    new: bool = False,
    beside: Path | None = None,
) -> None:
    """Write a file whole or not at all; where a link stands, the file that it names.

    With `new` a file that has come to stand there meanwhile is kept. What a killed writer leaves
    bears the name of the file `beside`, whose lock then sweeps it. Raises FileError when the file
    cannot be written.
    """
    target = real(path)
    prefix = _part(target if beside is None else real(beside))
    try:
        handle, name = tempfile.mkstemp(dir=target.parent, prefix=prefix, suffix=".part")
        try:
            with os.fdopen(handle, "wb") as stream:
                stream.write(data)
                stream.flush()
                os.fsync(stream.fileno())
            os.chmod(name, mode_of(target) if mode is None else mode)
            if new:
                place_new(Path(name), target)
            else:
                os.replace(name, target)
            WRITTEN.append(path)
        finally:
            Path(name).unlink(missing_ok=True)
    except OSError as error:
        raise FileError(str(path), error.strerror, "a place that can be written to") from None


def place_new(written: Path, path: Path) -> None:
    """Give a file its place; unlike a move, it never takes that of another. Raises FileError."""
    try:
        os.link(written, path)
    except FileExistsError:
        raise FileError(str(path), "a file of that name", "another name") from None
    except OSError:  # a file system without links
        if os.path.lexists(path):
            raise FileError(str(path), "a file of that name", "another name") from None
        written.rename(path)


def replace_keeping(path: Path, data: bytes, kept: Path, was: bytes) -> Path:
    """Write a file in the place of an old one, which is kept under another name; that name.

    `was` is the old file as it was read. Raises FileError when another stands there by now, or
    while another command writes it.
    """
    with locked(path):
        return replace_locked(path, data, kept, was)


def replace_locked(path: Path, data: bytes, kept: Path, was: bytes) -> Path:
    """As replace_keeping, by who holds the lock."""
    refuse_open_elsewhere(path)
    if path.read_bytes() != was:
        raise FileError(str(path), "a file that was saved meanwhile", "the same once more, from it")
    kept = free_name(kept)
    write_whole(kept, was, mode_of(real(path)), new=True, beside=path)
    write_whole(path, data)
    return kept


def real(path: Path) -> Path:
    """The file that a link names in the end; any other path as it is."""
    return Path(os.path.realpath(path)) if path.is_symlink() else path


def mode_of(path: Path) -> int:
    """Who may read and write a file that is there, or that comes to be."""
    if path.exists():
        return path.stat().st_mode & 0o777
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask


_PLAIN = str.maketrans({c: f"[{c}]" for c in "[*?"})  # as they are, in a pattern of names


def _part(path: Path) -> str:
    return f".{path.name}."
