"""`identify`: what cannot be weighed so is refused."""

import pytest

import refdata


@pytest.mark.parametrize(
    ("asked", "says"),
    [
        ({"in_water": "300.99 g"}, "uncertain by 2000 %; instead: weigh a larger piece; or use a finer scale"),
        ({"in_water": "265.7 g", "mass_error": "400 g"}, "weigh a larger piece"),
        ({"length": "1 mm", "diameter": "1 mm", "size_error": "1 mm"}, "measure finer"),
        ({"in_water": "265.7 g", "mass_error": "-0.05 g"}, "below nothing"),
        ({"length": "1 in", "diameter": "1 in", "size_error": "-1 mm"}, "below nothing"),
        ({"in_water": "-5 g"}, "not above nothing"),
    ],
)
def test_impossible_weights_get_one_clear_line(one_clear_line, asked, says):
    one_clear_line("identify", {"mass": "301 g"} | asked, says)


def test_a_scale_without_error_is_believed():
    assert "brass" in refdata.identify("301 g", in_water="265.7 g", mass_error="0 g").families


def test_the_limits_told_are_not_rounded_up_over_a_metal_that_they_leave_out(one_clear_line):
    """1.78 g/cm3 of AZ31B lies above 100/57 x 0.998 x 1.0145 = 1.776."""
    one_clear_line("identify", {"mass": "100 g", "in_water": "43 g"}, "density of 1.726 to 1.776 g/cm3")
