"""Opening a workbook that comes from anywhere: what it is, and that it is not too large.

Nothing is unpacked to the disk, nothing outside the file is fetched, and no entity is expanded.
"""

import posixpath
import re
import struct
from collections.abc import Iterator
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path
from typing import Any
from zipfile import ZIP_DEFLATED, ZIP_STORED, BadZipFile, ZipFile, ZipInfo
from zlib import error as ZlibError  # noqa: N812 (an exception of the library)

from lxml import etree

from ...errors import FileError
from ..opening import file_bytes

A_WORKBOOK = "a workbook (.xlsx)"
MOST_BYTES = 64 * 2**20  # the file
MOST_UNPACKED = 1024 * 2**20  # all its parts; they are read one at a time
MOST_PART = 256 * 2**20  # one part that is read
MOST_PARTS = 5000
MOST_TIMES_SMALLER = 400  # of a part of more than a megabyte; sheets are seen at up to 100
MOST_HELD = 20_000  # elements of a part that are in memory at a time: a row has 16,384 cells
MOST_ELEMENTS = 2_500_000  # that are looked at in one part: rows and cells, or shared strings

_COMPOUND = bytes.fromhex("d0cf11e0a1b11ae1")  # [MS-CFB]: an encrypted .xlsx, or an old .xls
_DECLARED = re.compile(rb"""^(?:\xef\xbb\xbf)?<\?xml[^>]*?encoding\s*=\s*["']([^"']*)""")
_UTF_16 = (b"\xff\xfe", b"\xfe\xff", b"<\0?\0", b"\0<\0?")
_UTF_32 = (b"\xff\xfe\0\0", b"\0\0\xfe\xff", b"<\0\0\0", b"\0\0\0<")
_DOCTYPES = tuple("<!DOCTYPE".encode(e) for e in ("ascii", "utf-16-le", "utf-16-be"))
_RELATION = "{http://schemas.openxmlformats.org/package/2006/relationships}Relationship"
_KIND = "http://schemas.openxmlformats.org/officeDocument/2006/relationships/"
_STRICT = "http://purl.oclc.org/ooxml/officeDocument/relationships/"


@dataclass(frozen=True)
class Relation:
    """A part that another one points to."""

    id: str
    kind: str  # the last word of its type
    target: str  # the part's name; "" outside the package


class Package:
    """The parts of one file, each read when it is asked for. Names are those of the archive."""

    def __init__(self, path: Path, data: bytes, archive: ZipFile) -> None:
        self.path, self.data, self.archive = path, data, archive

    def names(self) -> list[str]:
        """The names of all parts, in the order of the file."""
        return self.archive.namelist()

    def infos(self) -> list[ZipInfo]:
        """What the archive says of each part."""
        return self.archive.infolist()

    def part(self, name: str) -> bytes:
        """The bytes of a part. Raises FileError when it is missing, damaged or too large."""
        place = f"{self.path.name}: {name}"
        try:
            info = self.archive.getinfo(name)
        except KeyError:
            raise FileError(place, None, f"{A_WORKBOOK} with that part") from None
        if info.file_size > MOST_PART:
            found = f"{info.file_size / 2**20:.0f} MB"
            raise FileError(place, found, f"a part of up to {MOST_PART / 2**20:.0f} MB")
        try:
            return self.archive.read(info)
        except _DAMAGE:
            raise FileError(place, "damaged data", f"{A_WORKBOOK} that is whole") from None

    def tree(self, name: str) -> Any:
        """A part as XML. Raises FileError when it is not."""
        data = self.xml(name)
        try:
            return etree.fromstring(data, parser())
        except etree.XMLSyntaxError:
            raise self.not_xml(name) from None

    def rows_of(self, name: str, *tags: str) -> Iterator[Any]:
        """The elements of those tags in a part, one after another, each forgotten after its turn.

        What stands within another, as cells in a row, is forgotten with it; so many at the most
        are held.
        """
        data, count, held = self.xml(name), 0, 0
        inner = tags[-1].removeprefix("{*}") if len(tags) > 1 else None
        try:
            for _, element in etree.iterparse(
                BytesIO(data),
                tag=tags,
                resolve_entities=False,
                no_network=True,
                load_dtd=False,
                remove_comments=True,
                remove_pis=True,
            ):
                count += 1
                if count > MOST_ELEMENTS:
                    found = f"more than {MOST_ELEMENTS:,} rows and cells"
                    place = f"{self.path.name}: {name}"
                    raise FileError(place, found, "a workbook of the estimator's size")
                yield element
                held += 1
                if held < MOST_HELD and inner is not None and element.tag.endswith(inner):
                    continue
                held = 0
                element.clear()
                while element.getprevious() is not None:
                    del element.getparent()[0]
        except etree.XMLSyntaxError:
            raise self.not_xml(name) from None

    def xml(self, name: str) -> bytes:
        """A part that is XML as a package may hold it: UTF-8 or UTF-16, and no DTD.

        ISO/IEC 29500-2:2021, 6.2.5. Raises FileError for any other.
        """
        data = self.part(name)
        place = f"{self.path.name}: {name}"
        if data.startswith(_UTF_32):
            raise FileError(place, "another encoding", f"{A_WORKBOOK} in UTF-8")
        if not data.startswith(_UTF_16):
            declared = _DECLARED.match(data.lstrip()[:200])
            if declared and declared.group(1).lower() not in (b"utf-8", b"utf8", b"us-ascii"):
                found = declared.group(1).decode("ascii", "replace")
                raise FileError(place, found, f"{A_WORKBOOK} in UTF-8")
        if any(sign in data for sign in _DOCTYPES):
            raise FileError(place, "a DOCTYPE", f"{A_WORKBOOK} without one")
        return data

    def not_xml(self, name: str) -> FileError:
        """What is said of a part that cannot be parsed."""
        return FileError(f"{self.path.name}: {name}", "damaged XML", f"{A_WORKBOOK} that is whole")

    def relations(self, part: str) -> list[Relation]:
        """What a part points to; part "" is the package itself."""
        folder, name = posixpath.split(part)
        rels = posixpath.join(folder, "_rels", f"{name}.rels")
        if rels not in self.archive.NameToInfo:
            return []
        found = []
        for entry in self.tree(rels).iter(_RELATION):
            target = entry.get("Target", "")
            inside = entry.get("TargetMode") != "External"
            joined = posixpath.normpath(posixpath.join("/", folder, target)).lstrip("/")
            kind = entry.get("Type", "").removeprefix(_KIND).removeprefix(_STRICT)
            found.append(Relation(entry.get("Id", ""), kind, joined if inside else ""))
        return found

    def workbook_part(self) -> str:
        """The name of the part that lists the sheets. Raises FileError when there is none."""
        for relation in self.relations(""):
            if relation.kind == "officeDocument" and relation.target in self.archive.NameToInfo:
                return relation.target
        raise FileError(str(self.path), "another kind of document", A_WORKBOOK)


