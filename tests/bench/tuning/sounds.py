"""Rooms, noise and other talkers around dry clips, drawn anew each time, in PyTorch.

Rooms as in `tests.bench.corpus.rooms` (noise that dies away), distances from 0.2 to 2.5 m. Noise
is drawn with spectra and rhythms of its own, besides the boiling, the fan and the clatter of the
corpora; tap water and pink noise are left out, so that the held-out set holds kinds never trained
on. Features are those of Whisper: 80 mel bands, 400 samples a window, 160 a step.
"""

import math

import torch
import torch.nn.functional as F

RATE = 16_000
SECONDS = 8
SIZE = RATE * SECONDS
FRAMES = 100 * SECONDS


def log_mel(sound: torch.Tensor, filters: torch.Tensor, ends: torch.Tensor) -> torch.Tensor:
    """Features (batch, 80, 800) of sounds (batch, 128000); nothing behind each end [samples]."""
    window = torch.hann_window(400, device=sound.device)
    power = torch.stft(sound, 400, 160, window=window, return_complex=True)[..., :-1].abs() ** 2
    mel = (filters @ power).clamp(min=1e-10).log10()
    mel = (torch.maximum(mel, mel.amax((1, 2), keepdim=True) - 8.0) + 4.0) / 4.0
    frames = torch.arange(FRAMES, device=sound.device)[None, None]
    return torch.where(frames < (ends // 160)[:, None, None], mel, torch.zeros_like(mel))


def masked(mel: torch.Tensor, gen: torch.Generator) -> torch.Tensor:
    """Features (batch, 80, 800) with up to 16 bands and twice up to 0.16 s blotted out.

    Park and others, SpecAugment, 2019; bands and times drawn for each sound.
    """
    device, (count, bands, frames) = mel.device, mel.shape

    def blot(size: int, most: int) -> torch.Tensor:
        width = most * torch.rand(count, 1, device=device, generator=gen)
        start = (size - width) * torch.rand(count, 1, device=device, generator=gen)
        here = torch.arange(size, device=device)[None]
        return (here >= start) & (here < start + width)

    across, along = blot(bands, 16), blot(frames, 16) | blot(frames, 16)
    return mel.masked_fill(across[:, :, None] | along[:, None], 0.0)


def responses(count: int, gen: torch.Generator, device: str) -> torch.Tensor:
    """So many rooms of up to 0.7 s (count, 11200)."""
    size = int(0.7 * RATE)
    time = torch.arange(size, device=device) / RATE

    def between(low: float, high: float) -> torch.Tensor:
        return low + (high - low) * torch.rand(count, 1, device=device, generator=gen)

    seconds, volume = between(0.2, 0.7), between(15, 70)
    metres = torch.exp(between(math.log(0.2), math.log(2.5)))
    tail = torch.randn(count, size, device=device, generator=gen)
    tail = tail * torch.exp(-math.log(1000) * time / seconds) * (time > 0.004)
    critical = 0.057 * torch.sqrt(2.0 * volume / seconds)
    tail = tail * (metres / critical) / tail.pow(2).sum(1, keepdim=True).sqrt()
    tail[:, 0] = 1.0
    return tail


def convolved(sound: torch.Tensor, room: torch.Tensor) -> torch.Tensor:
    """Sounds through rooms, as long as before."""
    size = sound.shape[1] + room.shape[1]
    spectrum = torch.fft.rfft(sound, size) * torch.fft.rfft(room, size)
    return torch.fft.irfft(spectrum, size)[:, : sound.shape[1]]


def coloured(sound: torch.Tensor, gen: torch.Generator) -> torch.Tensor:
    """Through microphones of random colour: a tilt, a bump, and edges of the band."""
    device, count = str(sound.device), len(sound)
    spectrum = torch.fft.rfft(sound)
    hertz = torch.linspace(0, RATE / 2, spectrum.shape[1], device=device)[None].clamp(min=20)

    def between(low: float, high: float) -> torch.Tensor:
        return low + (high - low) * torch.rand(count, 1, device=device, generator=gen)

    octaves = torch.log2(hertz / 1000)
    decibels = between(-3, 3) * octaves + between(-6, 6) * torch.exp(
        -((octaves - between(-2, 2.5)) ** 2)
    )
    low, high = between(40, 300), between(3300, 9000)
    gain = (
        10 ** (decibels / 20) / (1 + (low / hertz) ** 4) ** 0.5 / (1 + (hertz / high) ** 8) ** 0.5
    )
    return torch.fft.irfft(spectrum * gain, sound.shape[1])


def noises(count: int, gen: torch.Generator, device: str) -> torch.Tensor:
    """Noise of random colour and rhythm (count, 128000), mean power 1."""
    white = torch.randn(count, SIZE, device=device, generator=gen)
    noise = coloured(coloured(white, gen), gen)
    points = torch.randint(4, 60, (1,), generator=gen, device=device).item()
    rhythm = torch.rand(count, 1, int(points), device=device, generator=gen)
    depth = torch.rand(count, 1, device=device, generator=gen)
    swell = F.interpolate(rhythm, SIZE, mode="linear")[:, 0] ** 2
    noise = noise * ((1 - depth) + depth * swell)
    return noise / noise.pow(2).mean(1, keepdim=True).sqrt().clamp(min=1e-6)


def placed(clips: list[torch.Tensor], gen: torch.Generator, change: bool) -> tuple[
    torch.Tensor, torch.Tensor
]:  # fmt: skip
    """Clips somewhere in 8 s, played a little faster or slower; sound and end of each [samples].

    A twentieth lack their first moments, as when a gate opens late.
    """
    device = str(clips[0].device)
    out = torch.zeros(len(clips), SIZE, device=device)
    ends = torch.zeros(len(clips), dtype=torch.long, device=device)
    draws = torch.rand(len(clips), 5, generator=gen, device=device).tolist()
    for row, (clip, draw) in enumerate(zip(clips, draws, strict=True)):
        if change:
            ratio = 0.86 + 0.28 * draw[0]
            clip = F.interpolate(clip[None, None], size=int(len(clip) / ratio), mode="linear")[0, 0]
            if draw[1] < 0.05:
                clip = clip[int(draw[4] * 0.12 * RATE) :]
        before, behind = int((0.02 + 0.6 * draw[2] ** 2) * RATE), int((0.1 + 0.6 * draw[3]) * RATE)
        clip = clip[: SIZE - before]
        out[row, before : before + len(clip)] = clip
        ends[row] = min(SIZE, before + len(clip) + behind)
    return out, ends


def mixed(
    speech: torch.Tensor,
    noise: torch.Tensor,
    snr_db: torch.Tensor,
) -> torch.Tensor:
    """Speech over noise so many dB below its active part; infinite means none."""
    frames = speech[:, : SIZE // 320 * 320].view(len(speech), -1, 320).pow(2).mean(2)
    loud = frames > frames.amax(1, keepdim=True) * 10**-2.5
    power = (frames * loud).sum(1) / loud.sum(1).clamp(min=1)
    level = noise.pow(2).mean(1).clamp(min=1e-12)
    gain = (power / level * 10 ** (-snr_db / 10)).sqrt()
    return speech + noise * torch.where(torch.isinf(snr_db), 0.0, gain)[:, None]
