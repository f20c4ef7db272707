"""Surroundings in which a program may find itself: what each takes away, and how it is set up (Linux)."""

from __future__ import annotations

import os
import shlex
import shutil
import subprocess
import sys
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Final

ROOT: Final = Path(__file__).resolve().parent.parent
GRAPHICS: Final = ("libEGL*", "libGL.so*", "libGLX*", "libOSMesa*", "libOpenGL*")
LIBRARIES: Final = ("/usr/lib", "/usr/lib64", "/lib", "/usr/local/lib")
OTHER_USER: Final = 65534  # nobody, by custom
AS_USER: Final = 'set -- setpriv --reuid={0} --regid={0} --clear-groups "$@"'
FAKE_CLOCK: Final = (  # in place of -m: a clock in 1971, before every file here was written
    "import time, runpy; begun = time.time(); real = time.time; time.time = lambda: real() - begun + 4e7; "
    "runpy.run_module('sim.commands.main', run_name='__main__')"
)


SEEN: Final = (  # what is on a disk of our own is gone with it: put it where it can be seen
    'mkdir -m 777 "$base/out/1" "$base/seen"; set +e; "$@"; code=$?; cp -a "$base/out/." "$base/seen"; '
    'umount "$base/out"; cp -a "$base/seen/." "$base/out"; rm -r "$base/seen"; exit $code'
)


@dataclass(frozen=True)
class Sandbox:
    """Folders of one run: ``work`` is the current folder, ``out`` where answers go; the rest says its name."""

    base: Path

    @property
    def work(self) -> Path:
        return self.base / "work"

    @property
    def out(self) -> Path:
        return self.base / "out"

    @property
    def temporary(self) -> Path:
        return self.base / "tmp"

    @property
    def home(self) -> Path:
        return self.base / "home"

    @property
    def cache(self) -> Path:
        return self.base / "cache"


@dataclass(frozen=True)
class Place:
    """One kind of surroundings.

    environment : variables to set, or with None to unset; "{base}" in them is the sandbox
    mounts : shell lines run as root of a mount namespace of our own, "$base" being the sandbox
    last : shell line in place of the plain call "$@"
    prepare : what to do to the sandbox first
    cold : begin with an empty cache;  twice : two at once
    user : run as this user
    python : words after the interpreter in place of "-P -m sim.commands.main"
    redrawn : pictures may look otherwise;  rewrapped : lines may be broken otherwise;  silent : nobody can be told
    undocumented : help has no words, since they are taken away with the docstrings
    """

    name: str
    environment: dict[str, str | None] = field(default_factory=dict)
    mounts: str = ""
    last: str = 'exec "$@"'
    prepare: Callable[[Sandbox], None] | None = None
    cold: bool = False
    twice: bool = False
    user: int | None = None
    python: tuple[str, ...] = ("-P", "-m", "sim.commands.main")
    redrawn: bool = False
    rewrapped: bool = False
    silent: bool = False
    undocumented: bool = False

    def command(self, box: Sandbox, words: Iterable[str]) -> list[str]:
        """The words to run, shells and namespaces around them."""
        as_user = [] if self.user is None else [_opened(), AS_USER.format(self.user)]
        script = "\n".join(line for line in (self.mounts, *as_user, self.last) if line)
        inner = [sys.executable, *self.python, *words]
        if script == 'exec "$@"':
            return inner
        outer = [*namespace(), "sh", "-c"] if self.mounts or self.user is not None else ["sh", "-c"]
        return [*outer, f"set -e; base={shlex.quote(str(box.base))}; {script}", "sh", *inner]

    def why_not(self) -> str:
        """Why it cannot be set up on this system; empty when it can."""
        if not sys.platform.startswith("linux"):
            return "set up on Linux only"
        if self.mounts and not namespace():
            return "no mount namespace of our own is allowed here"
        if self.user is not None and os.geteuid() != 0:
            return "another user takes root"
        if self.user is not None and not (shutil.which("setpriv") and namespace()):
            return "another user takes setpriv and a mount namespace"
        return ""


