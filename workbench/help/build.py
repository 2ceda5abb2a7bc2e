"""Builds the handbook: ``python -m workbench.help.build [--without-checks] [FOLDER]``.

Sources are the Markdown in ``workbench/help/source`` and pages that are written from the program itself, so
that they never lag: parameters, figures, charts, commands, the Python interface.  The pages need no network:
equations are MathML, and nothing is fetched from anywhere.
"""

from __future__ import annotations

import argparse
import os
import shutil
import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path

from models.program import VERSION
from workbench.help.colours import colours
from workbench.help.reference import written_pages
from workbench.help.site import SITE

__all__ = ["build", "main", "sources"]

_HERE = Path(__file__).resolve().parent
_OWN = ("workbench.help.mathml", "workbench.help.data_models")


def main(argv: Sequence[str] | None = None) -> int:
    """Build; gives the exit code: 0, or 1 where a page is wrong or Sphinx is missing."""
    parser = argparse.ArgumentParser(prog="python -m workbench.help.build", description="Build the handbook.")
    parser.add_argument("folder", nargs="?", type=Path, default=SITE, help="where the pages go")
    parser.add_argument(
        "--without-checks", action="store_true", help="do not run the checks of the verification manual"
    )
    options = parser.parse_args(argv)
    folder = options.folder
    try:
        warnings = build(folder, checked=not options.without_checks)
    except ModuleNotFoundError as error:
        print(f"{error}: install the extra 'docs', pip install 'corduroy[docs]'", file=sys.stderr)
        return 1
    print(warnings or f"handbook: {folder / 'index.html'}", file=sys.stderr if warnings else sys.stdout)
    return 1 if warnings else 0


def build(folder: Path, checked: bool = True) -> str:
    """Build all pages anew into a folder, which is replaced; gives the warnings, empty where all is well.

    Args:
        folder: where the pages go.
        checked: run the checks of the verification manual, which takes longer than all the rest.

    Raises:
        ModuleNotFoundError: what builds the handbook is not installed.
    """
    from sphinx.application import Sphinx
    from sphinx.util.docutils import docutils_namespace

    with tempfile.TemporaryDirectory() as work:
        source, made, doctrees = (Path(work) / name for name in ("source", "site", "doctrees"))
        sources(source, checked)
        warnings = Path(work) / "warnings"
        with docutils_namespace(), warnings.open("w+", encoding="utf-8") as told:
            Sphinx(
                srcdir=source,
                confdir=None,
                outdir=made,
                doctreedir=doctrees,
                buildername="html",
                confoverrides=_settings(),
                status=None,
                warning=told,
            ).build()
        for left in (".buildinfo", "objects.inv"):
            (made / left).unlink(missing_ok=True)
        folder.parent.mkdir(parents=True, exist_ok=True)
        shutil.rmtree(folder, ignore_errors=True)
        shutil.copytree(made, folder)
        return warnings.read_text(encoding="utf-8").replace(f"{work}{os.sep}", "").strip()


def sources(folder: Path, checked: bool) -> None:
    """Put all sources together in a folder: those that are kept, and those written from the program."""
    shutil.copytree(_HERE / "source", folder)
    for name, text in written_pages(checked).items():
        (folder / name).write_text(text, encoding="utf-8")
    static = folder / "_static"
    static.mkdir()
    (static / "colours.css").write_text(colours(), encoding="utf-8")


def _settings() -> dict[str, object]:
    return {
        "project": "Corduroy",
        "version": VERSION,
        "release": VERSION,
        "language": "en",
        "extensions": ["myst_parser", "sphinx.ext.autodoc", "sphinx.ext.napoleon", *_OWN],
        "toc_object_entries": False,
        "source_suffix": {".md": "markdown"},
        "exclude_patterns": ["_*"],
        "myst_enable_extensions": ["dollarmath", "deflist", "attrs_inline", "smartquotes"],
        "myst_heading_anchors": 3,
        "html_math_renderer": "mathml",
        "html_theme": "quiet",
        "html_theme_path": [str(_HERE / "theme")],
        "html_static_path": ["_static"],
        "html_title": "Corduroy handbook",
        "html_copy_source": False,
        "html_show_search_summary": False,  # would be fetched, which browsers refuse for files
        "html_use_index": False,
        "html_domain_indices": False,
        "html_permalinks_icon": "¶",
        "highlight_language": "none",
        "pygments_style": "bw",
        "autodoc_member_order": "bysource",
        "autodoc_typehints": "signature",
        "python_use_unqualified_type_names": True,
        "smartquotes_action": "e",
        "nitpicky": False,
    }


if __name__ == "__main__":
    sys.exit(main())
