"""Markdown to Word and PDF: one text, which a template makes, gives all three forms of a document.

Understood are headings, paragraphs, block quotes, lists, tables, images, bold and italic text (CommonMark and tables).
"""

from __future__ import annotations

import io
import json
import re
from collections.abc import Iterator, Sequence
from dataclasses import asdict, dataclass, field
from pathlib import Path
from typing import Any

from docx import Document
from docx.enum.text import WD_ALIGN_PARAGRAPH
from docx.oxml import OxmlElement
from docx.oxml.ns import qn
from docx.shared import Cm, Pt, RGBColor
from markdown_it import MarkdownIt
from markdown_it.token import Token

from pipeline.export import typeset

LANGUAGE = "en-GB"

_LAYOUTS = Path(__file__).parent / "templates"
_MARKDOWN = MarkdownIt("commonmark").enable("table")
_INK = RGBColor(0x1B, 0x3A, 0x4B)
_ALERT = RGBColor(0x9B, 0x1C, 0x1C)
_SIDES = ("top", "left", "bottom", "right", "insideH", "insideV")
_TEXT_WIDTH = 17.0
"""Of an A4 page between its margins, in cm."""


@dataclass(frozen=True)
class Span:
    """A run of text in one style."""

    text: str
    bold: bool = False
    italic: bool = False


@dataclass(frozen=True)
class Block:
    """One piece of a document. `kind`: heading, paragraph, quote, list, numbers, table or image.

    `spans` is its text (for an image, what it shows); `rows` are the items of a list (one cell each) or the rows of a
    table, the first one its header; `path` is the file of an image.
    """

    kind: str
    spans: list[Span] = field(default_factory=list)
    rows: list[list[list[Span]]] = field(default_factory=list)
    level: int = 0
    path: str = ""


@dataclass(frozen=True)
class Page:
    """What stands around the text: the title, and a banner that is repeated at the head of every page."""

    title: str
    banner: str = ""
    footer: str = ""


def parse(text: str) -> list[Block]:
    """The blocks of a Markdown text. Anything not understood is kept as a paragraph of its plain text."""
    return list(_blocks(iter(_MARKDOWN.parse(text))))


def docx(text: str, page: Page, images: Path | None = None) -> bytes:
    """Markdown as a Word document. `images` is the folder that image names are relative to."""
    document = Document()
    _styles(document)
    document.core_properties.title = page.title
    document.core_properties.language = LANGUAGE
    document.core_properties.author = "spoken-exam"
    _around(document, page)
    for block in parse(text):
        _WORD[block.kind](document, block, images)
    saved = io.BytesIO()
    document.save(saved)
    return saved.getvalue()


def pdf(text: str, page: Page, images: Path | None = None, layout: Path | None = None) -> bytes:
    """Markdown as a tagged PDF (PDF/UA-1), with embedded fonts. `layout`: another page layout than the built-in one.

    Raises `ExportError` when the layout has a mistake.
    """
    content = {"page": asdict(page), "blocks": [asdict(block) for block in parse(text)]}
    return typeset.pdf(layout or _LAYOUTS / "page.typ", json.dumps(content), images or _LAYOUTS)


def _blocks(tokens: Iterator[Token]) -> Iterator[Block]:
    quoted = False
    for token in tokens:
        if token.type == "heading_open":
            yield Block("heading", _spans(next(tokens)), level=int(token.tag[1]))
        elif token.type in ("blockquote_open", "blockquote_close"):
            quoted = token.type == "blockquote_open"
        elif token.type == "paragraph_open":
            inline = next(tokens)
            images = [child for child in inline.children or [] if child.type == "image"]
            if images:
                yield from (Block("image", [Span(one.content)], path=str(one.attrGet("src"))) for one in images)
            else:
                yield Block("quote" if quoted else "paragraph", _spans(inline))
        elif token.type in ("bullet_list_open", "ordered_list_open"):
            kind = "list" if token.type == "bullet_list_open" else "numbers"
            yield Block(kind, rows=[[item] for item in _until(tokens, token.type.replace("open", "close"))])
        elif token.type == "table_open":
            yield Block("table", rows=_table(tokens))
        elif token.content:
            yield Block("paragraph", [Span(token.content.strip())])


def _until(tokens: Iterator[Token], end: str) -> Iterator[list[Span]]:
    for token in tokens:
        if token.type == end:
            return
        if token.type == "inline":
            yield _spans(token)


def _table(tokens: Iterator[Token]) -> list[list[list[Span]]]:
    rows: list[list[list[Span]]] = []
    for token in tokens:
        if token.type == "table_close":
            break
        if token.type == "tr_open":
            rows.append([])
        elif token.type == "inline":
            rows[-1].append(_spans(token))
    return rows


def _spans(inline: Token) -> list[Span]:
    found: list[Span] = []
    bold = italic = False
    for child in inline.children or []:
        if child.type in ("strong_open", "strong_close"):
            bold = child.type == "strong_open"
        elif child.type in ("em_open", "em_close"):
            italic = child.type == "em_open"
        elif child.type in ("softbreak", "hardbreak"):
            found.append(Span(" "))
        elif child.content:
            found.append(Span(child.content, bold, italic))
    return found


def escaped(words: object) -> str:
    """Text that Markdown will show as it is, on one line, in a table too."""
    return re.sub(r"([\\`*_\[\]<>|#&~!])", r"\\\1", " ".join(str(words).split()))


