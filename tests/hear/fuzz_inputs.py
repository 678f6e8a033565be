"""Recordings and lines that nobody means: sound without speech in every shape, damaged files, files
of other kinds, odd text. All from the random source that is passed in."""

import io
import struct
from random import Random

import numpy as np
import soundfile
from numpy.typing import NDArray

Sound = NDArray[np.float64]
SUBTYPES = ("PCM_U8", "PCM_16", "PCM_24", "PCM_32", "FLOAT", "DOUBLE", "ULAW", "ALAW")
RATES = (8_000, 11_025, 16_000, 22_050, 32_000, 44_100, 48_000)
OTHERS = (
    b"ID3\x04\x00\x00\x00\x00\x00\x21", b"\xff\xfb\x90\x64", b"OggS\x00\x02",
    b"FORM\x00\x00\x10\x00AIFF",
    b"MThd\x00\x00\x00\x06", b"\x89PNG\r\n\x1a\n", b"PK\x03\x04", b"\x7fELF\x02\x01", b"%PDF-1.7\n",
    b"RIFF\xff\xff\xff\x7fAVI ", b"RIFF\x24\x00\x00\x00WEBP", b".snd\x00\x00\x00\x18",
    b"caff\x00\x01",
    b"\x1aE\xdf\xa3", b"\x00\x00\x00\x20ftypM4A ", b"<html><body>", b"", b"\x00",
)  # fmt: skip
_PHRASES = (
    "two point four kilos of blackcurrants", "sixty three degrees", "ph 3.18", "done", "1 1/2 cups",
    "nine bottles of half a litre", "how long does it keep", "note the colour is dark", "no, sixty",
    "set a timer for ten minutes", "62bx", "throw it away", "two stages back", "be quiet",
    "what if it were seventy", "we gave two bottles to the kiosk",
)  # fmt: skip
_RANGES = (
    (0x20, 0x7E), (0xA0, 0x24F), (0x300, 0x36F), (0x400, 0x4FF), (0x590, 0x6FF), (0x0900, 0x97F),
    (0x2000, 0x206F), (0x2150, 0x218F), (0x2460, 0x24FF), (0x3040, 0x30FF), (0xAC00, 0xACFF),
    (0xFE00, 0xFE0F), (0xFF00, 0xFFEF), (0x1D7CE, 0x1D7FF), (0x1F300, 0x1F64F), (0xE000, 0xE0FF),
)  # fmt: skip


def noise(random: Random, rate: int) -> Sound:
    """Up to three seconds of sound without speech, at most full scale."""
    made = np.random.default_rng(random.getrandbits(32))
    count = round(rate * random.uniform(0.0, 3.0))
    time = np.arange(count) / rate
    white = made.standard_normal(count)
    kind = random.randrange(8)
    sounds = {
        0: lambda: white,
        1: lambda: np.cumsum(white),
        2: lambda: np.sin(2 * np.pi * random.uniform(20, rate / 2) * time),
        3: lambda: white * (np.sin(2 * np.pi * random.uniform(0.5, 9) * time) > 0),
        4: lambda: np.sin(2 * np.pi * np.cumsum(np.linspace(50, rate / 3, count)) / rate),
        5: lambda: np.where(made.random(count) < 0.001, white * 5, 0.0),
        6: lambda: np.sign(np.sin(2 * np.pi * random.uniform(40, 400) * time)) + 0.1 * white,
        7: lambda: np.full(count, random.choice((0.0, 1.0, -1.0, 1e-9))),
    }
    sound = sounds[kind]()
    peak = float(np.max(np.abs(sound), initial=0.0)) or 1.0
    return np.asarray(sound / peak * random.choice((1.0, 0.3, 0.05, 0.001)))


def recording(random: Random) -> bytes:
    """A whole WAV or FLAC file without speech."""
    rate = random.choice(RATES)
    sound = noise(random, rate)
    channels = random.choice((1, 1, 2))
    flac = random.random() < 0.15 and len(sound) > 0
    kind, subtype = ("FLAC", "PCM_16") if flac else ("WAV", random.choice(SUBTYPES))
    file = io.BytesIO()
    soundfile.write(file, np.stack([sound] * channels, 1), rate, format=kind, subtype=subtype)
    return file.getvalue()


def damaged(random: Random) -> bytes:
    """A recording cut short, with wrong bytes, with absurd sizes, or a file of another kind."""
    data = bytearray(recording(random))
    kind = random.randrange(5)
    if kind == 0:
        return bytes(data[: random.randrange(len(data) + 1)])
    if kind == 1:
        for _ in range(random.randint(1, 30)):
            data[random.randrange(min(len(data), random.choice((44, 200, len(data)))))] = (
                random.randrange(256)
            )
        return bytes(data)
    if kind == 2:
        at = random.choice([4, 16, 22, 24, 28, 32, 34, max(4, data.find(b"data") + 4)])
        size = random.choice((0, 1, 0x7FFFFFFF, 0x80000000, 0xFFFFFFFF, random.getrandbits(32)))
        data[at : at + 4] = struct.pack("<I", size)
        return bytes(data)
    if kind == 3:
        return random.choice(OTHERS) + random.randbytes(random.choice((0, 10, 1000, 20_000)))
    return random.randbytes(random.randint(0, 5000))


def symbols(random: Random, longest: int = 60) -> str:
    """Characters of any script, none of our phrases; line ends left out."""
    found = []
    for _ in range(random.randint(0, longest)):
        low, high = random.choice(_RANGES)
        found.append(chr(random.randint(low, high)))
    return "".join(found).replace("\x85", "").replace("\u2028", "").replace("\u2029", "")


def mangled(random: Random) -> str:
    """Phrases cut, joined, repeated, misspelt, with symbols in between."""
    words = " ".join(random.choice(_PHRASES) for _ in range(random.choice((1, 1, 2, 5)))).split()
    for _ in range(random.randint(0, 4)):
        at = random.randrange(len(words))
        change = random.randrange(5)
        if change == 0:
            words[at] = words[at][: random.randint(0, len(words[at]))]
        elif change == 1:
            words[at] = symbols(random, 4)
        elif change == 2:
            words[at : at + 1] = [words[at]] * random.choice((2, 3, 40))
        elif change == 3:
            words[at] = str(
                random.choice((0, -1, 1e9, 0.001, 10**40, "1e5", "1/0", "0x10", "3,,2"))
            )
        else:
            random.shuffle(words)
    return (" " * random.choice((1, 1, 1, 9))).join(words)


def long_line(random: Random) -> str:
    """A line that goes on and on."""
    piece = random.choice(
        ("a", "seventy ", "1 ", "½", "no ", "((((", "point ", "\u0301", "1,", "🍓")
    )
    return piece * random.choice((100, 5_000, 100_000))
