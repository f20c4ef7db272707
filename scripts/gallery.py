#!/usr/bin/env python3
"""The gallery: every kind of picture that hangflat draws, each made by a command that stands beside it.

python3 scripts/gallery.py                 draws all into .pictures/, with .pictures/README.md
python3 scripts/gallery.py NAME ...        draws these alone; the list of them stays whole
"""

from __future__ import annotations

import io
import os
import shlex
import subprocess
import sys
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Final

ROOT: Final = Path(__file__).resolve().parents[1]
FOLDER: Final = ROOT / ".pictures"
DEMOS: Final = "scenarios/demos"
WIDEST: Final = 1200  # pixels: enough to be read on the page of a repository, small enough to be kept in it
QUALITY: Final = 92  # of WebP, at which letters stay sharp; a third of the PNG
PATIENCE: Final = 300  # s


@dataclass(frozen=True)
class Picture:
    """One picture: the file's name without its ending, what is seen, the command, and its option for the picture."""

    name: str
    seen: str
    command: str
    option: str = "--picture"

    @property
    def file(self) -> str:
        """As it is kept: WebP, but for the one on the first page, which every reader shows."""
        return f"{self.name}.png" if self.name == "demo" else f"{self.name}.webp"


GALLERY: Final = (
    Picture("demo", "A diver held flat: weight, buoyancy, what turns her, and where letting go leads",
            f"settle {DEMOS}/small-woman-steel.toml"),
    Picture("all-views", "The same from all sides on one sheet",
            f"settle {DEMOS}/tall-man-steel.toml --view all --layers arrows,gas,horizon,arc,fit,reach,sight"),
    Picture("dark", "For a dark room, from ahead and aside",
            f"settle {DEMOS}/tall-man-carbon.toml --view three-quarter --style dark"),
    Picture("print", "For print: no ground, black letters",
            f"settle {DEMOS}/rebreather.toml --style print"),
    Picture("several", "Several divers in one frame, to one scale",
            f"settle {DEMOS}/small-woman-steel.toml --beside {DEMOS}/tall-man-steel.toml "
            f"--beside {DEMOS}/single-wetsuit.toml"),
    Picture("fits", "What fits and what does not: plate, waist strap, reach, sight",
            f"settle {DEMOS}/small-woman-steel.toml --layers fit,reach,sight,gas,horizon"),
    Picture("surface", "How the diver floats at the surface",
            f"settle {DEMOS}/small-woman-steel.toml --surface"),
    Picture("why", "Which item turns the diver, item by item", f"why {DEMOS}/small-woman-steel.toml", "--chart"),
    Picture("fit", "The fit drawing", f"fit {DEMOS}/small-woman-steel.toml"),
    Picture("change", "What to change first", f"change {DEMOS}/small-woman-steel.toml", "--chart"),
    Picture("weigh", "How much lead, where, and what a failure leaves", f"weigh {DEMOS}/small-woman-steel.toml",
            "--chart"),
    Picture("later", "How it goes on as gas and depth change", f"later {DEMOS}/small-woman-steel.toml", "--chart"),
    Picture("seen", "Which cause is behind what is seen",
            f'seen {DEMOS}/small-woman-steel.toml --attitude "20 deg head-up" --while finning --fins down',
            "--chart"),
    Picture("compare", "Two set-ups, and what each difference does",
            f"compare {DEMOS}/small-woman-steel.toml {DEMOS}/small-woman-carbon.toml"),
)  # fmt: skip


def arguments(picture: Picture, target: str) -> list[str]:
    """Of ``hangflat``, to draw the picture to ``target``."""
    return [*shlex.split(picture.command), picture.option, target]


def drawn(picture: Picture, folder: Path) -> Path:
    """The picture as the program draws it, in a folder. Raises RuntimeError where the command fails."""
    target = folder / f"{picture.name}.png"
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    words = [sys.executable, "-m", "sim.commands.main", *arguments(picture, str(target))]
    done = subprocess.run(words, cwd=ROOT, env=environment, capture_output=True, timeout=PATIENCE, check=False)
    if done.returncode != 0 or not target.exists():
        raise RuntimeError(f"{' '.join(words[3:])}\n{done.stderr.decode(errors='replace')}")
    return target


def small(picture: Picture, path: Path) -> bytes:
    """A picture as drawn made small for keeping: no wider than WIDEST; few colours would shift what they mean."""
    from PIL import Image

    with Image.open(path) as whole:
        image = whole.convert("RGB")
    if image.width > WIDEST:
        image = image.resize((WIDEST, round(image.height * WIDEST / image.width)), Image.Resampling.LANCZOS)
    kept = io.BytesIO()
    if picture.file.endswith(".png"):
        image.save(kept, "png", optimize=True)
    else:
        image.save(kept, "webp", quality=QUALITY, method=6)
    return kept.getvalue()


def listed() -> str:
    """The page that shows all pictures, each with its command."""
    lines = ["# Pictures", "", "Made by `python3 scripts/gallery.py`, each by the command under it.", ""]
    for picture in GALLERY:
        lines += [f"## {picture.seen}", "", f"![{picture.seen}]({picture.file})", ""]
        lines += [f"```\nhangflat {shlex.join(arguments(picture, f'{picture.name}.png'))}\n```", ""]
    return "\n".join(lines)


def main(names: Sequence[str]) -> int:
    """Draw; exit code 1 for a name that is not in the gallery."""
    known = {picture.name: picture for picture in GALLERY}
    if unknown := [name for name in names if name not in known]:
        print(f"not in the gallery: {', '.join(unknown)}; there are {', '.join(known)}", file=sys.stderr)
        return 1
    FOLDER.mkdir(exist_ok=True)
    (FOLDER / "README.md").write_text(listed(), encoding="utf-8")
    with TemporaryDirectory() as folder:
        for name in names or known:
            picture = known[name]
            (FOLDER / picture.file).write_bytes(small(picture, drawn(picture, Path(folder))))
            print(picture.file, flush=True)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
