"""Names of files from names of users."""

from __future__ import annotations

from models.exports import unique_stems


def test_names_of_files_are_plain_and_all_different() -> None:
    names = ["Soft: rear/2", "soft rear 2", "../../etc/passwd", "=1+1", "", "Größe", "CON", "x" * 300]
    found = unique_stems(names)
    assert found[:6] == ["soft-rear-2", "soft-rear-2-2", "etc-passwd", "1-1", "unnamed", "größe"]
    assert len(set(found)) == len(names)
    assert max(map(len, found)) <= 60
