"""How the columns of a table share its width."""

from __future__ import annotations

import pytest

from workbench.editor.table_view import _shared


def test_a_column_is_as_wide_as_its_words_need() -> None:
    assert _shared(400, [1.5, 1, 1, 1], [40, 30, 30, 30]) == pytest.approx([133.3, 88.9, 88.9, 88.9], abs=0.1)
    assert _shared(250, [1.5, 1, 1, 1], [40, 30, 30, 70]) == pytest.approx([77.1, 51.4, 51.4, 70.0], abs=0.1)


def test_where_nothing_fits_all_give_way_alike() -> None:
    assert _shared(90, [1, 1, 1], [20, 40, 60]) == pytest.approx([30, 30, 30])
    assert _shared(120, [1, 1, 1], [20, 40, 60]) == pytest.approx([20, 40, 60])
