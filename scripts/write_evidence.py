"""Write the evidence into tests/published/README.md and the README, or with --check say whether it is there."""

import sys

if sys.version_info < (3, 11):  # noqa: UP036 - an old Python must still be able to read this file
    sys.exit("hangflat needs Python 3.11 or newer; this is " + sys.version.split()[0] + " at " + sys.executable)

import difflib
import subprocess
from pathlib import Path

import setup_env

BEGIN = "<!-- evidence: written by scripts/write_evidence.py, do not edit -->\n"
END = "<!-- end of evidence -->\n"
PAGE = "tests/published/README.md"


def main(words: list[str], root: Path = setup_env.ROOT) -> int:
    """Bring page and README under ``root`` up to date (0); with ``--check`` only compare: 1 when they differ."""
    if words not in ([], ["--check"]):
        print("usage: python3 scripts/write_evidence.py [--check]", file=sys.stderr)
        return 2
    try:
        python = setup_env.ensure()
    except setup_env.SetupError as trouble:
        print(f"\n{trouble}", file=sys.stderr)
        return 1
    if Path(sys.prefix).resolve() != (setup_env.ROOT / ".venv").resolve():
        return subprocess.run([python, __file__, *words], cwd=setup_env.ROOT).returncode
    page, sentences = computed()
    old = {name: _read(root / name) for name in (PAGE, "README.md")}
    try:
        new = {PAGE: page, "README.md": renewed(old["README.md"], sentences)}
    except ValueError as wrong:
        print(f"README.md: {wrong}", file=sys.stderr)
        return 1
    if words:
        return max(differences(old[name], new[name], name) for name in new)
    for name, text in new.items():
        if text != old[name]:
            (root / name).write_text(text, encoding="utf-8", newline="\n")
        print(f"{name}: {'unchanged' if text == old[name] else 'written'}")
    return 0


def computed() -> tuple[str, str]:
    """The page and the README's sentences as Markdown, worked out now."""
    from sim.answers.evidence.answer import evidence_told
    from sim.answers.evidence.check import worked_out
    from sim.answers.evidence.registry import all_checks
    from sim.answers.evidence.text import evidence_page, evidence_sentences

    told = evidence_told([worked_out(check) for check in all_checks()])
    return evidence_page(told), evidence_sentences(told, PAGE)


def _read(file: Path) -> str:
    return file.read_text(encoding="utf-8") if file.exists() else ""


def renewed(readme: str, sentences: str) -> str:
    """The README with what stands between the two marks replaced. Raises ValueError unless each is there once."""
    if readme.count(BEGIN) != 1 or readme.count(END) != 1 or readme.index(BEGIN) > readme.index(END):
        raise ValueError(f"each of these lines must stand in it once, in this order:\n{BEGIN}{END}")
    before, rest = readme.split(BEGIN)
    return before + BEGIN + sentences + END + rest.split(END)[1]


def differences(old: str, new: str, name: str) -> int:
    """Print what differs, if anything; 1 if so."""
    lines = list(
        difflib.unified_diff(old.splitlines(), new.splitlines(), f"{name} as it is", "computed now", "", "", 0, "")
    )
    if lines:
        print("\n".join(lines))
        print(f"\nThe evidence in {name} is out of date. Bring it up to date: python3 scripts/write_evidence.py")
    return 1 if lines else 0


if __name__ == "__main__":
    try:
        sys.exit(main(sys.argv[1:]))
    except KeyboardInterrupt:
        sys.exit(130)
