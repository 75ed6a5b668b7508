"""A saved workbook with what other programs put beside our cells, written by hand as XML.

It imitates what such programs write (ISO/IEC 29500-1; threaded comments by [MS-XLSX] 2.1.42 and
2.6.205; sparklines by 2.3.4.1); no such program was run.
"""

import re

from .raw_package import Parts, at, demo, part_of, parts_of, with_text

OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
_PIXEL = bytes.fromhex(
    "89504e470d0a1a0a0000000d4948445200000001000000010802000000907753de0000000c4944415408d763f8"
    "cfc000000301010018dd8db00000000049454e44ae426082"
)
_SHAPES = f"""<xdr:wsDr xmlns:xdr="http://schemas.openxmlformats.org/drawingml/2006/spreadsheetDrawing"
 xmlns:a="http://schemas.openxmlformats.org/drawingml/2006/main" xmlns:r="{OFFICE}">
<xdr:oneCellAnchor><xdr:from><xdr:col>1</xdr:col><xdr:colOff>0</xdr:colOff><xdr:row>3</xdr:row>
<xdr:rowOff>0</xdr:rowOff></xdr:from><xdr:ext cx="900000" cy="300000"/><xdr:sp macro="" textlink="">
<xdr:nvSpPr><xdr:cNvPr id="2" name="Box"/><xdr:cNvSpPr txBox="1"/></xdr:nvSpPr><xdr:spPr>
<a:prstGeom prst="rect"><a:avLst/></a:prstGeom></xdr:spPr><xdr:txBody><a:bodyPr/><a:p><a:r><a:t>A text
box</a:t></a:r></a:p></xdr:txBody></xdr:sp><xdr:clientData/></xdr:oneCellAnchor></xdr:wsDr>"""
PLANTS: Parts = {
    "xl/drawings/drawing90.xml": _SHAPES.encode(),
    "xl/media/image90.png": _PIXEL,
    "xl/charts/chart90.xml": b'<c:chartSpace xmlns:c="http://schemas.openxmlformats.org/drawingml/2006/'
    b'chart"><c:chart><c:plotArea/></c:chart></c:chartSpace>',
    "xl/threadedComments/threadedComment90.xml": b"<ThreadedComments xmlns='http://schemas.microsoft."
    b"com/office/spreadsheetml/2018/threadedcomments'><threadedComment ref='A1' personId='{1}' "
    b"id='{2}'><text>Ask the client</text></threadedComment></ThreadedComments>",
    "xl/persons/person.xml": b"<personList xmlns='http://schemas.microsoft.com/office/spreadsheetml/"
    b"2018/threadedcomments'><person displayName='Invented' id='{1}'/></personList>",
    "xl/comments90.xml": b"<comments xmlns='http://schemas.openxmlformats.org/spreadsheetml/2006/main'>"
    b"<authors><author>Invented</author></authors><commentList/></comments>",
    "customXml/item90.xml": b"<own>data</own>",
    "xl/pivotCache/pivotCacheDefinition90.xml": b"<unknown/>",
    "xl/vbaProject.bin": bytes(range(256)) * 8,
    "xl/worksheets/mine.xml": b"<worksheet xmlns='http://schemas.openxmlformats.org/spreadsheetml/2006/"
    b"main'><sheetData><row r='1'><c r='A1'><v>1</v></c><c r='B1'><f t='shared' ref='B1:B2' si='0'>A1*2"
    b"</f><v>2</v></c></row><row r='2'><c r='A2'><v>2</v></c><c r='B2'><f t='shared' si='0'/><v>4</v>"
    b"</c></row></sheetData></worksheet>",
}  # fmt: skip
SPARKLINES = (
    '<extLst><ext uri="{05C60535-1F16-4fd2-B633-F4F36F0B64E0}" '
    'xmlns:x14="http://schemas.microsoft.com/office/spreadsheetml/2009/9/main"><x14:sparklineGroups '
    'xmlns:xm="http://schemas.microsoft.com/office/excel/2006/main"><x14:sparklineGroup>'
    "<x14:sparklines><x14:sparkline><xm:f>Walls!H21:H26</xm:f><xm:sqref>CB6</xm:sqref>"
    "</x14:sparkline></x14:sparklines></x14:sparklineGroup></x14:sparklineGroups></ext></extLst>"
)
_CHAIN = b"<calcChain xmlns='http://schemas.openxmlformats.org/spreadsheetml/2006/main'><c r='A6' i='1'/></calcChain>"


def planted(column: str = "trays") -> Parts:
    """The demo with all of it; that column of the openings is one shared formula from its top.

    A sparkline stands beside what is typed, and one beside what is worked out.
    """
    parts = {**parts_of(demo()[1]), **PLANTS, "xl/calcChain.xml": _CHAIN}
    span = demo()[0].layout.stands("openings", column)
    name, front = part_of(parts, span.sheet), part_of(parts, "Walls")
    letter = at("openings", 1, column)[1].rstrip("0123456789")
    text = parts[name].decode()
    for row in range(span.first, span.last + 1):
        cell = re.compile(rf'(<c r="{letter}{row}"[^>]*>)<f>([^<]*)</f>')
        own = cell.search(text)
        assert own is not None
        area = f' ref="{letter}{span.first}:{letter}{span.last}"' if row == span.first else ""
        inside = own.group(2) if row == span.first else ""
        text = cell.sub(
            lambda m, a=area, i=inside: f'{m.group(1)}<f t="shared" si="7"{a}>{i}</f>',
            text,
            count=1,
        )
    parts[name] = text.encode()
    for part in (name, front):
        parts = with_text(parts, part, "</worksheet>", SPARKLINES + "</worksheet>")
    parts = with_text(
        parts, "xl/_rels/workbook.xml.rels", "</Relationships>",
        f'<Relationship Id="mine" Target="worksheets/mine.xml" Type="{OFFICE}/worksheet"/>'
        f'<Relationship Id="chain" Target="calcChain.xml" Type="{OFFICE}/calcChain"/></Relationships>',
    )  # fmt: skip
    parts = with_text(
        parts, "xl/workbook.xml", "</sheets>",
        f'<sheet xmlns:r="{OFFICE}" name="Mine" sheetId="9999" r:id="mine"/></sheets>',
    )  # fmt: skip
    kinds = "application/vnd.openxmlformats-officedocument.spreadsheetml."
    return with_text(
        parts, "[Content_Types].xml", "</Types>",
        f'<Override PartName="/xl/worksheets/mine.xml" ContentType="{kinds}worksheet+xml"/>'
        f'<Override PartName="/xl/calcChain.xml" ContentType="{kinds}calcChain+xml"/></Types>',
    )  # fmt: skip
