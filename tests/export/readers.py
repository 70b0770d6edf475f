"""What other programs read in a document: Poppler's tools for PDF, LibreOffice for Word."""

import subprocess
from pathlib import Path


def words(text: str) -> str:
    """Text on one line, as line breaks differ from form to form."""
    return " ".join(text.split())


def pdf_pages(file: Path) -> list[str]:
    text = subprocess.run(["pdftotext", file, "-"], check=True, capture_output=True, text=True).stdout
    return [words(page) for page in text.split("\f") if page.strip()]


def pdf_info(file: Path) -> dict[str, str]:
    # pdfinfo warns of a boolean in a place where newer PDF versions have one.
    lines = subprocess.run(["pdfinfo", file], check=True, capture_output=True, text=True).stdout.splitlines()
    return {key: value.strip() for key, _, value in (line.partition(":") for line in lines)}


def office_pdf(file: Path, folder: Path) -> Path:
    """The document as LibreOffice prints it. A profile of its own keeps runs apart."""
    profile = (folder / "office").as_uri()
    subprocess.run(
        ["soffice", f"-env:UserInstallation={profile}", "--headless", "--convert-to", "pdf", "--outdir", folder, file],
        check=True, capture_output=True,
    )  # fmt: skip
    return folder / f"{file.stem}.pdf"
