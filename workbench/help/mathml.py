"""Sphinx extension: equations as MathML, which browsers set by themselves, with no script and no network."""

from __future__ import annotations

from typing import Any

from docutils import nodes
from latex2mathml.converter import convert
from sphinx.application import Sphinx
from sphinx.util.math import get_node_equation_number

__all__ = ["setup"]


def setup(app: Sphinx) -> dict[str, Any]:
    """Register the renderer under the name ``mathml``."""
    app.add_html_math_renderer("mathml", (_inline, None), (_block, None))
    return {"parallel_read_safe": True, "parallel_write_safe": True}


def _inline(translator: Any, node: nodes.math) -> None:
    translator.body.append(convert(node.astext()))
    raise nodes.SkipNode


def _block(translator: Any, node: nodes.math_block) -> None:
    translator.body.append(translator.starttag(node, "div", CLASS="math"))
    if node["number"]:
        number = get_node_equation_number(translator, node)
        translator.body.append(f'<span class="eqno">({number})</span>')
    translator.body.append(convert(node.astext(), display="block"))
    translator.body.append("</div>\n")
    raise nodes.SkipNode
