"""Damaged results, roads and copies of unsaved work: taken, or refused with the program's own error."""

from __future__ import annotations

import io
import os
import zipfile
from collections.abc import Callable
from functools import partial
from pathlib import Path
from random import Random
from typing import Any

import numpy as np
import pytest

from models.errors import InputError
from models.project import new_project
from models.project.recovery import Session, pending
from models.roads.csv_import import inspect_csv, preview_rows, read_csv
from models.roads.opencrg import read_opencrg, tracks
from models.roads.prepare import prepared
from models.studies import ResultFileError, StudyResult, load_result, save_result
from models.studies.storage import dump_result, parse_result
from models.study import GlobalSensitivity
from tests.robustness.mutations import mutated_bytes, mutated_json
from tests.study_cases import by_formula, spread

FILES = int(os.environ.get("CORDUROY_MUTATIONS", "10000")) // 5
SEED = int(os.environ.get("CORDUROY_SEED", "1"))

CSV = (
    "distance [m],left [mm],right [mm]\n0,1.5,2\n0.1,2.5,-3\n0.2,3.5,4\n0.3,,4\n0.4,1,1e-3\n",
    "# profilometer 7\nWeg (m);links (mm);rechts (mm)\n0;1,5;2\n0,1;2,5;-3\n0,2;3,5;4\n0,3;3,5;4\n",
    "".join(f"{n / 10:.1f}\t{n % 7 * 1e-3}\t{n % 5 * 1e-3}\n" for n in range(40)),
)
CRG_HEAD = """$ROAD_CRG
REFERENCE_LINE_START_U = 0.0
REFERENCE_LINE_INCREMENT = 0.5
LONG_SECTION_V_RIGHT = -1.0
LONG_SECTION_V_LEFT = 1.0
$KD_Definition
#:{kind}
D:reference line slope,m/m
D:long section 1,m
D:long section 2,m
D:long section 3,m
$$$$$$$$
"""
#: Cells that a table may hold in the place of a number.
CELLS = (
    "1e308",
    "-1e308",
    "1e999",
    "nan",
    "inf",
    "",
    "-",
    "1e-320",
    "9" * 400,
    "0x1",
    "1_0",
    "٣",
    '"',
    "a" * 9999,
)


def crg(kind: str) -> bytes:
    heights = np.round(np.sin(np.arange(80.0).reshape(20, 4)), 4)
    if kind == "KRBI":
        return CRG_HEAD.format(kind=kind).encode() + heights.astype(">f4").tobytes()
    rows = "".join("".join(f"{height:10.4f}" for height in row) + "\n" for row in heights)
    return (CRG_HEAD.format(kind=kind) + rows).encode()


def exchanged(data: bytes, random: Random) -> bytes:
    """The table with a number exchanged for a cell that is none, or for a wild one; or any other damage."""
    if random.random() < 0.5:
        return mutated_bytes(data, random)
    text = data.decode("latin-1")
    words = [place for place, sign in enumerate(text) if sign.isdigit()]
    place = random.choice(words)
    return (text[:place] + random.choice(CELLS) + text[place + 1 :]).encode("utf-8")


def taken_or_refused(read: Callable[[], object], damaged: bytes) -> bool:
    try:
        read()
    except InputError as error:
        told = str(error)
    except Exception as error:
        raise AssertionError(f"{damaged[:3000]!r}") from error
    else:
        return True
    assert told.strip()
    assert len(told.encode()) < 20_000
    return False


def road_of_csv(path: Path) -> None:
    guess = inspect_csv(path)
    for delimiter in (guess.choice.delimiter, " "):
        preview_rows(guess.lines, delimiter)
    prepared(read_csv(path, guess.choice))


def road_of_crg(path: Path) -> None:
    prepared(tracks(read_opencrg(path), 1.5, path.name))


@pytest.mark.parametrize(
    ("bases", "read"),
    [
        ([text.encode() for text in CSV], road_of_csv),
        ([crg("KRBI"), crg("LRFI")], road_of_crg),
    ],
    ids=["csv", "opencrg"],
)
def test_damaged_roads(tmp_path: Path, bases: list[bytes], read: Callable[[Path], None]) -> None:
    random, path = Random(SEED), tmp_path / "road.dat"
    for base in bases:
        path.write_bytes(base)
        read(path)
    taken = 0
    for _ in range(FILES):
        damaged = exchanged(random.choice(bases), random)
        path.write_bytes(damaged)
        taken += taken_or_refused(partial(read, path), damaged)
    assert FILES / 50 < taken < FILES * 0.95


@pytest.mark.skipif(os.name != "posix", reason="devices and pipes of POSIX")
@pytest.mark.parametrize("read", [inspect_csv, read_opencrg, load_result], ids=lambda read: read.__name__)
def test_what_never_ends_or_never_answers_is_not_read(tmp_path: Path, read: Callable[[Path], Any]) -> None:
    os.mkfifo(tmp_path / "pipe")
    for path in (tmp_path / "pipe", Path("/dev/zero"), tmp_path):
        with pytest.raises(InputError, match="the file cannot be read: it is"):
            read(path)


