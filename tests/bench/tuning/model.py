"""Whisper as CTranslate2's files name its parts, in PyTorch: small enough to be read at once.

Radford and others, Robust Speech Recognition via Large-Scale Weak Supervision, 2022. The encoder
runs on 8 s, so only the first 400 rows of its table of places are used. Tables of places and
the token embedding stay as they were.
"""

from typing import Any

import torch
import torch.nn.functional as F

HEADS, WIDTH = 6, 384
SOT, EOT, NO_TIMES, PREV = 50257, 50256, 50362, 50360
"""Start of transcript, end of text, no timestamps, what was said before: of the English model."""


class Whisper(torch.nn.Module):
    """The network over arrays by name."""

    def __init__(self, arrays: dict[str, Any]) -> None:
        super().__init__()
        self.fixed: dict[str, torch.Tensor] = {}
        self.tuned = torch.nn.ParameterDict()
        for name, values in arrays.items():
            if values.ndim == 0:
                continue
            tensor = torch.tensor(values.astype("float32"))
            if "embeddings" in name or "encodings" in name:
                self.register_buffer(name.replace("/", "__"), tensor)
            else:
                self.tuned[name.replace("/", "__")] = torch.nn.Parameter(tensor)

    def _w(self, name: str) -> torch.Tensor:
        key = name.replace("/", "__")
        return self.tuned[key] if key in self.tuned else getattr(self, key)

    def _linear(self, x: torch.Tensor, name: str) -> torch.Tensor:
        return F.linear(x, self._w(f"{name}/weight"), self._w(f"{name}/bias"))

    def _norm(self, x: torch.Tensor, name: str) -> torch.Tensor:
        return F.layer_norm(x, (WIDTH,), self._w(f"{name}/gamma"), self._w(f"{name}/beta"))

    @staticmethod
    def _attend(q: Any, k: Any, v: Any, causal: bool) -> torch.Tensor:
        def split(x: torch.Tensor) -> torch.Tensor:
            return x.view(x.shape[0], x.shape[1], HEADS, -1).transpose(1, 2)

        out = F.scaled_dot_product_attention(split(q), split(k), split(v), is_causal=causal)
        return out.transpose(1, 2).flatten(2)

    def _self(self, x: torch.Tensor, at: str, causal: bool) -> torch.Tensor:
        y = self._norm(x, f"{at}/self_attention/layer_norm")
        q, k, v = self._linear(y, f"{at}/self_attention/linear_0").chunk(3, -1)
        return x + self._linear(self._attend(q, k, v, causal), f"{at}/self_attention/linear_1")

    def _across(self, x: torch.Tensor, sound: torch.Tensor, at: str) -> torch.Tensor:
        y = self._norm(x, f"{at}/attention/layer_norm")
        q = self._linear(y, f"{at}/attention/linear_0")
        k, v = self._linear(sound, f"{at}/attention/linear_1").chunk(2, -1)
        return x + self._linear(self._attend(q, k, v, False), f"{at}/attention/linear_2")

    def _feed(self, x: torch.Tensor, at: str) -> torch.Tensor:
        y = self._norm(x, f"{at}/ffn/layer_norm")
        y = F.gelu(self._linear(y, f"{at}/ffn/linear_0"))
        return x + self._linear(y, f"{at}/ffn/linear_1")

    def _layers(self, side: str) -> range:
        marks = {k.split("__")[1] for k in self.tuned if k.startswith(f"{side}__layer_")}
        return range(len({mark for mark in marks if mark != "layer_norm"}))

    def encode(self, mel: torch.Tensor) -> torch.Tensor:
        """Log-mel (batch, 80, frames) to states (batch, frames / 2, width)."""
        x = F.gelu(F.conv1d(mel, self._w("encoder/conv1/weight"), self._w("encoder/conv1/bias"),
                            padding=1))  # fmt: skip
        x = F.gelu(F.conv1d(x, self._w("encoder/conv2/weight"), self._w("encoder/conv2/bias"),
                            stride=2, padding=1)).transpose(1, 2)  # fmt: skip
        x = x + self._w("encoder/position_encodings/encodings")[: x.shape[1]]
        for layer in self._layers("encoder"):
            at = f"encoder/layer_{layer}"
            x = self._feed(self._self(x, at, False), at)
        return self._norm(x, "encoder/layer_norm")

    def decode(self, tokens: torch.Tensor, sound: torch.Tensor) -> torch.Tensor:
        """Scores of the next token at every place (batch, places, vocabulary)."""
        table = self._w("decoder/embeddings/weight")
        x = F.embedding(tokens, table)
        x = x + self._w("decoder/position_encodings/encodings")[: x.shape[1]]
        for layer in self._layers("decoder"):
            at = f"decoder/layer_{layer}"
            x = self._feed(self._across(self._self(x, at, True), sound, at), at)
        return F.linear(self._norm(x, "decoder/layer_norm"), table)
