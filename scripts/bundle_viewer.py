"""Make sim/drawing/web/viewer.min.js from viewer.js and three.js:  python3 scripts/bundle_viewer.py

Needs node with npm, on the machine of whoever changes the viewer only: what comes out is committed, and a test tells
when it was not made from the viewer.js beside it. Checks the types of all scripts first.
"""

import hashlib
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

SIM = Path(__file__).resolve().parent.parent / "sim"
WEB = SIM / "drawing" / "web"
BENCH = sorted((SIM / "page" / "web").glob("*.js"))
PINNED = ("three@0.187.0", "@types/three@0.187.0", "esbuild@0.28.2", "typescript@7.0.2")
TYPES = ("--noEmit", "--allowJs", "--checkJs", "--strict", "--target", "es2022", "--module", "esnext",
         "--moduleResolution", "bundler", "--lib", "es2022,dom,dom.iterable")  # fmt: skip


def main() -> int:
    npm = shutil.which("npm")
    if npm is None:
        sys.exit("npm is not there: install node, then run this again")
    source = (WEB / "viewer.js").read_bytes()
    with tempfile.TemporaryDirectory() as name:
        for file in (WEB / "viewer.js", WEB / "page.js", *BENCH):
            shutil.copy(file, name)
        for words in (
            ("npm", "init", "--yes"),
            ("npm", "install", "--no-save", *PINNED),
            ("npx", "tsc", *TYPES, "viewer.js", "page.js", *(file.name for file in BENCH)),
            ("npx", "esbuild", "viewer.js", "--bundle", "--minify", "--format=iife", "--global-name=hangflatViewer",
             "--legal-comments=eof", "--outfile=viewer.min.js"),
        ):  # fmt: skip
            subprocess.run(words, cwd=name, check=True, stdout=subprocess.DEVNULL)
        made = (Path(name) / "viewer.min.js").read_text(encoding="utf-8")
    banner = f"/* made by scripts/bundle_viewer.py from viewer.js, sha256 {hashlib.sha256(source).hexdigest()} */\n"
    (WEB / "viewer.min.js").write_text(banner + made, encoding="utf-8", newline="\n")
    return 0


if __name__ == "__main__":
    sys.exit(main())
