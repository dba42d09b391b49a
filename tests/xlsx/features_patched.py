"""Makes workbooks with one feature each that no library here writes: the parts are put in by hand."""

from pathlib import Path

from tests.xlsx.clubs import HEADINGS, club, locomotives
from tests.xlsx.packages import before, declared, patch, related, relationships, replaced

_OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
_MICROSOFT = "http://schemas.microsoft.com/office"
_MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
_X14 = f"{_MICROSOFT}/spreadsheetml/2009/9/main"
_SHEET = "xl/worksheets/sheet1.xml"
_SHEET_LINKS = "xl/worksheets/_rels/sheet1.xml.rels"
_BOOK = "xl/workbook.xml"
_BOOK_LINKS = "xl/_rels/workbook.xml.rels"
_TYPES = "[Content_Types].xml"
_KIND = "application/vnd.openxmlformats-officedocument.spreadsheetml."
_DECLARATION = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'
_LIST = f'<extLst xmlns:x14="{_X14}" xmlns:xm="{_MICROSOFT}/excel/2006/main">'


def threaded_comments(path: Path) -> None:
    book = club(path)
    locomotives(book).write_comment(
        "C2", "[Threaded comment] an older program sees only this", {"author": "M01"}
    )
    book.close()
    threads = (
        f'{_DECLARATION}<ThreadedComments xmlns="{_MICROSOFT}/spreadsheetml/2018/threadedcomments">'
        '<threadedComment ref="C2" dT="2024-05-17T20:30:12.00" '
        'personId="{7A1B0000-0000-4000-8000-000000000001}" id="{7A1B0000-0000-4000-8000-000000000002}">'
        "<text>Is this one free?</text></threadedComment></ThreadedComments>"
    )
    persons = (
        f'{_DECLARATION}<personList xmlns="{_MICROSOFT}/spreadsheetml/2018/threadedcomments">'
        '<person displayName="M01" id="{7A1B0000-0000-4000-8000-000000000001}" userId="M01" '
        'providerId="None"/></personList>'
    )
    kind = f"{_MICROSOFT}/2017/10/relationships"
    patch(
        path,
        {
            _TYPES: declared(
                ("xl/threadedComments/threadedComment1.xml", "application/vnd.ms-excel.threadedcomments+xml"),
                ("xl/persons/person.xml", "application/vnd.ms-excel.person+xml"),
            ),
            _SHEET_LINKS: related(
                ("rId90", f"{kind}/threadedComment", "../threadedComments/threadedComment1.xml")
            ),
            _BOOK_LINKS: related(("rId90", f"{kind}/person", "persons/person.xml")),
        },
        {"xl/threadedComments/threadedComment1.xml": threads, "xl/persons/person.xml": persons},
    )


def slicers(path: Path) -> None:
    book = club(path)
    columns = [{"header": heading} for heading in HEADINGS]
    locomotives(book).add_table("A1:E6", {"columns": columns, "name": "Engines"})
    book.close()
    cache = (
        f'{_DECLARATION}<slicerCacheDefinition xmlns="{_X14}" xmlns:x="{_MAIN}" name="Slicer_Owner" '
        f'sourceName="Owner"><extLst><x:ext xmlns:x15="{_MICROSOFT}/spreadsheetml/2010/11/main" '
        'uri="{2F2917AC-EB37-4324-AD4E-5DD8C200BD13}"><x15:tableSlicerCache tableId="1" column="1"/></x:ext>'
        "</extLst></slicerCacheDefinition>"
    )
    slicer = (
        f'{_DECLARATION}<slicers xmlns="{_X14}"><slicer name="Owner" cache="Slicer_Owner" caption="Owner" '
        'rowHeight="241300"/></slicers>'
    )
    in_sheet = (
        f'{_LIST}<ext uri="{{3A4CF648-6AED-40f4-86FF-DC5316D8AED3}}"><x14:slicerList>'
        f'<x14:slicer xmlns:r="{_OFFICE}" r:id="rId91"/></x14:slicerList></ext></extLst>'
    )
    in_book = (
        '<extLst><ext uri="{46BE6895-7355-4a93-B00E-2C351335B9C9}" '
        f'xmlns:x15="{_MICROSOFT}/spreadsheetml/2010/11/main"><x15:slicerCaches xmlns:x14="{_X14}">'
        '<x14:slicerCache r:id="rId91"/></x15:slicerCaches></ext></extLst>'
    )
    kind = f"{_MICROSOFT}/2007/relationships"
    patch(
        path,
        {
            _TYPES: declared(
                ("xl/slicers/slicer1.xml", "application/vnd.ms-excel.slicer+xml"),
                ("xl/slicerCaches/slicerCache1.xml", "application/vnd.ms-excel.slicerCache+xml"),
            ),
            _SHEET: before("</worksheet>", in_sheet),
            _SHEET_LINKS: related(("rId91", f"{kind}/slicer", "../slicers/slicer1.xml")),
            _BOOK: before("</workbook>", in_book),
            _BOOK_LINKS: related(("rId91", f"{kind}/slicerCache", "slicerCaches/slicerCache1.xml")),
        },
        {"xl/slicers/slicer1.xml": slicer, "xl/slicerCaches/slicerCache1.xml": cache},
    )


