"""The interface that Calc sees: one method for each function, and two companions.

Every argument is rows of anything, a single cell one row: Calc takes an argument that is anything
at all for one that may be left out, and none of ours may. What DAMP_WHY was given may.

It is made from the register as a type library, the binary form that LibreOffice reads. Of a small
interface a test compares it byte by byte with what the development kit's `unoidl-write` made.
"""

import struct
from dataclasses import dataclass

from ...functions import FUNCTIONS
from ...functions.arguments import Argument

MODULES, INTERFACE = ("damp", "calc"), "XDamp"
ROWS, ANY, MANY, TEXT = "[][]any", "any", "[]any", "string"
WHY, INSTALLED = "WHY", "INSTALLED"
_BASE = "com.sun.star.uno.XInterface"
_MAGIC = b"UNOIDL\xff\0"
_INTERFACE_KIND, _MODULE_KIND, _IN = 5, 0, 0
_AGAIN = 0x80000000  # in place of a length: the address of a text that was written before


@dataclass(frozen=True)
class Method:
    """One method: its name, what it returns, its arguments and their types."""

    name: str
    returns: str
    arguments: tuple[tuple[str, str], ...]


def argument_name(argument: Argument) -> str:
    """An argument's name as IDL allows it: no underscores in a name in small letters."""
    first, *rest = argument.name.split("_")
    return first + "".join(word.capitalize() for word in rest)


def methods() -> tuple[Method, ...]:
    """Every method, the companions last."""
    return (
        *(
            # A text that comes in rows is equal to no other text in Calc, so these give no columns.
            Method(
                f.method,
                ANY if f.unit.text else ROWS,
                tuple((argument_name(a), ROWS) for a in f.arguments),
            )
            for f in FUNCTIONS.values()
        ),
        Method(WHY, ROWS, (("functionName", ROWS), ("given", MANY))),
        Method(INSTALLED, TEXT, ()),
    )


def type_library(maker: str = "estimator") -> bytes:
    """The interface as a type library.

    Little-endian: a magic word, the address and size of the topmost map, then names, and what
    they stand for, each written before what refers to it. Layout as read by LibreOffice
    (unoidl/source/unoidlprovider.cxx).
    """
    written = _Writer()
    written.bytes(_MAGIC + bytes(8))
    written.bytes(b"\0" + f"** Created by {maker} **".encode("ascii") + b"\0")
    address = written.at
    written.interface()
    for name in (INTERFACE, *reversed(MODULES)):
        name_at = written.at
        written.bytes(name.encode("ascii") + b"\0")
        entry = struct.pack("<II", name_at, address)
        address = written.at
        if name != MODULES[0]:
            written.bytes(struct.pack("<BI", _MODULE_KIND, 1) + entry)
        else:
            written.bytes(entry)
    found = bytes(written.done)
    return found[:8] + struct.pack("<II", address, 1) + found[16:]


class _Writer:
    def __init__(self) -> None:
        self.done = bytearray()
        self.seen: dict[str, int] = {}

    @property
    def at(self) -> int:
        return len(self.done)

    def bytes(self, data: bytes) -> None:
        self.done += data

    def count(self, number: int) -> None:
        self.bytes(struct.pack("<I", number))

    def text(self, text: str) -> None:
        """A text with its length; where it was written before, its address instead."""
        if text in self.seen:
            self.count(_AGAIN | self.seen[text])
            return
        self.seen[text] = self.at
        self.count(len(text))
        self.bytes(text.encode("ascii"))

    def interface(self) -> None:
        self.bytes(bytes([_INTERFACE_KIND]))
        self.count(1)  # bases that must be there
        self.text(_BASE)
        self.count(0)  # bases that may be there
        self.count(0)  # attributes
        found = methods()
        self.count(len(found))
        for method in found:
            self.text(method.name)
            self.text(method.returns)
            self.count(len(method.arguments))
            for name, kind in method.arguments:
                self.bytes(bytes([_IN]))
                self.text(name)
                self.text(kind)
            self.count(0)  # exceptions
