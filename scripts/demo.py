"""Set up hangflat and settle and draw the demo diver:  python3 scripts/demo.py"""

import sys

if sys.version_info < (3, 11):  # noqa: UP036 - the one file that an old Python must still be able to read
    sys.exit("hangflat needs Python 3.11 or newer; this is " + sys.version.split()[0] + " at " + sys.executable)

import subprocess

import setup_env

PICTURE = "out/demo.png"


def main() -> int:
    """Set up, settle, draw; exit code of the last step that failed, else 0."""
    try:
        python = setup_env.ensure()
    except setup_env.SetupError as trouble:
        print(f"\n{trouble}", file=sys.stderr)
        return 1
    (setup_env.ROOT / PICTURE).parent.mkdir(exist_ok=True)
    command = ["-m", "sim.commands.main", "settle", setup_env.DEMO, "--picture", PICTURE]
    print(f"hangflat {' '.join(command[2:])}\n", flush=True)
    code = subprocess.run([python, *command], cwd=setup_env.ROOT).returncode
    if code == 0:
        print(f"\nThe picture is {setup_env.ROOT / PICTURE}")
    return code


if __name__ == "__main__":
    try:
        sys.exit(main())
    except KeyboardInterrupt:
        sys.exit(130)
