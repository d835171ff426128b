from __future__ import annotations

from pathlib import Path

import pytest

from swapwright.base.csv_table import LARGEST, csv_table
from swapwright.base.errors import UnitError

CURVE = "rpm,N.m\n0,160\n4000,158\n"


@pytest.mark.arithmetic
@pytest.mark.parametrize("last_row", ["8000", "8000,80,1"])
def test_a_curve_with_a_ragged_last_row_is_still_known_as_a_curve(tmp_path: Path, last_row: str):
    (tmp_path / "pull.csv").write_text(CURVE + last_row + "\n")
    with pytest.raises(UnitError, match="a row does not have two columns"):
        csv_table("pull.csv", tmp_path)


@pytest.mark.arithmetic
def test_blank_lines_and_a_byte_order_mark_do_not_matter(tmp_path: Path):
    (tmp_path / "plain.csv").write_text(CURVE)
    (tmp_path / "odd.csv").write_text("\ufeff" + CURVE.replace("\n", "\n , \n\n"), "utf-8")
    assert csv_table("odd.csv", tmp_path) == csv_table("plain.csv", tmp_path)


@pytest.mark.arithmetic
def test_a_table_file_may_be_as_large_as_the_limit_and_no_larger(tmp_path: Path):
    path = tmp_path / "pull.csv"
    path.write_text(CURVE + "\n" * (LARGEST - len(CURVE)))
    assert csv_table("pull.csv", tmp_path)["y"] == [160.0, 158.0]
    path.write_text(CURVE + "\n" * (LARGEST - len(CURVE) + 1))
    with pytest.raises(UnitError, match="is larger than"):
        csv_table("pull.csv", tmp_path)


@pytest.mark.arithmetic
def test_a_file_that_is_no_text_is_refused(tmp_path: Path):
    (tmp_path / "pull.csv").write_bytes(b"rpm,N.m\n\xff\xfe,1\n2,3\n")
    with pytest.raises(UnitError, match="is not a text file"):
        csv_table("pull.csv", tmp_path)


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("text", "row"),
    [
        ("rpm N.m %,20,x\n1000,80,85\n2000,80,85\n", 1),
        ("rpm N.m %,20,40\n1000,80,85\nx,80,85\n", 3),
        ("rpm N.m %,20,40\n1000,80,85\n2000,80,x\n", 3),
        ("rpm,N.m\n0,160\n4000,x\n", 3),
    ],
    ids=["columns", "rows", "cells", "curve"],
)
def test_a_number_that_is_none_is_named_by_its_row(tmp_path: Path, text: str, row: int):
    (tmp_path / "table.csv").write_text(text)
    with pytest.raises(UnitError, match=f"row {row} says 'x'"):
        csv_table("table.csv", tmp_path)
