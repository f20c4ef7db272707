import pytest

from sim.telling.common_lines import moment_lines
from sim.telling.language import spoken
from sim.telling.lead_words import like_lead, like_lead_note

FOOT_POUND = 1.3558179483314004  # N m: NIST SP 811, appendix B.8


@pytest.mark.parametrize(
    ("language", "told"),
    [
        ("en", " (like 3.0 lb moved 20 in)"),
        ("de", " (wie 3,0 lb, 20 in versetzt)"),
        ("fr", " (comme 3,0 lb déplacés de 20 in)"),
        ("pl", " (jak 3,0 lb przesunięte o 20 in)"),
    ],
)
def test_who_measures_in_pounds_is_told_of_inches(language, told):
    """20 in are 5/3 ft: three pounds there make 5 lbf ft."""
    with spoken(language, "imperial"):
        assert like_lead(5.0 * FOOT_POUND) == told
        size, like = moment_lines(-5.0 * FOOT_POUND)
    assert "5.0 lbf ft" in size.replace(",", ".")
    assert "20 in" in like
    assert "3.00 lb" in like.replace(",", ".")


def test_records_and_metric_readers_are_told_of_half_a_metre():
    """1 kg in 9.80665 m/s^2, half a metre away."""
    with spoken("en", "imperial"):
        kept = like_lead_note(4.903325)
    assert kept == like_lead(4.903325) == " (like 1.0 kg moved half a metre)"
    assert like_lead(0.1) == ""
