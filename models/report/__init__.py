"""The design review: a document described without a renderer, and the files made of it.

studies = kept_studies(project, file, project.review.studies)
document = review(project, studies)                  # options of the project; Watch for progress and cancel
drawings = Drawings(document)                        # so that figures are drawn once for both files
to_pdf(document, "review.pdf", drawings=drawings), to_html(document, "review.html", drawings=drawings)
"""

import os

from models.report.bench import ShownStudy
from models.report.document import Document
from models.report.figures import Drawings
from models.report.html import html_text, to_html
from models.report.kept import kept_studies
from models.report.review import SECTION_TITLES, review
from models.report.watch import Stopped, Watch

__all__ = [
    "SECTION_TITLES",
    "Document",
    "Drawings",
    "ShownStudy",
    "Stopped",
    "Watch",
    "html_text",
    "kept_studies",
    "pdf_bytes",
    "review",
    "to_html",
    "to_pdf",
]


def pdf_bytes(document: Document, watch: Watch | None = None, drawings: Drawings | None = None) -> bytes:
    """Content of a PDF file; see :func:`models.report.pdf.pdf_bytes`."""
    from models.report import pdf  # the typesetter and matplotlib load in a second: only when they are wanted

    return pdf.pdf_bytes(document, watch, drawings)


def to_pdf(
    document: Document,
    path: str | os.PathLike[str],
    watch: Watch | None = None,
    drawings: Drawings | None = None,
) -> None:
    """Write a PDF file, whole or not at all; see :func:`models.report.pdf.to_pdf`."""
    from models.report import pdf

    pdf.to_pdf(document, path, watch, drawings)
