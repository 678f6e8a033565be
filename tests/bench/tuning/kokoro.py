"""Speaks a list of work with Kokoro on every core; needs only numpy, onnx and onnxruntime.

    python kokoro.py MODEL.onnx STYLES.npz WORK.json OUT [--jobs 16]

The model comes with 8-bit weights. `in_floats` puts the same weights as full-precision numbers into
the same graph, which many processors go through sooner; the quicker of both is taken. What is
spoken lies in OUT as .npy, 16-bit samples at 24 kHz, named by its place in the list.
"""

import json
import sys
import time
from multiprocessing import get_context
from pathlib import Path
from typing import Any

import numpy as np

STYLE = 256


class _Floats:
    """The model's graph with its whole-number arithmetic replaced."""

    def __init__(self, graph: Any) -> None:
        from onnx import helper, numpy_helper

        self.make, self.wrap = helper.make_node, numpy_helper
        self.given = {each.name: each for each in graph.initializer}
        self.fresh: dict[str, Any] = {}

    def _table(self, name: str) -> Any:
        return self.wrap.to_array(self.given[name])

    def _put(self, name: str, values: Any) -> str:
        self.fresh.setdefault(name, self.wrap.from_array(np.ascontiguousarray(values), name))
        return name

    def product(self, node: Any) -> list[Any]:
        """A whole-number convolution or product as one of floats, its zero point taken off."""
        weight = self._table(node.input[1]).astype(np.float32)
        zero = self._table(node.input[3]).astype(np.float32)
        if node.op_type == "ConvInteger" and zero.ndim == 1:
            zero = zero.reshape(-1, *[1] * (weight.ndim - 1))
        name = self._put(f"{node.input[1]}_f", weight - zero)
        kind = "Conv" if node.op_type == "ConvInteger" else "MatMul"
        made = self.make(kind, [node.input[0], name], list(node.output))
        made.attribute.extend(node.attribute if kind == "Conv" else [])
        return [made]

    def _scaled(self, weight: str, scale: str, zero: str) -> str:
        shape = (-1, 1, 1)
        values = self._table(weight).astype(np.float32)
        values = values - self._table(zero).astype(np.float32).reshape(shape)
        scaled = values * self._table(scale).reshape(shape)
        return self._put(f"{weight}_f", scaled.transpose(0, 2, 1))

    def memory(self, node: Any) -> list[Any]:
        """The recurrent layer with its weights as floats."""
        into = list(node.input)
        weights = [self._scaled(into[1], into[8], into[9]), self._scaled(into[2], *into[10:12])]
        made = self.make("LSTM", [into[0], *weights, *into[3:8]], list(node.output))
        made.attribute.extend(node.attribute)
        return [made]

    def unscaled(self, node: Any) -> list[Any]:
        """What would be rounded goes through as it is: scale 1, zero point 0."""
        one = self.wrap.from_array(np.array(1, np.float32))
        none = self.wrap.from_array(np.array(0, np.uint8))
        return [
            self.make("Identity", [node.input[0]], [node.output[0]]),
            self.make("Constant", [], [node.output[1]], value=one),
            self.make("Constant", [], [node.output[2]], value=none),
        ]

    def same(self, node: Any) -> list[Any]:
        """Anything else as it is, but that a bias is not rounded."""
        whole = node.op_type == "Floor" or (node.op_type == "Cast" and node.attribute[0].i == 6)
        if whole and "bias" in node.output[0]:
            return [self.make("Identity", list(node.input), list(node.output))]
        return [node]

    def nodes(self, graph: Any) -> list[Any]:
        """The new graph's nodes."""
        ways = {
            "ConvInteger": self.product,
            "MatMulInteger": self.product,
            "DynamicQuantizeLSTM": self.memory,
            "DynamicQuantizeLinear": self.unscaled,
        }
        return [made for node in graph.node for made in ways.get(node.op_type, self.same)(node)]


def in_floats(source: str, target: str) -> None:
    """Write the model with full-precision arithmetic."""
    import onnx

    model = onnx.load(source)
    graph = model.graph
    floats = _Floats(graph)
    nodes = floats.nodes(graph)
    needed = {name for node in nodes for name in node.input}
    kept = [each for each in graph.initializer if each.name in needed]
    for part in (graph.node, graph.initializer, graph.value_info):
        del part[:]
    graph.node.extend(nodes)
    graph.initializer.extend([*kept, *floats.fresh.values()])
    onnx.save(model, target)


def session(path: str) -> Any:
    """A session on one core."""
    import onnxruntime

    options = onnxruntime.SessionOptions()
    options.intra_op_num_threads = 1
    options.log_severity_level = 3
    return onnxruntime.InferenceSession(path, options, providers=["CPUExecutionProvider"])


def spoken(model: Any, styles: dict[str, Any], work: dict[str, Any]) -> Any:
    """The samples of one clip: a style has a vector for each length of text."""
    names, weight, pieces = work["styles"], work["weight"], []
    for tokens in work["tokens"]:
        row = min(len(tokens) - 1, len(styles[names[0]]) - 1)
        style = styles[names[0]][row].astype(np.float32)
        if len(names) > 1:
            style = weight * style + (1 - weight) * styles[names[1]][row].astype(np.float32)
        given = {
            "tokens": np.array([[0, *tokens, 0]], dtype=np.int64),
            "style": style.reshape(1, STYLE).astype(np.float32),
            "speed": np.array([work["pace"]], dtype=np.float32),
        }
        pieces.append(np.asarray(model.run(None, given)[0]).ravel())
    return (np.clip(np.concatenate(pieces), -1, 1) * 32767).astype(np.int16)


_HERE: dict[str, Any] = {}


def _begin(path: str, styles: str) -> None:
    _HERE["model"] = session(path)
    with np.load(styles) as found:
        _HERE["styles"] = dict(found)


def _speak(job: tuple[int, dict[str, Any], str]) -> None:
    place, work, folder = job
    target = Path(folder) / f"{place:05d}.npy"
    if not target.exists():
        half = target.with_suffix(".half.npy")
        np.save(half, spoken(_HERE["model"], _HERE["styles"], work))
        half.rename(target)


def quicker(eight_bit: str, styles: str, work: dict[str, Any]) -> str:
    """The model that takes less time here for a clip."""
    floats = f"{eight_bit}.floats"
    in_floats(eight_bit, floats)
    took = {}
    with np.load(styles) as found:
        for path in (eight_bit, floats):
            model = session(path)
            spoken(model, found, work)
            begun = time.perf_counter()
            spoken(model, found, work)
            took[path] = time.perf_counter() - begun
    print({Path(path).name: round(seconds, 2) for path, seconds in took.items()}, flush=True)
    return min(took, key=lambda path: took[path])


def main() -> None:
    """The command."""
    model, styles, listed, out = sys.argv[1:5]
    jobs = int(sys.argv[6]) if len(sys.argv) > 6 else 16
    Path(out).mkdir(parents=True, exist_ok=True)
    work = json.loads(Path(listed).read_text("utf-8"))
    chosen = quicker(model, styles, work[0])
    begun = time.perf_counter()
    with get_context("fork").Pool(jobs, _begin, (chosen, styles)) as pool:
        todo = [(place, each, out) for place, each in enumerate(work)]
        for done, _ in enumerate(pool.imap_unordered(_speak, todo, chunksize=2), 1):
            if done % 100 == 0:
                print(f"{done} of {len(todo)}, {time.perf_counter() - begun:.0f} s", flush=True)


if __name__ == "__main__":
    main()
