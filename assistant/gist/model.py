"""A small sentence model, run on one thread: words in, a direction of 384 numbers out.

all-MiniLM-L6-v2 (sentence-transformers, Apache-2.0; Wang et al. 2020, arXiv 2002.10957) with 8-bit
weights, tuned to what is asked here (`tests/bench/tuning/gist`). It comes along as a file of this
package and asks nobody. Two processors may differ in the last digits, so a journal never holds a
direction.
"""

from collections.abc import Callable
from functools import cached_property, lru_cache
from importlib.resources import as_file, files
from typing import Any, Protocol

import numpy as np
from numpy.typing import NDArray

from assistant.base.errors import PansideError
from assistant.base.memory import give_back_free_memory
from assistant.base.proven import is_as_published

Direction = NDArray[np.float32]
"""Unit length, 384 numbers; the product of two is how alike they are (-1 to 1)."""

WIDTH = 384
MOST_PIECES = 64
"""Word pieces that are read of a sentence; what cooks say is shorter by far."""


_WEIGHTS = "minilm.onnx"
_PIECES = "vocab.txt"
SUMS = {
    _WEIGHTS: "bc5f76a7bffa7672a8d679560b9ea2d6697c4c1f6b9b65214b63351e1b66cfdc",
    _PIECES: "07eced375cec144d27c900241f3e339478dec958f92fddbc551f295c992038a3",
}
"""SHA-256 of each of its files."""


class Gist(Protocol):
    """Anything that gives a sentence a direction."""

    def of(self, text: str) -> Direction:
        """The direction of a text."""


class SmallModel:
    """The model that comes along; its file is opened with the first sentence.

    >>> gist = SmallModel()
    >>> asked, near, far = map(gist.of, ("can I use honey", "would honey do", "it is raining"))
    >>> bool(asked @ near > 0.5 > asked @ far)
    True
    """

    def of(self, text: str) -> Direction:
        """The direction of a text; the same text is worked out once."""
        return _direction(self, text)

    def _run(self, text: str) -> Direction:
        ids = np.array(self._pieces.encode(text).ids[:MOST_PIECES], dtype=np.int64)
        at = np.arange(len(ids), dtype=np.int64)
        (found,) = self._session.run(None, {"ids": ids, "at": at})
        direction: Direction = np.asarray(found, dtype=np.float32)
        return direction

    @cached_property
    def _pieces(self) -> Any:
        from tokenizers import BertWordPieceTokenizer

        return _opened(_PIECES, lambda file: BertWordPieceTokenizer(file, lowercase=True))

    @cached_property
    def _session(self) -> Any:
        import onnxruntime

        options = onnxruntime.SessionOptions()
        options.intra_op_num_threads = options.inter_op_num_threads = 1
        options.log_severity_level = 3
        options.enable_cpu_mem_arena = False  # it would keep the most that any text has taken
        opened = _opened(
            _WEIGHTS,
            lambda file: onnxruntime.InferenceSession(
                file, options, providers=["CPUExecutionProvider"]
            ),
        )
        give_back_free_memory()
        return opened


def _opened(name: str, open_: Callable[[str], Any]) -> Any:
    """One of the model's files, opened if it is as it was published."""
    try:
        with as_file(files("assistant.gist") / "weights" / name) as file:
            if not is_as_published(file, SUMS[name]):
                raise ValueError(file)
            return open_(str(file))
    except Exception as error:
        raise PansideError(
            "the sentence model that comes along can't be read. Install Panside again."
        ) from error


@lru_cache(maxsize=2048)
def _direction(model: SmallModel, text: str) -> Direction:
    found = model._run(text)
    found.flags.writeable = False
    return found


@lru_cache(maxsize=1)
def shipped() -> SmallModel:
    """The model that comes along, opened once a process."""
    return SmallModel()
