"""Look for bytes that break a reader, guided by the code they reach.

    pip install '.[fuzz]'
    python -m tests.guided chat|recipe|journal|label|page [--seconds 1800] [--out FOLDER]

What it finds new stands in --out, and is lost where none is named; the small corpus beside this
module is where it begins. A fault ends it with a traceback and leaves its bytes as `crash-*` in the
working directory: mend it, and put the bytes into the corpus, which the tests run.
"""

import argparse
import sys
import tempfile
from pathlib import Path

CORPUS = Path(__file__).parent / "corpus"
LONGEST = 12_000
"""The journal of a whole batch. [bytes]"""


def main() -> None:
    """Hand one target to the fuzzer until its time is up."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("target", choices=sorted(folder.name for folder in CORPUS.iterdir()))
    parser.add_argument("--seconds", type=int, default=1800)
    parser.add_argument("--out", type=Path, default=None)
    chosen = parser.parse_args()

    import atheris

    with atheris.instrument_imports(include=["assistant"]):
        from tests.guided import targets
    out = chosen.out or Path(tempfile.mkdtemp())
    out.mkdir(parents=True, exist_ok=True)
    limits = [f"-max_total_time={chosen.seconds}", f"-max_len={LONGEST}", "-timeout=60"]
    words = f"-dict={Path(__file__).parent / 'words.dict'}"
    folders = [str(out), str(CORPUS / chosen.target)]
    atheris.Setup([sys.argv[0], *limits, words, *folders], targets.TARGETS[chosen.target])
    atheris.Fuzz()


if __name__ == "__main__":
    main()
