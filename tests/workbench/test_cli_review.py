"""The review from the command line."""

from __future__ import annotations

import io
import shutil
from pathlib import Path

import pytest
from pypdf import PdfReader

from models.project import load, save, set_study
from models.studies import ask, file_name, folder_of, run_study, save_result, this_thread
from models.study import Parameter, Sweep
from workbench.cli import main

SALOON = Path(__file__).parents[2] / "sample_projects" / "large_saloon.corduroy"
QUICK = ("--sections", "rates,cautions", "--date", "2026-11-25")


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return Path(shutil.copy(SALOON, tmp_path / "car.corduroy"))


def test_a_pdf_stands_beside_the_project_by_default(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["review", str(file), *QUICK]) == 0
    told = capsys.readouterr().out.splitlines()
    assert told[0] == str(file.with_suffix(".pdf"))
    assert told[1].startswith("Inputs: ")
    text = PdfReader(io.BytesIO(file.with_suffix(".pdf").read_bytes())).pages[0].extract_text()
    assert told[1].removeprefix("Inputs: ") in text


def test_options_reach_the_document(file: Path, tmp_path: Path) -> None:
    page = tmp_path / "out.html"
    given = (
        "--author",
        "R. Example",
        "--note",
        "Second <issue>",
        "--units",
        "inch-pound",
        "--paper",
        "letter",
    )
    assert main(["review", str(file), "--html", str(page), *QUICK, *given]) == 0
    text = page.read_text(encoding="utf-8")
    assert "R. Example" in text
    assert "Second &lt;issue&gt;" in text
    assert "size: letter" in text
    assert "lbf/in" in text
    assert text.index("1 Mode rates and modes") < text.index("2 Cautions")
    assert not file.with_suffix(".pdf").exists()


def test_the_same_command_writes_the_same_files(file: Path, tmp_path: Path) -> None:
    made = []
    for name in ("one", "two"):
        files = tmp_path / f"{name}.pdf", tmp_path / f"{name}.html"
        assert main(["review", str(file), "--pdf", str(files[0]), "--html", str(files[1]), *QUICK]) == 0
        made.append([path.read_bytes() for path in files])
    assert made[0] == made[1]


def test_kept_results_of_a_study_are_shown(file: Path, tmp_path: Path) -> None:
    rate = Parameter(place="front.spring.rate", kind="rate", low=1e3, high=2e4)
    study = Sweep(name="front rate", parameter=rate, points=5)
    project = set_study(load(file), study)
    save(project, file)
    page = tmp_path / "out.html"
    wanted = ("--sections", "studies", "--study", "all", "--html", str(page), "--date", "x")
    assert main(["review", str(file), *wanted]) == 0
    assert "no results are kept beside the project" in page.read_text(encoding="utf-8")
    asked = ask(project, study)
    with this_thread() as workers:
        save_result(run_study(asked, workers), folder_of(file) / file_name(asked))
    assert main(["review", str(file), *wanted]) == 0
    text = page.read_text(encoding="utf-8")
    assert "5 cars" in text
    assert "over front spring rate" in text


def test_a_project_comes_by_the_standard_input_too(
    file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    page = tmp_path / "out.html"
    for arguments, code in ((["--html", str(page)], 0), ([], 2)):
        monkeypatch.setattr("sys.stdin", io.TextIOWrapper(io.BytesIO(file.read_bytes())))
        assert main(["review", "-", *QUICK, *arguments]) == code
    assert "Large saloon" in page.read_text(encoding="utf-8")
    assert "needs --pdf, --html or --figures" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("wrong", "told"),
    [
        (("--sections", "job,joke"), "joke"),
        (("--study", "none such"), "none such"),
        (("--author", "a" * 90), "80"),
        (("--pdf", "{folder}/missing/out.pdf"), "cannot be written"),
        (("--pdf", "{file}"), "take the place"),
    ],
)
def test_what_is_wrong_is_said(
    file: Path, capsys: pytest.CaptureFixture[str], wrong: tuple[str, str], told: str
) -> None:
    before = file.read_bytes()
    option, value = wrong
    filled = value.format(folder=file.parent, file=file)
    sections = () if option == "--sections" else ("--sections", "cautions")
    assert main(["review", str(file), option, filled, *sections]) == 2
    assert told in capsys.readouterr().err
    assert file.read_bytes() == before
