"""A slider that is dragged sixty times a second leaves the frame to the physics and the plots."""

from __future__ import annotations

import itertools

from pytest_benchmark.fixture import BenchmarkFixture
from pytestqt.qtbot import QtBot

from models.fields import replaced
from models.project import Project, Variant
from models.vehicle import Side, Vehicle
from tests.benchmarks.limits import on_time
from tests.screen import show
from workbench.document import Document
from workbench.editor import ParameterEditor
from workbench.editor.quantity_row import QuantityRow


def test_one_move_of_a_slider(benchmark: BenchmarkFixture, qtbot: QtBot) -> None:
    vehicle = replaced(Vehicle(), ("right",), Side())
    document = Document(
        Project(name="Test", variants=(Variant(name="A", vehicle=vehicle),), baseline="A", candidate="A")
    )
    editor = ParameterEditor()
    qtbot.addWidget(editor)
    editor.set_target(document, document.candidate_path)
    editor.set_reference(vehicle)
    editor.resize(340, 900)
    show(qtbot, editor)
    row = editor.at_hand.entries[0]
    assert isinstance(row, QuantityRow)
    row.slider.setSliderDown(True)
    places = itertools.cycle([*range(100, 900, 3), *range(900, 100, -3)])

    def move() -> None:
        row.slider.setSliderPosition(next(places))

    benchmark(move)
    # From the knob through the undo step to all rows, without painting.  Least of the rounds: what other
    # programs on the machine add is not ours.
    on_time("one move of a slider", benchmark.stats.stats.min, 1.5e-3)
    assert document.undo_stack.count() == 1
