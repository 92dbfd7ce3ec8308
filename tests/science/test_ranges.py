import subprocess
import sys

import numpy as np
import pytest

from stillroom.science.ranges import OutOfRange, within


def gate(value):
    return within("power_w", value, 0, 100, source="stoves", hint="Give watts.")


def test_the_message_says_what_came_what_is_allowed_who_says_so_and_what_next():
    with pytest.raises(OutOfRange) as caught:
        gate(250)
    assert str(caught.value) == (
        "power_w = 250 is outside 0 to 100, the range of stoves. Give watts."
    )


def test_the_ends_belong_to_the_range():
    assert gate(0) == 0.0
    assert gate(100) == 100.0


@pytest.mark.parametrize(
    "nan",
    [float("nan"), np.array([1.0, np.nan])],
    ids=["number", "element"],
)
def test_not_a_number_is_refused(nan):
    with pytest.raises(OutOfRange, match="power_w = nan"):
        gate(nan)


def test_shapes_are_kept():
    assert isinstance(gate(5), float)
    assert isinstance(gate(np.float64(5)), float)
    assert isinstance(gate(np.array(5.0)), float)
    assert gate(np.ones((2, 3))).shape == (2, 3)
    assert gate([1, 2]).tolist() == [1.0, 2.0]


def test_one_kitchen_does_not_load_the_array_library():
    program = (
        "import sys\n"
        "from stillroom.science import air, gel, water\n"
        "gel.jelly_point_k(water.boiling_point_k(air.pressure_pa(655.0)))\n"
        "sys.exit('numpy' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", program], check=False).returncode == 0
