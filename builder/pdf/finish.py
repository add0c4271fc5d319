"""The last touches on the document itself: identification, attachments, page labels, how it opens."""

from collections.abc import Sequence
from hashlib import md5
from typing import Any
from xml.sax.saxutils import escape

from pydyf import Array, Dictionary, Stream, String, name

from builder.pdf.parts import Attached, DocumentMeta, PageLabel

BLEED = 3 * 72 / 25.4
"""Points; the same as `--bleed` in styles/bleed.css."""

# PDF/A wants the PDF/UA property declared by an extension schema (ISO 19005-1, 6.7.8; ISO 14289-1, 5).
_UA_IDENTIFICATION = """\
<rdf:Description xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#" rdf:about=""
 xmlns:pdfuaid="http://www.aiim.org/pdfua/ns/id/" pdfuaid:part="1"/>
<rdf:Description xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#" rdf:about=""
 xmlns:dc="http://purl.org/dc/elements/1.1/"><dc:identifier>{identifier}</dc:identifier></rdf:Description>
<rdf:Description xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#" rdf:about=""
 xmlns:pdfaExtension="http://www.aiim.org/pdfa/ns/extension/"
 xmlns:pdfaSchema="http://www.aiim.org/pdfa/ns/schema#"
 xmlns:pdfaProperty="http://www.aiim.org/pdfa/ns/property#">
<pdfaExtension:schemas><rdf:Bag><rdf:li rdf:parseType="Resource">
<pdfaSchema:schema>PDF/UA identification</pdfaSchema:schema>
<pdfaSchema:namespaceURI>http://www.aiim.org/pdfua/ns/id/</pdfaSchema:namespaceURI>
<pdfaSchema:prefix>pdfuaid</pdfaSchema:prefix>
<pdfaSchema:property><rdf:Seq><rdf:li rdf:parseType="Resource">
<pdfaProperty:name>part</pdfaProperty:name>
<pdfaProperty:valueType>Integer</pdfaProperty:valueType>
<pdfaProperty:category>internal</pdfaProperty:category>
<pdfaProperty:description>The part of ISO 14289 that the file conforms to</pdfaProperty:description>
</rdf:li></rdf:Seq></pdfaSchema:property></rdf:li></rdf:Bag></pdfaExtension:schemas>
</rdf:Description>
"""

_RIGHTS = """\
<rdf:Description xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#" rdf:about=""
 xmlns:dc="http://purl.org/dc/elements/1.1/"><dc:rights><rdf:Alt>
<rdf:li xml:lang="x-default">{rights}</rdf:li></rdf:Alt></dc:rights></rdf:Description>
"""


def describe(document: Any, meta: DocumentMeta) -> None:
    """Before writing: the typesetter copies these into the information dictionary and the XMP packet."""
    data = document.metadata
    data.title, data.lang, data.description = meta.title, meta.language, meta.subject or None
    data.authors = [meta.author] if meta.author else []
    data.keywords = list(meta.keywords)
    data.generator = "Loadleaf"
    data.created = data.modified = meta.created_as("%Y-%m-%dT%H:%M:%SZ")
    # `attach` does it: the typesetter lists each file twice, unsorted, and without its type.
    data.attachments = []


def identify(pdf: Any, meta: DocumentMeta) -> None:
    """Say that the file is PDF/UA-1 as well as PDF/A-3a, inside the one RDF block that validators read."""
    stream = _at(pdf, pdf.catalog["Metadata"])
    extra = _UA_IDENTIFICATION.format(identifier=escape(meta.identifier)).encode("utf-8")
    if meta.rights:
        extra += _RIGHTS.format(rights=escape(meta.rights)).encode("utf-8")
    pdf.info.update({key: String(value) for key, value in meta.licensee})
    # The typesetter's own way adds a second block, which validators do not see.
    stream.stream = [stream.stream[0].replace(b"</rdf:RDF>", extra + b"</rdf:RDF>")]


def attach(pdf: Any, files: Sequence[Attached], meta: DocumentMeta) -> None:
    """Embed the files, sorted by name as viewers search them, each associated with the whole document."""
    if not files:
        return
    names, associated = Array(), Array()
    for file in sorted(files, key=lambda f: f.name):
        reference = _filespec(pdf, file, meta.created_as("D:%Y%m%d%H%M%SZ"))
        names.extend((String(file.name), reference))
        associated.append(reference)
    tree = Dictionary({"Names": names})
    pdf.add_object(tree)
    pdf.catalog.setdefault("Names", Dictionary())["EmbeddedFiles"] = tree.reference
    pdf.catalog["AF"] = associated


