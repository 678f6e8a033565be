"""Makes the patch that comes along out of tuned weights.

    python -m tests.bench.tuning.patching --work WORK --tuned OUT --share 0.75

Writes `assistant/hear/weights/kitchen.npz` and prints its SHA-256, which belongs into
`assistant/hear/tuned_model.py`.
"""

import argparse
import hashlib
import json
from pathlib import Path
from typing import Any

import numpy as np

from assistant.hear import tuned_model
from assistant.hear.model_file import Model, patch_of, read

TARGET = Path(tuned_model.__file__).parent / "weights" / "kitchen.npz"


def tuned(folder: Path) -> dict[str, Any]:
    """The arrays that `train.py` wrote: half precision, one behind the other, in pieces."""
    shapes = json.loads((folder / "weights.json").read_text("utf-8"))
    pieces = sorted(folder.glob("weights.[0-9]*"), key=lambda file: int(file.suffix[1:]))
    data, at, found = b"".join(piece.read_bytes() for piece in pieces), 0, {}
    for name in sorted(shapes, key=lambda each: str(each).replace("/", "__")):
        count = int(np.prod(shapes[name]))
        found[name] = np.frombuffer(data, "<f2", count, at).reshape(shapes[name]).astype("<f4")
        at += 2 * count
    return found


def between(old: Model, new: dict[str, Any], share: float) -> dict[str, Any]:
    """The arrays so far on the way from the old (0) to the new ones (1)."""
    return {
        name: (was := old.arrays[name].astype("<f4")) + share * (values - was)
        for name, values in new.items()
    }


def main() -> None:
    """The command."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--work", type=Path, required=True)
    options.add_argument("--tuned", type=Path, required=True)
    options.add_argument("--share", type=float, required=True)
    given = options.parse_args()
    old = read(given.work / "model.bin")
    np.savez_compressed(TARGET, **patch_of(old, between(old, tuned(given.tuned), given.share)))
    print(hashlib.sha256(TARGET.read_bytes()).hexdigest(), TARGET.stat().st_size, "bytes")


if __name__ == "__main__":
    main()
