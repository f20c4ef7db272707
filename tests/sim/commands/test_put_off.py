"""Modules that wait: found where they are, run when looked into, all others left alone."""

import subprocess
import sys

import numpy as np

from sim.commands.put_off import PutOff

LOOKED_INTO = """
import sys
from sim.commands.put_off import put_off
put_off()
import numpy
waiting = numpy.f2py
assert "numpy.f2py.crackfortran" not in sys.modules, "run at once"
assert callable(waiting.get_include)
assert "numpy.f2py.crackfortran" in sys.modules
"""


UNDOCUMENTED = """
from sim.commands.put_off import put_off
put_off()
from matplotlib.figure import Figure
from matplotlib.patches import Circle
figure = Figure()
disc = Circle((0.5, 0.5), 0.2)
figure.add_axes((0, 0, 1, 1)).add_artist(disc)
disc.set(radius=0.3, facecolor="red")
assert disc.get_radius() == 0.3
assert "facecolor" not in (Circle.set.__doc__ or "")
"""


def test_drawing_works_without_its_documentation():
    done = subprocess.run([sys.executable, "-W", "error", "-c", UNDOCUMENTED], capture_output=True, text=True)
    assert (done.returncode, done.stderr) == (0, "")


def test_a_module_is_run_when_it_is_looked_into():
    done = subprocess.run([sys.executable, "-c", LOOKED_INTO], capture_output=True, text=True)
    assert (done.returncode, done.stderr) == (0, "")


ALL_OF_SCIPY = """
from sim.commands.put_off import put_off
put_off()
from scipy import fft, integrate, interpolate, linalg, ndimage, optimize, signal, sparse, spatial, special, stats
assert abs(stats.norm.ppf(0.975) - 1.959963984540054) < 1e-12
assert abs(stats.Normal().icdf(0.975) - 1.959963984540054) < 1e-12
assert abs(stats.pearsonr([1.0, 2.0, 3.0], [1.0, 2.0, 3.0]).statistic - 1.0) < 1e-12
"""


def test_scipy_works_with_its_documentation_unread():
    done = subprocess.run([sys.executable, "-W", "error", "-c", ALL_OF_SCIPY], capture_output=True, text=True)
    assert (done.returncode, done.stderr) == (0, "")


def test_every_other_module_is_left_to_the_usual_finders():
    assert PutOff().find_spec("numpy.linalg", np.__path__) is None
    assert PutOff().find_spec("scipy.special", None) is None
