import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]


@pytest.fixture
def setup_env(script):
    return script("setup_env")


@pytest.fixture
def project(tmp_path, setup_env):
    """A folder, with a blank in its name, that looks set up: files, .venv and its Python."""
    root = tmp_path / "a project"
    (root / "scripts").mkdir(parents=True)
    (root / "scripts" / "constraints.txt").write_text("numpy==2.4.6\n", encoding="utf-8")
    (root / "pyproject.toml").write_text("[project]\n", encoding="utf-8")
    python = setup_env.venv_python(root)
    python.parent.mkdir(parents=True)
    python.touch()
    (root / ".venv" / "pyvenv.cfg").write_text("version = 3.11.7\n", encoding="utf-8")
    return root


@pytest.fixture
def installs(setup_env, monkeypatch):
    """Calls of the two slow steps, which do nothing here."""
    calls = []
    monkeypatch.setattr(setup_env, "_make_venv", lambda root, uv: calls.append("venv"))
    monkeypatch.setattr(setup_env, "_install", lambda root, extra, uv: calls.append(extra))
    return calls


def test_installs_once_and_then_returns_at_once(setup_env, project, installs):
    assert setup_env.ensure("dev", root=project) == setup_env.venv_python(project)
    setup_env.ensure("dev", root=project)
    setup_env.ensure("", root=project)  # dev holds all that running needs
    assert installs == ["venv", "dev"]


def test_dev_packages_are_added_to_a_plain_set_up(setup_env, project, installs):
    setup_env.ensure("", root=project)
    setup_env.ensure("dev", root=project)
    assert installs == ["venv", "", "venv", "dev"]


@pytest.mark.parametrize("file", ["scripts/constraints.txt", "pyproject.toml", ".venv/pyvenv.cfg"])
def test_a_change_of_what_it_was_made_from_sets_up_again(setup_env, project, installs, file):
    setup_env.ensure("", root=project)
    (project / file).write_text("something else\n", encoding="utf-8")
    setup_env.ensure("", root=project)
    assert installs == ["venv", "", "venv", ""]


def test_a_moved_folder_sets_up_again(setup_env, project, installs):
    setup_env.ensure("", root=project)
    moved = project.with_name("moved")
    shutil.move(project, moved)
    setup_env.ensure("", root=moved)
    assert installs == ["venv", "", "venv", ""]


def test_an_interrupted_install_leaves_no_stamp(setup_env, project, installs, monkeypatch):
    setup_env.ensure("", root=project)
    (project / "pyproject.toml").write_text("[project]\nname='x'\n", encoding="utf-8")

    def stopped(root, extra, uv):
        raise KeyboardInterrupt

    monkeypatch.setattr(setup_env, "_install", stopped)
    with pytest.raises(KeyboardInterrupt):
        setup_env.ensure("", root=project)
    assert not (project / ".venv" / "hangflat-setup.json").exists()


@pytest.mark.parametrize("stamp", ["", "[]", "{", json.dumps({"made_from": "x"})])
def test_a_spoilt_stamp_sets_up_again(setup_env, project, installs, stamp):
    (project / ".venv" / "hangflat-setup.json").write_text(stamp, encoding="utf-8")
    setup_env.ensure("", root=project)
    assert installs == ["venv", ""]


def test_a_folder_that_is_no_venv_is_left_alone(setup_env, project):
    (project / ".venv" / "pyvenv.cfg").unlink()
    (project / ".venv" / "precious.txt").write_text("keep me", encoding="utf-8")
    with pytest.raises(setup_env.SetupError, match="no virtual environment"):
        setup_env.ensure("", root=project)
    assert (project / ".venv" / "precious.txt").read_text(encoding="utf-8") == "keep me"


def test_missing_ensurepip_says_what_to_install(setup_env, monkeypatch):
    monkeypatch.setattr(setup_env.importlib.util, "find_spec", lambda name: None if name == "ensurepip" else name)
    with pytest.raises(setup_env.SetupError, match=r"apt install python3\.\d+-venv"):
        setup_env._require_venv_module()


def test_a_failed_install_says_why_and_keeps_the_log(setup_env, project, monkeypatch):
    monkeypatch.setattr(setup_env, "_make_venv", lambda root, uv: None)
    monkeypatch.setattr(setup_env.shutil, "which", lambda name: None)
    monkeypatch.setattr(setup_env, "_require_pip", lambda python: None)
    monkeypatch.setattr(
        setup_env,
        "run_shown",
        lambda *_, **__: (1, "ERROR: Could not find a version\nFailed to establish a new connection"),
    )
    with pytest.raises(setup_env.SetupError, match="could not be reached"):
        setup_env.ensure("", root=project)