@cache
def namespace() -> tuple[str, ...]:
    """Words before a command that give it mounts of its own; none where the system does not allow it."""
    for words in (("unshare", "-m"), ("unshare", "-Urm")):
        try:
            if subprocess.run([*words, "true"], capture_output=True, check=False).returncode == 0:
                return words
        except OSError:
            continue
    return ()


def _opened() -> str:
    """Mounts that let another user reach the interpreter, where it lies in somebody's home."""
    prefix = Path(sys.base_prefix).resolve()
    barred = next((p for p in reversed(prefix.parents) if not p.stat().st_mode & 0o001), None)
    if barred is None:
        return ""
    there, shut = shlex.quote(str(prefix)), shlex.quote(str(barred))
    return (
        f'mkdir "$base/python"; mount --bind {there} "$base/python"; mount -t tmpfs -o mode=755 none {shut}; '
        f'mkdir -p {there}; mount --bind "$base/python" {there}'
    )


def _hidden(folders: Iterable[str | Path]) -> str:
    """Mounts that empty folders."""
    return "\n".join(f"mount -t tmpfs none {shlex.quote(str(f))}" for f in folders if Path(f).is_dir())


def _hidden_graphics() -> str:
    """Mounts that put nothing in place of every graphics library."""
    found = {p.resolve() for lib in LIBRARIES for name in GRAPHICS for p in Path(lib).glob(f"**/{name}")}
    return "\n".join(f"mount --bind /dev/null {shlex.quote(str(p))}" for p in sorted(found))


def _matplotlib_fonts() -> Path:
    from matplotlib import get_data_path

    return Path(get_data_path()) / "fonts"


def _unwritable(*folders: Path) -> str:
    lines = []
    for folder in folders:
        place = shlex.quote(str(folder))
        lines += [f"mount --bind {place} {place}", f"mount -o remount,ro,bind {place}"]
    return "\n".join(lines)


def _small(*names: str, size: str) -> str:
    return "\n".join(f'mount -t tmpfs -o size={size},mode=1777 none "$base/{name}"' for name in names)


def _files_for_folders(box: Sandbox) -> None:
    shutil.rmtree(box.cache)
    box.cache.mkdir()
    for name in ("hangflat", "matplotlib", "mesa_shader_cache", "ezdxf", "fontconfig"):
        (box.cache / name).write_text("not a folder", encoding="utf-8")
    (box.home / ".config").write_text("not a folder", encoding="utf-8")


