"""Elementary functions as compiled, where compiled code is kept, and who must not wait for the compiler."""

import os
import subprocess
import sys
import tempfile

import numba
import numpy as np
import pytest

from sim import cell_laws
from sim.batch import compiled, elementary


@numba.njit(error_model="numpy", fastmath=compiled.FAST)
def _each(t, result):
    for i in range(t.size):
        result[i, 0] = cell_laws.sigmoid(t[i])
        result[i, 1] = cell_laws.decay(t[i])
        result[i, 2] = cell_laws.inverse_cube_root(1.0 + abs(t[i]))


def test_elementary_functions():
    t = np.concatenate([np.linspace(-690.0, 690.0, 20_001), np.geomspace(1e-12, 600.0, 2001)])
    result = np.empty((len(t), 3))
    _each(t, result)
    # six terms of the series at ln(2)/16, to the eighth power: 8 (ln(2)/16)^7 / 7! = 5e-13
    np.testing.assert_allclose(result[:, 0], cell_laws.sigmoid(t), rtol=6e-13)
    np.testing.assert_allclose(result[:, 1], cell_laws.decay(t), rtol=6e-13)
    np.testing.assert_allclose(result[:, 2], cell_laws.inverse_cube_root(1.0 + abs(t)), rtol=1e-15)


def test_elementary_functions_far_out_stay_finite():
    t = np.array([-1e30, -800.0, 800.0, 1e30])
    result = np.empty((4, 3))
    _each(t, result)
    np.testing.assert_allclose(result[:, 0], [0.0, 0.0, 1.0, 1.0], atol=1e-300)
    assert np.isfinite(result).all()
    assert elementary.SAFE == 700.0


def test_not_a_number_stays_one():
    result = np.empty((1, 3))
    _each(np.array([np.nan]), result)
    assert np.isnan(result[0, 2])


def test_compiled_code_is_kept_apart_for_each_state_of_the_sources(monkeypatch, tmp_path):
    monkeypatch.setenv("NUMBA_CACHE_DIR", str(tmp_path))
    here = compiled._cache_folder()
    assert here is not None
    assert here.parent == tmp_path / "compiled"
    other = tmp_path / "laws.py"
    other.write_text("# changed", encoding="utf-8")
    monkeypatch.setattr(cell_laws, "__file__", str(other))
    assert compiled._cache_folder() != here


def test_without_a_folder_to_write_to_it_compiles_all_the_same(monkeypatch, tmp_path):
    (tmp_path / "file").write_text("", encoding="utf-8")
    nowhere = tmp_path / "file" / "below"
    monkeypatch.setenv("NUMBA_CACHE_DIR", str(nowhere))
    monkeypatch.setattr(compiled.tempfile, "gettempdir", lambda: str(nowhere))
    assert compiled._cache_folder() is None
    assert compiled.loop(lambda x: x + 1.0)(2.0) == 3.0


def test_one_rig_never_imports_the_compiler():
    code = (
        "import sys, sim.commands.main, sim.case, sim.statics.equilibria, sim.batch.rig_arrays;"
        "sys.exit('numba' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", code]).returncode == 0


@pytest.mark.skipif(os.name == "nt", reason="there each user has temporary folders of their own")
def test_takes_no_code_from_a_temporary_folder_that_others_may_write_to(monkeypatch, tmp_path):
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))
    own = compiled._own_temporary()
    assert own.parent == tmp_path
    assert own.stat().st_mode & 0o777 == 0o700
    own.chmod(0o777)
    assert compiled._own_temporary() is None
    own.rmdir()
    own.symlink_to(tmp_path)
    assert compiled._own_temporary() is None
