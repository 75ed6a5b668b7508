"""The package as it is written: what each sheet prints stands before the rows it repeats."""

from typing import Any
from zipfile import ZipFile

from openpyxl.xml.constants import ARC_WORKBOOK
from openpyxl.xml.functions import fromstring, tostring

_REPEATED = "_xlnm.Print_Titles"


class Archive(ZipFile):
    """A package whose names are put in order while it is written.

    openpyxl names the rows and columns a sheet repeats before its print area. LibreOffice lays out
    the pages of a sheet when it meets the first, all of it where no area is known yet: a job's
    workbook takes it three times as long to open.
    """

    def writestr(self, zinfo_or_arcname: Any, data: Any, *more: Any, **others: Any) -> None:
        """As ZipFile does, but for the part that holds the names."""
        whole = _areas_first(data) if zinfo_or_arcname == ARC_WORKBOOK else data
        super().writestr(zinfo_or_arcname, whole, *more, **others)


def _areas_first(part: bytes) -> bytes:
    """The part with the names of what is repeated moved to the end of its names."""
    tree = fromstring(part)
    for names in tree.iterfind("{*}definedNames"):
        names[:] = sorted(names, key=lambda name: name.get("name") == _REPEATED)
    return bytes(tostring(tree))