def _damaged(box: Sandbox) -> None:
    """Every cached file cut in half and its end turned about."""
    for path in sorted(box.cache.rglob("*")):
        if path.is_file():
            held = path.read_bytes()
            path.write_bytes(held[: len(held) // 2] + held[: len(held) // 4][::-1])


def _emptied(box: Sandbox) -> None:
    for path in sorted(box.cache.rglob("*")):
        if path.is_file():
            path.write_bytes(b"")


def _own_style(box: Sandbox) -> None:
    """A style sheet of the user's own for the library that draws, also in the current folder."""
    style = "text.usetex: True\naxes.facecolor: black\nfont.size: 40\nsavefig.bbox: tight\nsvg.fonttype: none\n"
    (box.work / "matplotlibrc").write_text(style, encoding="utf-8")


def _names_of_modules(box: Sandbox) -> None:
    for name in ("random", "numpy", "sim", "scenarios", "json", "vtk", "sitecustomize"):
        (box.work / f"{name}.py").write_text("raise SystemExit('a file of the user was run')\n", encoding="utf-8")


def places() -> tuple[Place, ...]:
    """Every kind of surroundings that the attack tries."""
    gone = 'mkdir "$base/gone"; cd "$base/gone"; rmdir "$base/gone"; exec "$@"'
    libraries = Path(sys.prefix)
    return (
        Place("no graphics library", mounts=_hidden_graphics(), redrawn=True),
        Place("no window variable that works", {"VTK_DEFAULT_OPENGL_WINDOW": "vtkNoSuchWindow"}),
        Place("display that is not there", {"DISPLAY": ":77", "WAYLAND_DISPLAY": "none", "MPLBACKEND": "TkAgg"}),
        Place("drawing backend that is not there", {"MPLBACKEND": "module://none"}),
        Place("no fonts of the system", mounts=_hidden(("/usr/share/fonts", "/etc/fonts")), cold=True, redrawn=True),
        Place("no fonts at all", mounts=_hidden(("/usr/share/fonts", "/etc/fonts", _matplotlib_fonts())), cold=True,
              redrawn=True),
        Place("locale C, ASCII", {"LC_ALL": "C", "PYTHONIOENCODING": "ascii", "PYTHONUTF8": "0",
                                  "PYTHONCOERCECLOCALE": "0"}),
        Place("locale that is not there", {"LC_ALL": "xx_YY.UTF-8", "LANG": "xx_YY"}),
        Place("home unset", {"HOME": None, "XDG_CACHE_HOME": None}),
        Place("home not there", {"HOME": "/nonexistent", "XDG_CACHE_HOME": None}, user=OTHER_USER),
        Place("home that cannot be written", {"XDG_CACHE_HOME": None},
              mounts='mount -t tmpfs -o ro none "$base/home"'),
        Place("cache that cannot be written", mounts='mount -t tmpfs -o ro none "$base/cache"'),
        Place("cache and temporary folder that cannot be written",
              mounts='mount -t tmpfs -o ro none "$base/cache"; mount -t tmpfs -o ro none "$base/tmp"'),
        Place("temporary folder that is not there", {"TMPDIR": "{base}/none", "MPLCONFIGDIR": "{base}/none"}),
        Place("files where cache folders should be", prepare=_files_for_folders),
        Place("damaged cache files", prepare=_damaged),
        Place("empty cache files", prepare=_emptied),
        Place("python -OO", python=("-OO", "-P", "-m", "sim.commands.main"), cold=True, undocumented=True),
        Place("another user", user=OTHER_USER),
        Place("install that cannot be written", mounts=_unwritable(ROOT, libraries)),
        Place("two first starts at once", cold=True, twice=True),
        Place("disk of 1 MB for answers", mounts=_small("out", size="1m"), last=SEEN),
        Place("disk of 16 kB for answers", mounts=_small("out", size="16k"), last=SEEN),
        Place("disk of 1 MB for cache and temporary files", mounts=_small("cache", "tmp", size="1m"), cold=True),
        Place("full disk for cache and temporary files", mounts=_small("cache", "tmp", size="4k"), cold=True,
              redrawn=True),
        Place("full device for stdout", last='exec "$@" >/dev/full', silent=True),
        Place("full device for stderr", last='exec "$@" 2>/dev/full'),
        Place("stdin closed", last='exec "$@" <&-'),
        Place("stdout closed", last='exec "$@" >&-', silent=True),
        Place("stderr closed", last='exec "$@" 2>&-'),
        Place("all three closed", last='exec "$@" <&- >&- 2>&-', silent=True),
        Place("20 columns", {"COLUMNS": "20"}, rewrapped=True),
        Place("1 column, 1 line", {"COLUMNS": "1", "LINES": "1"}, rewrapped=True),
        Place("5000 columns", {"COLUMNS": "5000"}, rewrapped=True),
        Place("columns that are no number", {"COLUMNS": "wide"}, rewrapped=True),
        Place("dumb terminal", {"TERM": "dumb"}),
        Place("no terminal type, colours forced", {"TERM": None, "FORCE_COLOR": "1"}),
        Place("clock in the past", python=("-P", "-c", FAKE_CLOCK)),
        Place("time zone that is not there", {"TZ": "Nowhere/None"}),
        Place("12 open files", last='ulimit -n 12; exec "$@"', redrawn=True),
        Place("24 open files", last='ulimit -n 24; exec "$@"', redrawn=True),
        Place("current folder deleted", last=gone),
        Place("current folder that cannot be read", last='cd "$base/shut"; exec "$@"', user=OTHER_USER),
        Place("files called like modules", prepare=_names_of_modules),
        Place("a drawing style of the user's own", prepare=_own_style),
        Place("hashes that differ, no byte code", {"PYTHONHASHSEED": "77", "PYTHONDONTWRITEBYTECODE": "1"}),
    )  # fmt: skip
