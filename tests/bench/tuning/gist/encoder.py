"""The sentence model in PyTorch: BERT of six layers, the mean over the words, unit length.

Wang et al. 2020, arXiv 2002.10957; Devlin et al. 2019, arXiv 1810.04805. The embeddings stay as
published; tuning moves the layers and the first normalisation.
"""

from typing import Any

import torch
import torch.nn.functional as F
from torch import nn

LAYERS, HEADS, WIDTH = 6, 12, 384
EPS = 1e-12
_PARTS = {
    "query": "attention.self.query",
    "key": "attention.self.key",
    "value": "attention.self.value",
    "out": "attention.output.dense",
    "norm": "attention.output.LayerNorm",
    "wide": "intermediate.dense",
    "back": "output.dense",
    "last": "output.LayerNorm",
}
_FIRST = "embeddings.LayerNorm"


class Layer(nn.Module):
    """One encoder layer."""

    def __init__(self) -> None:
        super().__init__()
        self.query, self.key, self.value, self.out = (nn.Linear(WIDTH, WIDTH) for _ in range(4))
        self.norm, self.last = (nn.LayerNorm(WIDTH, eps=EPS) for _ in range(2))
        self.wide, self.back = nn.Linear(WIDTH, 4 * WIDTH), nn.Linear(4 * WIDTH, WIDTH)
        self.drop = nn.Dropout(0.1)

    def forward(self, x: Any, seen: Any) -> Any:
        """x : texts by words by width; seen : texts by words, what is no padding"""
        texts, words, _ = x.shape

        def parted(part: nn.Module) -> Any:
            return part(x).view(texts, words, HEADS, WIDTH // HEADS).transpose(1, 2)

        found = F.scaled_dot_product_attention(
            parted(self.query), parted(self.key), parted(self.value),
            attn_mask=seen[:, None, None, :],
        )  # fmt: skip
        joined = found.transpose(1, 2).reshape(texts, words, WIDTH)
        x = self.norm(x + self.drop(self.out(joined)))
        return self.last(x + self.drop(self.back(F.gelu(self.wide(x)))))


class Encoder(nn.Module):
    """tensors : of the published model, by their names there"""

    def __init__(self, tensors: dict[str, Any]) -> None:
        super().__init__()
        held = {name: torch.tensor(values).float() for name, values in tensors.items()}
        self.words = nn.Embedding.from_pretrained(held["embeddings.word_embeddings.weight"])
        self.places = nn.Embedding.from_pretrained(held["embeddings.position_embeddings.weight"])
        kind = held["embeddings.token_type_embeddings.weight"][0]
        self.kind = nn.Parameter(kind, requires_grad=False)
        self.first = nn.LayerNorm(WIDTH, eps=EPS)
        self.layers = nn.ModuleList(Layer() for _ in range(LAYERS))
        for name, module in self._named():
            module.weight.data = held[f"{name}.weight"]
            module.bias.data = held[f"{name}.bias"]

    def _named(self) -> list[tuple[str, Any]]:
        found: list[tuple[str, Any]] = [(_FIRST, self.first)]
        for number, layer in enumerate(self.layers):
            found += [
                (f"encoder.layer.{number}.{there}", getattr(layer, here))
                for here, there in _PARTS.items()
            ]
        return found

    def forward(self, ids: Any, seen: Any) -> Any:
        """One row of unit length a text. ids, seen : texts by words"""
        x = self.first(self.words(ids) + self.places.weight[: ids.shape[1]] + self.kind)
        for layer in self.layers:
            x = layer(x, seen)
        share = seen[..., None].float()
        return F.normalize((x * share).sum(1) / share.sum(1), dim=-1)

    def tuned(self) -> dict[str, Any]:
        """What tuning moves, by the published names."""
        parts = ((name, module) for name, module in self._named())
        return {
            f"{name}.{kind}": getattr(module, kind).data.cpu().numpy()
            for name, module in parts
            for kind in ("weight", "bias")
        }