# -- results of studies -----------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def result() -> StudyResult:
    study = GlobalSensitivity(parameters=spread(2), samples=8, metrics=("pitch_share",))
    return by_formula(study, lambda share: share[:, :1], 2)


def archive(result: StudyResult, **changed: object) -> bytes:
    """File of results with other arrays, or with bytes in the place of one."""
    with np.load(io.BytesIO(dump_result(result))) as content:
        arrays = {name: content[name] for name in content.files} | changed
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as packed:
        for name, array in arrays.items():
            member = io.BytesIO()
            if isinstance(array, bytes):
                member.write(array)
            else:
                np.save(member, np.asarray(array), allow_pickle=True)
            packed.writestr(f"{name}.npy", member.getvalue())
    return file.getvalue()


def about(result: StudyResult) -> str:
    with np.load(io.BytesIO(dump_result(result))) as content:
        return bytes(content["about"]).decode()


def test_damaged_results(result: StudyResult) -> None:
    random, whole, text = Random(SEED), archive(result), about(result)
    parse_result(whole)
    plain = io.BytesIO()
    np.savez(
        plain, **{name: np.load(io.BytesIO(whole))[name] for name in ("about", "rows", "values", "state")}
    )
    for number in range(FILES // 2):
        if number % 2:
            # Not packed, so that damage reaches the arrays; and past the checksums of the archive.
            damaged = mutated_bytes(random.choice((whole, plain.getvalue())), random)
        else:
            said = mutated_json(text, random).encode("utf-8", "surrogatepass")
            damaged = archive(result, about=np.frombuffer(said, dtype=np.uint8))
        taken_or_refused(partial(parse_result, damaged), damaged)


def header(shape: str, dtype: str = "'<f8'") -> bytes:
    text = f"{{'descr': {dtype}, 'fortran_order': False, 'shape': {shape}, }}".ljust(117) + "\n"
    return b"\x93NUMPY\x01\x00" + len(text).to_bytes(2, "little") + text.encode()


@pytest.mark.parametrize(
    ("changed", "reason"),
    [
        ({"values": header("(10000000000000,)")}, "not as long as it says"),
        ({"rows": header("(-1, -1)") + b"0" * 8}, "no array that this program wrote"),
        ({"rows": header("(1000000,)", "'|i1'") + bytes(1_000_000)}, "holds .i1, not <f8"),
        ({"rows": header("(1,)", "'|O'") + b"\x80\x04K\x01."}, "no array that this program wrote"),
        ({"values": header("__import__('os').getpid()")}, "no array that this program wrote"),
        ({"values": b"\x93NUMPY\x02\x00" + b"\xff" * 4}, "no array that this program wrote"),
        ({"about": header("(0,)", "'|u1'")}, "damaged"),
    ],
)
def test_arrays_that_say_what_they_are_not(result: StudyResult, changed: dict[str, Any], reason: str) -> None:
    with pytest.raises(ResultFileError, match=reason):
        parse_result(archive(result, **changed))


def test_a_small_file_that_unpacks_to_much_takes_no_memory(result: StudyResult) -> None:
    import tracemalloc

    bomb = archive(result, values=header("(25000000,)", "'|i1'") + bytes(25_000_000))
    assert len(bomb) < 100_000
    tracemalloc.start()
    with pytest.raises(ResultFileError, match=r"holds .i1"):
        parse_result(bomb)
    used = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert used < 3e6


def test_any_byte_of_a_kept_result_counts(result: StudyResult, tmp_path: Path) -> None:
    path, random = tmp_path / "a.npz", Random(SEED)
    kept = save_result(result, path)
    data = path.read_bytes()
    load_result(path, kept)
    for place in (0, len(data) - 1, *(random.randrange(len(data)) for _ in range(50))):
        path.write_bytes(data[:place] + bytes([data[place] ^ 1]) + data[place + 1 :])
        with pytest.raises(ResultFileError, match="another than the one that the project refers to"):
            load_result(path, kept)


# -- copies of unsaved work -------------------------------------------------------------------------------


def test_damaged_copies_of_unsaved_work(tmp_path: Path) -> None:
    random = Random(SEED)
    session = Session(tmp_path)
    session.write(new_project(), tmp_path / "car.corduroy")
    session._lock.release()  # as the end of the process does
    (file,) = tmp_path.glob("*.autosave")
    data = file.read_bytes()
    for number in range(FILES // 4):
        if number % 2:
            file.write_bytes(mutated_bytes(data, random))
        else:
            file.write_bytes(mutated_json(data.decode(), random).encode("utf-8", "surrogatepass"))
        (copy,) = pending(tmp_path)
        assert (copy.project is None) == bool(copy.damage)
        copy.saved_at.astimezone().strftime("%Y-%m-%d %H:%M")  # as it is shown
        copy.damage.encode()
        assert len(copy.damage) < 20_000
        if copy.project is not None:
            assert copy.project == new_project()
        assert copy.path is None or copy.path.is_absolute()