def pivot_tables(path: Path) -> None:
    book = club(path)
    summary = book.add_worksheet("Summary")
    summary.write_column("A3", ["Owner", "M01", "M02", "M03", "Total"])
    summary.write_column("B3", ["Sum of Length", 128.8, 96.25, 335.125, 560.175])
    book.close()
    owners = "".join(f'<s v="{owner}"/>' for owner in ("M01", "M02", "M03"))
    cache = (
        f'{_DECLARATION}<pivotCacheDefinition xmlns="{_MAIN}" xmlns:r="{_OFFICE}" r:id="rId1" '
        'refreshedVersion="6" recordCount="2"><cacheSource type="worksheet">'
        '<worksheetSource ref="A1:E6" sheet="Locomotives"/></cacheSource><cacheFields count="2">'
        f'<cacheField name="Owner" numFmtId="0"><sharedItems count="3">{owners}</sharedItems>'
        '</cacheField><cacheField name="Length" numFmtId="0"><sharedItems containsSemiMixedTypes="0" '
        'containsString="0" containsNumber="1" minValue="0.3" maxValue="180"/></cacheField></cacheFields>'
        "</pivotCacheDefinition>"
    )
    records = (
        f'{_DECLARATION}<pivotCacheRecords xmlns="{_MAIN}" count="2"><r><x v="0"/><n v="128.5"/></r>'
        '<r><x v="1"/><n v="96.25"/></r></pivotCacheRecords>'
    )
    items = "".join(f'<item x="{place}"/>' for place in range(3)) + '<item t="default"/>'
    pivot = (
        f'{_DECLARATION}<pivotTableDefinition xmlns="{_MAIN}" name="Lengths" cacheId="1" '
        'dataCaption="Values"><location ref="A3:B7" firstHeaderRow="1" firstDataRow="1" firstDataCol="1"/>'
        '<pivotFields count="2"><pivotField axis="axisRow" showAll="0">'
        f'<items count="4">{items}</items></pivotField>'
        '<pivotField dataField="1" showAll="0"/></pivotFields><rowFields count="1"><field x="0"/></rowFields>'
        '<dataFields count="1"><dataField name="Sum of Length" fld="1"/></dataFields></pivotTableDefinition>'
    )
    patch(
        path,
        {
            _TYPES: declared(
                ("xl/pivotCache/pivotCacheDefinition1.xml", f"{_KIND}pivotCacheDefinition+xml"),
                ("xl/pivotCache/pivotCacheRecords1.xml", f"{_KIND}pivotCacheRecords+xml"),
                ("xl/pivotTables/pivotTable1.xml", f"{_KIND}pivotTable+xml"),
            ),
            _BOOK: before("</workbook>", '<pivotCaches><pivotCache cacheId="1" r:id="rId92"/></pivotCaches>'),
            _BOOK_LINKS: related(
                ("rId92", f"{_OFFICE}/pivotCacheDefinition", "pivotCache/pivotCacheDefinition1.xml")
            ),
        },
        {
            "xl/pivotCache/pivotCacheDefinition1.xml": cache,
            "xl/pivotCache/pivotCacheRecords1.xml": records,
            "xl/pivotCache/_rels/pivotCacheDefinition1.xml.rels": relationships(
                ("rId1", f"{_OFFICE}/pivotCacheRecords", "pivotCacheRecords1.xml")
            ),
            "xl/pivotTables/pivotTable1.xml": pivot,
            "xl/pivotTables/_rels/pivotTable1.xml.rels": relationships(
                ("rId1", f"{_OFFICE}/pivotCacheDefinition", "../pivotCache/pivotCacheDefinition1.xml")
            ),
            "xl/worksheets/_rels/sheet2.xml.rels": relationships(
                ("rId1", f"{_OFFICE}/pivotTable", "../pivotTables/pivotTable1.xml")
            ),
        },
    )


