"""Jinja2 templates of the documents: the built-in ones, or a department's own from a folder."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from jinja2 import FileSystemLoader, StrictUndefined, TemplateError
from jinja2.exceptions import TemplateSyntaxError
from jinja2.sandbox import SandboxedEnvironment

from pipeline.export import wording
from pipeline.export.document import escaped
from pipeline.export.exam import ExportError

BUILT_IN = Path(__file__).parent / "templates"


def render(name: str, folder: Path | None = None, **content: Any) -> str:
    """The Markdown that template `name` makes of `content`; one of that name in `folder` replaces the built-in one.

    Raises `ExportError` with the template's name and line where it has a mistake.
    """
    if folder is not None and not folder.is_dir():
        raise ExportError(f"{folder}: no such folder; name one that holds templates such as {name}")
    environment = SandboxedEnvironment(
        loader=FileSystemLoader([*([folder] if folder else []), BUILT_IN]),
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    words = {key: getattr(wording, key) for key in ("plain", "heading", "place", "result", "why", "clock")}
    environment.filters.update(words, md=escaped)
    environment.globals.update(cautions=wording.CAUTIONS, unsigned=wording.UNSIGNED)
    try:
        return environment.get_template(name).render(**content)
    except TemplateSyntaxError as error:
        raise ExportError(f"{error.name}, line {error.lineno}: {error.message}; mend the template") from None
    except (TemplateError, TypeError, AttributeError) as error:
        raise ExportError(f"{name}: {' '.join(str(error).split())}; mend the template") from None


def layout(folder: Path | None) -> Path | None:
    """The department's page layout for PDFs, if its folder holds one."""
    own = folder / "page.typ" if folder else None
    return own if own and own.is_file() else None