def test_uv_that_fails_hands_over_to_pip(setup_env, project, monkeypatch):
    commands = []

    def run(title, command, **_):
        commands.append(command)
        return (1 if command[0] == "/somewhere/uv" else 0), ""

    monkeypatch.setattr(setup_env, "run_shown", run)
    monkeypatch.setattr(setup_env, "_require_pip", lambda python: None)
    setup_env._install(project, "dev", "/somewhere/uv")
    assert [c[0] for c in commands] == ["/somewhere/uv", *2 * [str(setup_env.venv_python(project))]]
    assert commands[-1][-1] == ".[dev]"
    assert all("--constraint" in c for c in commands)


@pytest.mark.parametrize(
    ("output", "advice"),
    [
        ("WARNING: Retrying after connection broken by 'NewConnectionError'", "could not be reached"),
        ("OSError: [Errno 28] No space left on device", "disk is full"),
        ("ERROR: No matching distribution found for vtk==9.7.2", "no ready-made vtk==9.7.2 for Python"),
        ("ERROR: Failed building wheel for teqp", "had to be compiled"),
        ("ERROR: [WinError 5] Access is denied: 'C:\\\\x'", "in use or may not be written"),
        ("something new", "end of what it said"),
    ],
)
def test_explains_known_troubles(script, output, advice):
    assert advice in script("install_trouble").explained(output)


def test_a_lost_network_is_told_before_the_missing_package_that_follows_from_it(script):
    output = "Temporary failure in name resolution\nERROR: No matching distribution found for numpy==2.4.6"
    assert "could not be reached" in script("install_trouble").explained(output)


@pytest.mark.parametrize(
    ("line", "shown"),
    [
        ("Collecting vtk!=9.4.0,<9.8 (from pyvista>=0.45->hangflat==0.1.0)\n", "looking up vtk"),
        ("  Downloading vtk-9.7.2-cp311-cp311-manylinux_x86_64.whl (112.3 MB)\n", "fetching vtk (112.3 MB)"),
        ("Installing collected packages: numpy, scipy, vtk\n", "installing 3 package(s)"),
        ("  Requirement already satisfied: numpy\n", None),
    ],
)
def test_condenses_lines_of_the_installer(script, line, shown):
    assert script("progress").condensed(line) == shown


def test_runs_a_command_and_keeps_its_output(script, tmp_path, capsys):
    code, output = script("progress").run_shown(
        "a step", [sys.executable, "-c", "print('Collecting numpy'); raise SystemExit(3)"],
        cwd=tmp_path, env=dict(os.environ), log=tmp_path / "log",
    )  # fmt: skip
    assert (code, output) == (3, "Collecting numpy\n")
    assert (tmp_path / "log").read_text(encoding="utf-8").endswith("Collecting numpy\n")
    assert "a step: FAILED" in capsys.readouterr().out


def test_git_ignores_what_setting_up_makes():
    git = shutil.which("git")
    if git is None or not (ROOT / ".git").exists():
        pytest.skip("not a git checkout")
    names = [".venv/x", "hangflat.egg-info/x", "out/demo.png"]
    ignored = subprocess.run([git, "check-ignore", *names], cwd=ROOT, capture_output=True, text=True).stdout.split()
    assert ignored == names


def test_a_folder_of_any_name_can_be_told_and_logged(tmp_path):
    """Under an old code page, and with a name that the system could not read as text."""
    for name in ("Łódź dir", "t\udcc3st"):
        folder = tmp_path / name
        try:
            folder.mkdir()
        except OSError:
            continue  # this disk takes no such name
        shutil.copytree(ROOT / "scripts", folder / "scripts", ignore=shutil.ignore_patterns("__pycache__"))
        code = (
            f"import sys; sys.path.insert(0, {str(folder / 'scripts')!r})\n"
            "import setup_env as s\n"
            "s._is_up_to_date = lambda *_: True\n"
            "s.ensure(); print(s.ROOT)\n"
            "log = s.ROOT / 'log'\n"
            "s.run_shown('a step', [sys.executable, '-c', '0', str(log)], cwd=s.ROOT, env=None, log=log)\n"
        )
        env = dict(os.environ) | {"PYTHONIOENCODING": "cp437", "PYTHONUTF8": "0", "PYTHONDONTWRITEBYTECODE": "1"}
        done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, encoding="cp437", env=env)
        assert done.returncode == 0, done.stderr
        assert "\\u0141" in done.stdout or "\\udcc3" in done.stdout
        assert (folder / "log").read_text(encoding="utf-8").startswith("$ ")