_DAMAGE = (
    BadZipFile, ZlibError, EOFError, NotImplementedError, RuntimeError, OSError, ValueError,
    struct.error, IndexError, OverflowError,
)  # fmt: skip


def parser() -> Any:
    """A parser that fetches nothing, expands nothing and mends nothing."""
    return etree.XMLParser(
        resolve_entities=False, no_network=True, load_dtd=False, huge_tree=False, recover=False
    )


def open_package(path: Path) -> Package:
    """The package in a file, read into memory whole.

    Raises FileError, in one sentence, for a file that is missing, encrypted, cut short, no
    workbook, or that would unpack to more than MOST_UNPACKED.
    """
    return package_of(path, file_bytes(path, A_WORKBOOK, MOST_BYTES))


def package_of(path: Path, data: bytes, kind: str = A_WORKBOOK) -> Package:
    """The package in those bytes; path and kind are only said in sentences.

    Raises as open_package.
    """
    if data.startswith(_COMPOUND):
        raise FileError(str(path), "an encrypted or older file", f"{kind} saved without a password")
    try:
        archive = ZipFile(BytesIO(data))
    except _DAMAGE:
        found = "a file cut short" if data.startswith(b"PK") else "another kind of file"
        raise FileError(str(path), found if data else None, kind) from None
    _refuse_bombs(path, archive, kind)
    return Package(path, data, archive)


def _refuse_bombs(path: Path, archive: ZipFile, kind: str) -> None:
    infos = archive.infolist()
    names = [i.filename.lower() for i in infos]  # equal whatever their case (29500-2, 6.2.2.3)
    if len(infos) > MOST_PARTS:
        raise FileError(str(path), f"{len(infos)} parts", f"{kind} of up to {MOST_PARTS}")
    if len(set(names)) != len(names):
        raise FileError(str(path), "two parts of one name", kind)
    unpacked = sum(i.file_size for i in infos)
    if unpacked > MOST_UNPACKED:
        found = f"{unpacked / 2**20:.0f} MB when unpacked"
        raise FileError(str(path), found, f"up to {MOST_UNPACKED / 2**20:.0f} MB")
    for info in infos:
        if info.flag_bits & 1:
            raise FileError(str(path), "an encrypted part", f"{kind} without a password")
        if info.compress_type not in (ZIP_STORED, ZIP_DEFLATED):  # 29500-2, annex B: no other
            found = f"a part packed in another way ({info.compress_type})"
            raise FileError(f"{path}: {info.filename}", found, kind)
        if info.file_size > MOST_TIMES_SMALLER * max(info.compress_size, 2**20 // 100):
            found = f"a part that unpacks to {info.file_size / 2**20:.0f} MB"
            raise FileError(f"{path}: {info.filename}", found, kind)
