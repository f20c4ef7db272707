"""Set up hangflat with its development tools and check everything:  python3 scripts/check.py [words for pytest]"""

import sys

if sys.version_info < (3, 11):  # noqa: UP036 - an old Python must still be able to read this file
    sys.exit("hangflat needs Python 3.11 or newer; this is " + sys.version.split()[0] + " at " + sys.executable)

import os
import subprocess
import time

import setup_env


def steps() -> dict[str, list[str]]:
    """Commands by name, quickest first; paths are those of .venv."""
    python, imports = str(setup_env.venv_python()), str(setup_env.venv_tool("lint-imports"))
    return {
        "ruff check": [python, "-m", "ruff", "check"],
        "ruff format": [python, "-m", "ruff", "format", "--check"],
        "import layers": [imports],
        "types": [python, "-m", "mypy"],
        "evidence as written": [python, "scripts/write_evidence.py", "--check"],
    }


def main(words: list[str]) -> int:
    """Run every step, tests last; 0 only when all passed. Ends with the tests' own closing line."""
    try:
        python = setup_env.ensure("dev")
    except setup_env.SetupError as trouble:
        print(f"\n{trouble}", file=sys.stderr)
        return 1
    outcome = {name: _run_quietly(name, command) for name, command in steps().items()}
    outcome["tests"], closing = _run_tests([str(python), "-m", "pytest", "-n", "auto", "--maxprocesses", "8", *words])
    failed = [name for name, code in outcome.items() if code]
    print("\n" + (f"FAILED: {', '.join(failed)}" if failed else f"passed: {', '.join(outcome)}"))
    print(closing, flush=True)
    return 1 if failed else 0


def _run_quietly(name: str, command: list[str]) -> int:
    """Exit code; the output is shown only when something is wrong."""
    print(f"{name} ... ", end="", flush=True)
    started = time.monotonic()
    done = subprocess.run(
        command, cwd=setup_env.ROOT, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, errors="replace"
    )
    print(f"{'FAILED' if done.returncode else 'passed'} in {time.monotonic() - started:.1f} s", flush=True)
    if done.returncode:
        print(done.stdout, flush=True)
    return done.returncode


def _run_tests(command: list[str]) -> tuple[int, str]:
    """Exit code and the last line of the test run, which is shown as it goes."""
    closing = "no test ran"
    # a process a core: threads of their linear algebra would only wait for one another
    alone = {"OPENBLAS_NUM_THREADS": "1"} | os.environ
    with subprocess.Popen(
        command, cwd=setup_env.ROOT, env=alone, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True,
        errors="replace",
    ) as tests:  # fmt: skip
        for line in tests.stdout or ():
            print(line, end="", flush=True)
            closing = line.strip() or closing
    return tests.returncode, closing


if __name__ == "__main__":
    try:
        sys.exit(main(sys.argv[1:]))
    except KeyboardInterrupt:
        sys.exit(130)
