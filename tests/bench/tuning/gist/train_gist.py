"""Tunes the sentence model on a GPU, four times, and writes the mean of the four.

    python train_gist.py MODEL LABELLED.tsv OUT [--apart 0.15]

MODEL holds model.safetensors and vocab.txt. Each text is drawn to the other texts of its label
(Khosla et al. 2020, "Supervised Contrastive Learning", arXiv 2004.11362) and to one direction a
label. With --apart so large a share of the texts is kept apart first, and what comes out on it is
printed. Averaging several runs: Wortsman et al. 2022, "Model soups", arXiv 2203.05482.
Writes OUT/layers_0.npz and OUT/layers_1.npz, half precision.
"""

import argparse
import random
from pathlib import Path
from typing import Any

import numpy as np
import torch
import torch.nn.functional as F
from encoder import WIDTH, Encoder
from safetensors.numpy import load_file
from tokenizers import BertWordPieceTokenizer

EPOCHS, BATCH, RATE, RUNS = 10, 128, 1.5e-4, 4
HEAT, SCALE, SMOOTH = 0.07, 20.0, 0.05
LONGEST = 64
DEVICE = "cuda" if torch.cuda.is_available() else "cpu"
Pairs = list[tuple[str, str]]


class Tuning:
    """The published model and its words."""

    def __init__(self, model: Path) -> None:
        self.tensors = load_file(model / "model.safetensors")
        self.words = BertWordPieceTokenizer(str(model / "vocab.txt"), lowercase=True)

    def fresh(self) -> Encoder:
        """The model as it was published."""
        return Encoder(self.tensors).to(DEVICE)

    def batch(self, texts: list[str]) -> tuple[Any, Any]:
        """Numbers of the words, and which are no padding."""
        found = [self.words.encode(text.casefold()).ids[:LONGEST] for text in texts]
        size = (len(found), max(map(len, found)))
        ids, seen = torch.zeros(size, dtype=torch.long), torch.zeros(size, dtype=torch.bool)
        for at, row in enumerate(found):
            ids[at, : len(row)], seen[at, : len(row)] = torch.tensor(row), True
        return ids.to(DEVICE), seen.to(DEVICE)

    @torch.no_grad()
    def directions(self, model: Encoder, texts: list[str]) -> Any:
        """One row a text."""
        model.eval()
        rows = np.zeros((len(texts), WIDTH), np.float32)
        for at in range(0, len(texts), 256):
            part = texts[at : at + 256]
            rows[at : at + len(part)] = model(*self.batch(part)).cpu().numpy()
        return rows

    def run(self, pairs: Pairs, seed: int) -> Encoder:
        """One tuning."""
        chance = random.Random(seed)
        torch.manual_seed(seed)
        model, labels = self.fresh(), sorted({label for label, _ in pairs})
        place = {label: at for at, label in enumerate(labels)}
        by_label: dict[str, list[str]] = {}
        for label, text in pairs:
            by_label.setdefault(label, []).append(text)
        rows = np.stack([self.directions(model, by_label[name]).mean(0) for name in labels])
        middles = torch.nn.Parameter(F.normalize(torch.tensor(rows, device=DEVICE), dim=-1))
        moved = [p for p in model.parameters() if p.requires_grad]
        steps = EPOCHS * (len(pairs) // BATCH)
        optimiser = torch.optim.AdamW(
            [
                {"params": moved, "lr": RATE, "weight_decay": 0.01},
                {"params": [middles], "lr": 2e-3, "weight_decay": 0.0},
            ]
        )
        rate = torch.optim.lr_scheduler.LambdaLR(
            optimiser, lambda n: min(1.0, (n + 1) / (0.1 * steps)) * max(0.0, 1 - n / steps)
        )
        for _ in range(EPOCHS):
            order = list(pairs)
            chance.shuffle(order)
            model.train()
            for at in range(0, len(order) - BATCH + 1, BATCH):
                part = order[at : at + BATCH]
                others = [chance.choice(by_label[label]) for label, _ in part]
                wanted = torch.tensor([place[label] for label, _ in part], device=DEVICE)
                here = model(*self.batch([text for _, text in part]))
                there = model(*self.batch(others))
                loss = _loss(here, there, wanted, middles)
                optimiser.zero_grad()
                loss.backward()
                torch.nn.utils.clip_grad_norm_(moved, 1.0)
                optimiser.step()
                rate.step()
        return model

    def mean_of_runs(self, pairs: Pairs) -> Encoder:
        """The mean of several tunings, weight by weight."""
        states = [self.run(pairs, seed + 1).state_dict() for seed in range(RUNS)]
        model = self.fresh()
        mean = {name: sum(s[name] for s in states) / RUNS for name in states[0]}
        model.load_state_dict(mean)
        return model

    def told(self, model: Encoder, known: Pairs, apart: Pairs) -> float:
        """The share of the texts kept apart whose nearest known text has their label."""
        near = (
            self.directions(model, [t for _, t in apart])
            @ self.directions(model, [t for _, t in known]).T
        )
        hits = [known[at][0] == label for at, (label, _) in zip(near.argmax(1), apart, strict=True)]
        return sum(hits) / len(hits)


def _loss(here: Any, there: Any, wanted: Any, middles: Any) -> Any:
    to_middle = SCALE * here @ F.normalize(middles, dim=-1).T
    same = (wanted[:, None] == wanted[None, :]).float()
    same = same / same.sum(1, keepdim=True)
    to_others = -(same * F.log_softmax(here @ there.T / HEAT, 1)).sum(1).mean()
    return F.cross_entropy(to_middle, wanted, label_smoothing=SMOOTH) + 0.5 * to_others


def main() -> None:
    """Tune, tell, write."""
    asks = argparse.ArgumentParser(description=__doc__)
    asks.add_argument("model", type=Path)
    asks.add_argument("labelled", type=Path)
    asks.add_argument("out", type=Path)
    asks.add_argument("--apart", type=float, default=0.0)
    given = asks.parse_args()
    lines = given.labelled.read_text("utf-8").splitlines()
    pairs = [(label, text) for label, _, text in (line.partition("\t") for line in lines)]
    tuning = Tuning(given.model)
    random.Random(5).shuffle(pairs)
    apart, known = pairs[: int(given.apart * len(pairs))], pairs[int(given.apart * len(pairs)) :]
    model = tuning.mean_of_runs(known)
    if apart:
        before, after = (tuning.told(m, known, apart) for m in (tuning.fresh(), model))
        print(f"kept apart {len(apart)}: {100 * before:.1f} % before, {100 * after:.1f} % after")
    found = {name: values.astype(np.float16) for name, values in model.tuned().items()}
    names = sorted(found)
    given.out.mkdir(parents=True, exist_ok=True)
    for number, part in enumerate((names[: len(names) // 2], names[len(names) // 2 :])):
        np.savez(given.out / f"layers_{number}.npz", **{name: found[name] for name in part})


if __name__ == "__main__":
    main()