def _styles(document: Any) -> None:
    normal = document.styles["Normal"]
    normal.font.name, normal.font.size = "Calibri", Pt(10.5)
    normal.paragraph_format.space_after = Pt(6)
    language = OxmlElement("w:lang")
    for name in ("w:val", "w:eastAsia"):
        language.set(qn(name), LANGUAGE)
    normal.element.get_or_add_rPr().append(language)
    for level, size in ((1, 18), (2, 13), (3, 11)):
        style = document.styles[f"Heading {level}"]
        style.font.name, style.font.size, style.font.color.rgb = "Calibri", Pt(size), _INK
        # The theme's font would win over the named one.
        fonts = style.element.rPr.rFonts
        for name in [key for key in fonts.attrib if key.endswith("Theme")]:
            del fonts.attrib[name]
    for border in document.styles["Table Grid"].element.iter(*(qn(f"w:{side}") for side in _SIDES)):
        border.set(qn("w:color"), "B8C4CC")
    for section in document.sections:
        section.page_width, section.page_height = Cm(21), Cm(29.7)
        section.left_margin = section.right_margin = Cm(2)
        section.top_margin = section.bottom_margin = Cm(2)


def _around(document: Any, page: Page) -> None:
    section = document.sections[0]
    if page.banner:
        head = section.header.paragraphs[0]
        head.alignment = WD_ALIGN_PARAGRAPH.CENTER
        run = head.add_run(page.banner)
        run.bold, run.font.size, run.font.color.rgb = True, Pt(9), _ALERT
    foot = section.footer.paragraphs[0]
    foot.add_run(f"{page.footer or page.title}, page ").font.size = Pt(8.5)
    _field(foot, "PAGE")
    foot.add_run(" of ").font.size = Pt(8.5)
    _field(foot, "NUMPAGES")


def _field(paragraph: Any, code: str) -> None:
    """A field that Word fills in, such as the page number."""
    run = paragraph.add_run()
    run.font.size = Pt(8.5)
    for kind, text in (("begin", None), (None, code), ("end", None)):
        element = OxmlElement("w:fldChar" if kind else "w:instrText")
        if kind:
            element.set(qn("w:fldCharType"), kind)
        else:
            element.text = text
        run._r.append(element)


def _runs(paragraph: Any, spans: Sequence[Span]) -> None:
    for span in spans:
        run = paragraph.add_run(span.text)
        run.bold, run.italic = span.bold or None, span.italic or None


def _word_heading(document: Any, block: Block, _images: Path | None) -> None:
    _runs(document.add_heading(level=min(block.level, 3)), block.spans)


def _word_paragraph(document: Any, block: Block, _images: Path | None) -> None:
    _runs(document.add_paragraph(), block.spans)


def _word_quote(document: Any, block: Block, _images: Path | None) -> None:
    paragraph = document.add_paragraph()
    paragraph.paragraph_format.left_indent = Cm(0.4)
    _shade(paragraph._p.get_or_add_pPr(), "F3F6F8")
    _runs(paragraph, block.spans)


def _word_list(document: Any, block: Block, _images: Path | None) -> None:
    for item in block.rows:
        paragraph = document.add_paragraph()
        # By its identifier: to look a style up by name takes most of the time of a long document.
        paragraph._p.style = "ListBullet" if block.kind == "list" else "ListNumber"
        paragraph.paragraph_format.space_after = Pt(2)
        _runs(paragraph, item[0])


def _word_table(document: Any, block: Block, _images: Path | None) -> None:
    table = document.add_table(rows=0, cols=len(block.rows[0]), style="Table Grid")
    table.autofit = False
    shares = _widths(block.rows)
    widths = [Cm(_TEXT_WIDTH * share / sum(shares)) for share in shares]
    for column, width in zip(table.columns, widths, strict=True):
        column.width = width
    for at, row in enumerate(block.rows):
        line = table.add_row()
        line._tr.get_or_add_trPr().append(OxmlElement("w:cantSplit"))
        if at == 0:
            line._tr.get_or_add_trPr().append(OxmlElement("w:tblHeader"))
        for cell, spans, width in zip(line.cells, row, widths, strict=True):
            cell.width = width
            paragraph = cell.paragraphs[0]
            paragraph.paragraph_format.space_before = paragraph.paragraph_format.space_after = Pt(2)
            _runs(paragraph, spans if at else [Span(span.text, bold=True) for span in spans])
            if at == 0:
                _shade(cell._tc.get_or_add_tcPr(), "E8EEF2")
    document.add_paragraph().paragraph_format.space_after = Pt(0)


def _widths(rows: Sequence[Sequence[Sequence[Span]]]) -> list[int]:
    """Shares of the width by the longest text of each column, in coarse steps so that tables in a row line up."""
    longest = [max(sum(len(span.text) for span in row[at]) for row in rows) for at in range(len(rows[0]))]
    return [min(60, max(18, -(-length // 12) * 12)) for length in longest]


def _shade(properties: Any, colour: str) -> None:
    shade = OxmlElement("w:shd")
    for name, value in (("val", "clear"), ("color", "auto"), ("fill", colour)):
        shade.set(qn(f"w:{name}"), value)
    properties.append(shade)


def _word_image(document: Any, block: Block, images: Path | None) -> None:
    # Word shows no SVG through this library; every chart has a PNG beside it.
    file = (images or Path()) / Path(block.path).with_suffix(".png")
    picture = document.add_picture(str(file), width=Cm(_TEXT_WIDTH))
    picture._inline.docPr.set("descr", "".join(span.text for span in block.spans))


_WORD = {
    "heading": _word_heading,
    "paragraph": _word_paragraph,
    "quote": _word_quote,
    "list": _word_list,
    "numbers": _word_list,
    "table": _word_table,
    "image": _word_image,
}
