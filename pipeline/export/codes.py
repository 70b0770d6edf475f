"""Codes of the exchange bundle: our own for all, and beside them those that a site adds in a file of its own.

SNOMED CT and LOINC codes are not shipped: SNOMED CT needs a licence of the country or the site, and a wrong code is
worse than none. HL7's own code systems are free to use.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import yaml
from pydantic import BaseModel, ConfigDict, ValidationError

from pipeline.export.exam import ExportError

OWN = "urn:spoken-exam:"
"""Our code systems: `urn:spoken-exam:manoeuvre`, `:site`, `:side`, `:value`, `:reason`, `:section`, `:document`."""

BUILT_IN = Path(__file__).with_name("codes.yaml")


class Code(BaseModel):
    """A code of a published code system."""

    model_config = ConfigDict(extra="forbid", frozen=True)

    system: str
    code: str
    display: str | None = None


class Codes(BaseModel):
    """Codes of the site's choice for our identifiers."""

    model_config = ConfigDict(extra="forbid", frozen=True)

    document: dict[str, list[Code]] = {}
    section: dict[str, list[Code]] = {}
    manoeuvre: dict[str, list[Code]] = {}
    site: dict[str, list[Code]] = {}
    side: dict[str, list[Code]] = {}
    value: dict[str, list[Code]] = {}

    def concept(self, kind: str, identifier: str, text: str) -> dict[str, Any]:
        """A FHIR CodeableConcept: our own code first, then the site's."""
        more = getattr(self, kind, {}).get(identifier, [])
        own = {"system": OWN + kind, "code": identifier, "display": text}
        return {"coding": [own, *(code.model_dump(exclude_none=True) for code in more)], "text": text}


def read_codes(file: Path | None = None) -> Codes:
    """The site's codes. Raises `ExportError` with the file, the place and what to do where they cannot be used."""
    file = file or BUILT_IN
    try:
        content = yaml.safe_load(file.read_text(encoding="utf-8")) or {}
        return Codes.model_validate(content)
    except yaml.YAMLError as error:
        raise ExportError(f"{file.name}: not valid YAML ({' '.join(str(error).split())}); mend the file") from None
    except ValidationError as error:
        first = error.errors()[0]
        place = ".".join(map(str, first["loc"]))
        raise ExportError(f"{file.name}: {place}: {first['msg']}; see the comments in codes.yaml") from None
    except (OSError, UnicodeDecodeError) as error:
        raise ExportError(f"{file}: cannot be read ({error}); name a UTF-8 YAML file") from None
