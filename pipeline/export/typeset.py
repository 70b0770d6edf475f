"""Typst, the typesetter behind PDFs and pictures of charts, with its own fonts only: the same result everywhere."""

from __future__ import annotations

from pathlib import Path

import typst

from pipeline.export.exam import ExportError


def pdf(layout: Path, content: str, images: Path) -> bytes:
    """A tagged PDF (PDF/UA-1) of `content`, which the layout reads as `sys.inputs.document`.

    Raises `ExportError` when the layout has a mistake.
    """
    compiler = typst.Compiler(layout.read_bytes(), root=images, ignore_system_fonts=True)
    try:
        made = compiler.compile(sys_inputs={"document": content}, format="pdf", pdf_standards="ua-1")
    except typst.TypstError as error:
        raise ExportError(f"{layout.name}: {' '.join(error.message.split())}; mend the layout") from None
    return _one(made)


def png(svg: Path) -> bytes:
    """A picture of an SVG file, two pixels for each of its units."""
    page = f'#set page(width: auto, height: auto, margin: 0pt, fill: white)\n#image("{svg.name}")'
    compiler = typst.Compiler(page.encode(), root=svg.parent, ignore_system_fonts=True)
    return _one(compiler.compile(format="png", ppi=192))


def _one(made: bytes | list[bytes] | None) -> bytes:
    assert isinstance(made, bytes)
    return made
