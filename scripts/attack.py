"""Look for what breaks hangflat, by machine:  python3 scripts/attack.py [text|drawings|kills|surroundings ...]

Bounded runs from stated seeds, so that anybody can repeat them. Prints a table of what was tried and how it ended;
exit code 1 when anything crashed, was slow or large, or left something behind.
"""

import sys

if sys.version_info < (3, 11):  # noqa: UP036 - an old Python must still be able to read this file
    sys.exit("hangflat needs Python 3.11 or newer; this is " + sys.version.split()[0] + " at " + sys.executable)

import argparse
import subprocess
from importlib import import_module
from pathlib import Path

import setup_env

# each is a module attack_NAME with run(seed, share) -> list[Tally]; share 1 is the full run
KINDS = ("text", "drawings", "kills", "surroundings")


def main(words: list[str]) -> int:
    """Run the attacks that were asked for; 1 when one of them found something."""
    python = setup_env.ensure("dev")
    if Path(sys.prefix).resolve() != (setup_env.ROOT / ".venv").resolve():
        return subprocess.run([python, __file__, *words], cwd=setup_env.ROOT).returncode
    asked = _asked(words)
    from attack_tally import table

    tallies = []
    for kind in asked.kinds or KINDS:
        tallies += import_module(f"attack_{kind}").run(asked.seed, asked.share)
        print(table(tallies), flush=True)
    for tally in tallies:
        print(*tally.faults, sep="\n")
    return 0 if all(tally.sound for tally in tallies) else 1


def _asked(words: list[str]) -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("kinds", nargs="*", metavar="KIND", help="which attacks (default: all)")
    parser.add_argument("--seed", type=int, default=1, help="from which all is drawn (default: 1)")
    parser.add_argument("--share", type=float, default=0.01, help="of the full run (default: 0.01)")
    return parser.parse_args(words)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
