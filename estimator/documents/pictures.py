"""A template's pictures without what cameras and drawing programs write into them."""

from io import BytesIO
from typing import Any

from openpyxl.worksheet.worksheet import Worksheet
from PIL import Image


def without_notes(sheet: Worksheet) -> None:
    """Keep the points of each picture and nothing else: no author, place, program or folder."""
    for picture in sheet._images:
        picture.ref, picture.format = _bare(picture._data()), "png"


def _bare(data: bytes) -> BytesIO:
    with Image.open(BytesIO(data)) as found:
        # Colours of a palette, and of its transparent one, are not in the points: made plain.
        plain: Any = found.convert("RGBA")
    bare = Image.new("RGBA", plain.size)
    bare.paste(plain)
    stream = BytesIO()
    bare.save(stream, format="PNG")
    stream.seek(0)
    return stream
