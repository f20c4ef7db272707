"""Changes of constants and signs: which there are, what they do to a source, and whose tests are asked."""

import pytest

SOURCE = '''"""A docstring with 0.5 in it."""
WIDE: Final = 0.05  # µm, not ascii
TIGHT = 1e-9

def area(a, b):
    return (a + WIDE) * b - 0.4
'''


@pytest.fixture
def mutate(script):
    return script("mutate")


def test_each_constant_and_sign_is_changed_by_itself(mutate):
    found = [str(m) for m in mutate.mutants_of("x.py", SOURCE)]
    assert sorted(found) == ["x.py:2: 0.05 -> 0.0625", "x.py:6: + -> -", "x.py:6: - -> +", "x.py:6: 0.4 -> 0.5"]


def test_a_change_is_made_where_it_says_and_nowhere_else(mutate):
    for mutant in mutate.mutants_of("x.py", SOURCE):
        lines, changed = SOURCE.split("\n"), mutant.applied(SOURCE).split("\n")
        differ = [i for i, (a, b) in enumerate(zip(lines, changed, strict=True)) if a != b]
        assert differ == [mutant.line - 1]
    sign = next(m for m in mutate.mutants_of("x.py", SOURCE) if m.old == "+")
    assert "return (a - WIDE) * b - 0.4" in sign.applied(SOURCE)
    with pytest.raises(ValueError, match="says otherwise"):
        sign.applied(SOURCE.replace("(a", "( a"))


def test_a_seed_draws_the_same_changes_again(mutate):
    rooms = ["sim/assembly", "sim/settling"]
    once, again, other = (mutate.drawn(rooms, 8, seed) for seed in (3, 3, 4))
    assert once == again != other
    assert [m.file.startswith("sim/assembly/") for m in once] == [True] * 4 + [False] * 4


def test_nearest_are_tests_of_the_module_and_of_what_is_built_on_it(mutate):
    near = mutate.nearest("sim/assembly/seat.py")
    assert near[0] == "tests/sim/assembly/test_seat.py"
    assert "tests/sim/assembly/test_worn_plate.py" in near
    assert "tests/sim/answers/fit/test_straps.py" in near  # imports it
    assert "tests/sim/assembly/test_afloat.py" not in near