def validation_from_another_sheet(path: Path) -> None:
    book = club(path)
    book.add_worksheet("Lists").write_column("A1", ["M01", "M02", "M03"])
    book.close()
    rule = (
        '<x14:cfRule type="expression" priority="7" id="{7A1B0000-0000-4000-8000-000000000003}">'
        '<xm:f>Lists!$A$1="M01"</xm:f><x14:dxf><font><b/></font></x14:dxf></x14:cfRule><xm:sqref>B2:B6</xm:sqref>'
    )
    extensions = (
        f'{_LIST}<ext uri="{{78C0D931-6437-407d-A8EE-F0AAD7539E65}}"><x14:conditionalFormattings>'
        f"<x14:conditionalFormatting>{rule}</x14:conditionalFormatting></x14:conditionalFormattings></ext>"
        '<ext uri="{CCE6A557-97BC-4b89-ADB6-D9C93CAAB3DF}"><x14:dataValidations count="1">'
        '<x14:dataValidation type="list" allowBlank="1">'
        "<x14:formula1><xm:f>Lists!$A$1:$A$3</xm:f></x14:formula1>"
        "<xm:sqref>A2:A99</xm:sqref></x14:dataValidation></x14:dataValidations></ext></extLst>"
    )
    patch(path, {_SHEET: before("</worksheet>", extensions)})


def external_links(path: Path) -> None:
    book = club(path)
    locomotives(book).write_formula("A9", "=[1]Prices!$A$1", None, 12.5)
    book.close()
    link = (
        f'{_DECLARATION}<externalLink xmlns="{_MAIN}"><externalBook xmlns:r="{_OFFICE}" r:id="rId1">'
        '<sheetNames><sheetName val="Prices"/></sheetNames><sheetDataSet><sheetData sheetId="0">'
        '<row r="1"><cell r="A1"><v>12.5</v></cell></row></sheetData></sheetDataSet>'
        "</externalBook></externalLink>"
    )
    outside = relationships(("rId1", f"{_OFFICE}/externalLinkPath", "prices.xlsx"))
    patch(
        path,
        {
            _TYPES: declared(("xl/externalLinks/externalLink1.xml", f"{_KIND}externalLink+xml")),
            _BOOK: before(
                "<calcPr", '<externalReferences><externalReference r:id="rId93"/></externalReferences>'
            ),
            _BOOK_LINKS: related(("rId93", f"{_OFFICE}/externalLink", "externalLinks/externalLink1.xml")),
        },
        {
            "xl/externalLinks/externalLink1.xml": link,
            "xl/externalLinks/_rels/externalLink1.xml.rels": outside.replace(
                b"/></", b' TargetMode="External"/></'
            ),
        },
    )


def custom_xml(path: Path) -> None:
    club(path).close()
    item = '<club xmlns="urn:example:club"><code>C1</code></club>'
    link = (f"{_OFFICE}/customXml", "../customXml/item1.xml")
    patch(
        path,
        {
            _BOOK_LINKS: related(("rId94", *link)),
            _TYPES: before("<Override", '<Default Extension="bin" ContentType="a/b"/>'),
        },
        {"customXml/item1.xml": item, "xl/printerSettings/printerSettings1.bin": bytes(range(256))},
    )


def unknown_extensions(path: Path) -> None:
    club(path).close()
    unknown = 'xmlns:q="urn:example:unknown" q:kept="yes"'
    extension = (
        '<extLst><ext uri="{11111111-2222-4333-8444-555555555555}" xmlns:q="urn:example:unknown">'
        '<q:thing a="1 > 0"><q:legacyDrawing/><q:extLst/></q:thing></ext></extLst>'
    )
    patch(
        path,
        {
            _SHEET: lambda data: before("</worksheet>", extension)(
                replaced('<c r="B3"', f'<c {unknown} r="B3"')(data)
            ),
            "xl/styles.xml": before("</styleSheet>", extension),
        },
    )


PATCHED = {
    "threaded comments": threaded_comments,
    "slicers": slicers,
    "pivot tables": pivot_tables,
    "validation and formats from another sheet": validation_from_another_sheet,
    "external links": external_links,
    "custom XML and binary parts": custom_xml,
    "unknown extensions": unknown_extensions,
}