def _filespec(pdf: Any, file: Attached, date: str) -> bytes:
    params = {
        # The format names MD5 (ISO 32000-1, table 46); nothing here relies on it.
        "CheckSum": f"<{md5(file.data, usedforsecurity=False).hexdigest()}>",
        "Size": len(file.data),
        # The booklet's date, not that of the run: the same input gives the same bytes.
        "CreationDate": String(date),
        "ModDate": String(date),
    }
    extra = {"Type": "/EmbeddedFile", "Subtype": name(file.mime), "Params": Dictionary(params)}
    stream = Stream([file.data], Dictionary(extra), compress=True)
    pdf.add_object(stream)
    spec = Dictionary(
        {
            "Type": "/Filespec",
            "F": String(file.name),
            "UF": String(file.name),
            "EF": Dictionary({"F": stream.reference, "UF": stream.reference}),
            "Desc": String(file.description),
            "AFRelationship": f"/{file.relationship}",
        }
    )
    pdf.add_object(spec)
    reference: bytes = spec.reference
    return reference


def number_pages(pdf: Any, labels: Sequence[PageLabel]) -> None:
    """Write the page labels; ISO 32000-1, 12.4.2 wants one for the first page."""
    if not labels:
        return
    ranges = sorted(labels, key=lambda label: label.first)
    if ranges[0].first != 0:
        ranges.insert(0, PageLabel(0, "D"))
    tree = Array()
    for label in ranges:
        entry = Dictionary({"S": f"/{label.style}"} if label.style else {})
        if label.prefix:
            entry["P"] = String(label.prefix)
        if label.start != 1:
            entry["St"] = label.start
        tree.extend((label.first, entry))
    pdf.catalog["PageLabels"] = Dictionary({"Nums": tree})


def mark_bleed(pdf: Any) -> None:
    """Say where the cut is and how far past it tints run; around that the sheet holds only marks for the cutter.

    The cut page starts at the origin with equal room on all sides; the typesetter misplaces it on magnified pages.
    """
    for reference in pdf.page_references:
        page = _at(pdf, reference)
        outside = -page["MediaBox"][0]
        if outside > 0:
            left, foot, right, head = 0, 0, page["MediaBox"][2] - outside, page["MediaBox"][3] - outside
            page["TrimBox"] = Array((left, foot, right, head))
            page["BleedBox"] = Array((left - BLEED, foot - BLEED, right + BLEED, head + BLEED))


def prepare(root: Any, language: str) -> None:
    """Before layout: the language of the page, and of every head of a table whether it is that of its column, as in the
    head of the table, or of its row. From that the typesetter tells which heads each cell has.
    """
    root.set("lang", language)
    columns = {cell for head in root.iter("thead") for cell in head.iter("th")}
    for cell in root.iter("th"):
        cell.set("scope", "col" if cell in columns else "row")


def say_scopes(pdf: Any) -> None:
    """The same on the heads themselves: the typesetter says it of cells only, which is not enough where a row of the
    table is one wide cell (ISO 14289-1, 7.5).
    """
    for head in pdf.objects:
        if isinstance(head, dict) and head.get("S") == "/TH":
            row = _at(pdf, head["P"])
            scope = "/Column" if _at(pdf, row["P"])["S"] == "/THead" else "/Row"
            head.setdefault("A", Dictionary({"O": "/Table"}))["Scope"] = scope


def say_links(document: Any) -> None:
    """What a link says of itself is its text: the typesetter gives it the name of its target, which nobody says."""
    for page in document.pages:
        for kind, _, _, box in page.links:
            said = " ".join("".join(box.element.itertext()).split())
            if kind != "attachment" and said:
                box.link_annotation["Contents"] = String(said)


def open_at_cover(pdf: Any) -> None:
    """The file opens at its first page, the whole page in view, under its title."""
    pdf.catalog["OpenAction"] = Array([pdf.page_references[0], "/Fit"])
    # PDF/UA wants the title shown in place of the name of the file (ISO 14289-1, 7.1).
    pdf.catalog["ViewerPreferences"] = Dictionary({"DisplayDocTitle": "true"})


def _at(pdf: Any, reference: bytes) -> Any:
    return pdf.objects[int(reference.split()[0])]
