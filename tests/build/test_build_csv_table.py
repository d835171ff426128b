from pathlib import Path

import pytest

from swapwright.base.csv_table import csv_table
from swapwright.base.errors import InputError, UnitError
from swapwright.base.table import Map
from swapwright.build.load import load
from swapwright.build.resolve import resolve
from swapwright.catalogue.read import Catalogue

MAP = "rpm N.m %,20,60,120\n1000,80,86,\n4000,88,94,92\n8000,86,92,90\n"
BUILD = (
    'format = 1\n[drive]\nmotor = { kind = "permanent-magnet", peak_power = "75 kW",'
    ' max_speed = "9000 rpm", efficiency_map = { csv = "map.csv" } }\n'
)


@pytest.mark.arithmetic
def test_a_motor_takes_its_efficiency_map_from_a_csv_file_beside_the_build(tmp_path: Path) -> None:
    (tmp_path / "map.csv").write_text(MAP)
    (tmp_path / "car.toml").write_text(BUILD)
    car = resolve(load(tmp_path / "car.toml"), Catalogue())
    table = car.tables["drive.motor.efficiency_map"]
    assert isinstance(table, Map)
    assert table.columns == (20.0, 60.0, 120.0)
    assert table.rows[0] == pytest.approx(104.7198, rel=1e-6)
    assert table.z == ((0.80, 0.86, 0.0), (0.88, 0.94, 0.92), (0.86, 0.92, 0.90))


@pytest.mark.arithmetic
def test_a_changed_efficiency_map_changes_the_revision(tmp_path: Path) -> None:
    (tmp_path / "map.csv").write_text(MAP)
    (tmp_path / "car.toml").write_text(BUILD)
    before = resolve(load(tmp_path / "car.toml"), Catalogue()).revision
    (tmp_path / "map.csv").write_text(MAP.replace("94", "93"))
    assert resolve(load(tmp_path / "car.toml"), Catalogue()).revision != before


@pytest.mark.arithmetic
def test_a_two_column_file_is_a_curve(tmp_path: Path) -> None:
    (tmp_path / "pull.csv").write_text("rpm,N.m\n0,160\n4000,158\n8000,80\n")
    assert csv_table("pull.csv", tmp_path) == {
        "x": [0.0, 4000.0, 8000.0],
        "y": [160.0, 158.0, 80.0],
        "x_unit": "rpm",
        "y_unit": "N.m",
    }


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("name", "text", "said"),
    [
        ("map.csv", None, "no file"),
        ("../map.csv", MAP, "not the name"),
        ("map.txt", MAP, "not the name"),
        ("map.csv", "rpm N.m %,20\n1000,eighty\n2000,80\n", "row 2"),
        ("map.csv", "rpm N.m %,20,40\n1000,80,85\n2000,80\n", "row 3"),
        ("map.csv", "torque,20,40\n1000,80,85\n2000,80,85\n", "units"),
        ("map.csv", "rpm N.m %,20\n", "fewer than three"),
        ("map.csv", "rpm N.m %,20\n1000,nan\n2000,80\n", "row 2"),
    ],
)
def test_a_table_file_that_cannot_be_read_is_named_with_its_row(
    tmp_path: Path, name: str, text: str | None, said: str
) -> None:
    if text is not None:
        (tmp_path / "map.csv").write_text(text)
    with pytest.raises(UnitError, match=said):
        csv_table(name, tmp_path)


@pytest.mark.arithmetic
def test_a_missing_table_file_is_one_problem_of_the_build(tmp_path: Path) -> None:
    (tmp_path / "car.toml").write_text(BUILD)
    with pytest.raises(InputError) as caught:
        load(tmp_path / "car.toml")
    (problem,) = caught.value.problems
    assert problem.path == "drive.motor.efficiency_map"
    assert problem.line == 3


@pytest.mark.arithmetic
def test_a_shop_part_takes_its_map_from_a_csv_file_beside_it(tmp_path: Path) -> None:
    folder = tmp_path / "motor"
    folder.mkdir()
    (folder / "map.csv").write_text(MAP)
    (folder / "my-motor.toml").write_text(
        'kind = "permanent-magnet"\npeak_power = "75 kW"\nmax_speed = "9000 rpm"\n'
        'efficiency_map = { csv = "map.csv" }\n'
    )
    part = Catalogue((tmp_path,)).get("motor", "my-motor")
    assert isinstance(part.tables["efficiency_map"], Map)
