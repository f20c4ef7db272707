"""Why an installer failed and what to do about it, judged from what it printed."""

from __future__ import annotations

import re
import sys

_NETWORK = (
    r"name resolution|getaddrinfo|newconnectionerror|network is unreachable|connecttimeout|read timed out|dns error|"
    r"proxyerror|failed to establish|connection (refused|reset)|sslerror|certificate verify"
)
_NO_WHEEL = r"no matching distribution found for (\S+)|because ([\w.\-]+)\S* has no (?:usable )?wheels"

_TROUBLES = (
    (
        _NETWORK,
        "The package index could not be reached. Check the network (behind a proxy, set HTTPS_PROXY), "
        "then run this again.",
    ),
    (r"no space left|winerror 112|disk is full", "The disk is full: .venv needs about 1.5 GB."),
    (
        _NO_WHEEL,
        "There is no ready-made {package} for Python {version} ({bits}-bit) on {system}. "
        "Delete .venv and run this again with a 64-bit CPython 3.11 to 3.14.",
    ),
    (
        r"failed building wheel|failed to build",
        "A package had to be compiled and that failed. A 64-bit CPython 3.11 to 3.14 on Windows, macOS or Linux "
        "on a common processor needs no compiler.",
    ),
    (
        r"permission denied|access is denied|winerror (5|32)\b",
        "A file in .venv is in use or may not be written. Close what runs from it, or delete .venv, "
        "then run this again.",
    ),
)


def explained(output: str) -> str:
    """Advice for the first known trouble found in an installer's ``output``, else a pointer to the output itself."""
    lower = output.lower()
    for pattern, advice in _TROUBLES:
        found = re.search(pattern, lower)
        if found:
            return advice.format(
                package=next((g for g in found.groups() if g), "package") if pattern == _NO_WHEEL else "",
                version=f"{sys.version_info[0]}.{sys.version_info[1]}",
                bits=64 if sys.maxsize > 2**32 else 32,
                system=sys.platform,
            )
    return "The installer failed; the end of what it said is above."
