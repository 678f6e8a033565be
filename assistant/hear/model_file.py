"""CTranslate2's model files, read and written, and the weights of our own that are put over one.

Layout (CTranslate2, `python/ctranslate2/specs/model_spec.py`, binary version 6): version, name of
the specification, its revision, the number of variables; each as name, rank, dimensions, type,
size in bytes, bytes; then aliases. Whole numbers are little-endian, names carry their length.
"""

import struct
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import numpy as np

TYPES = {0: "<f4", 1: "i1", 2: "<i2", 3: "<i4", 4: "<f2"}
_CODES = {np.dtype(name): code for code, name in TYPES.items()}


@dataclass(frozen=True)
class Model:
    """A model file: specification, revision, arrays by name, aliases."""

    name: str
    revision: int
    arrays: dict[str, Any]
    aliases: dict[str, str]
    version: int = 6


Patch = Mapping[str, Any]
"""What is added to arrays: for each name whole numbers of 8 bits, and for each row what one is."""
_STEPS = "steps of "


def patched(model: Model, patch: Patch) -> Model:
    """The model with a patch put over it; KeyError where an array is not there."""
    arrays = dict(model.arrays)
    for name in patch:
        if not name.startswith(_STEPS):
            old = arrays[name]
            steps = patch[_STEPS + name].reshape(-1, *[1] * (old.ndim - 1))
            arrays[name] = (old.astype(np.float32) + steps * patch[name]).astype(old.dtype)
    return replace(model, arrays=arrays)


def patch_of(old: Model, new: Mapping[str, Any]) -> dict[str, Any]:
    """The patch that makes the old arrays nearly the new ones: no value off by over half a step.

    new : arrays by name, of the shapes of the old ones
    """
    patch = {}
    for name, values in new.items():
        change = values.astype(np.float32) - old.arrays[name].astype(np.float32)
        rows = change.reshape(change.shape[0], -1) if change.ndim > 1 else change[:, None]
        steps = np.maximum(np.abs(rows).max(1) / 127, 1e-12).astype(np.float32)
        patch[name] = np.round(rows / steps[:, None]).astype(np.int8).reshape(change.shape)
        patch[_STEPS + name] = steps
    return patch


class _Reader:
    def __init__(self, data: bytes) -> None:
        self.data, self.at = data, 0

    def number(self, form: str) -> int:
        (value,) = struct.unpack_from(f"<{form}", self.data, self.at)
        self.at += struct.calcsize(form)
        return int(value)

    def text(self) -> str:
        size = self.number("H")
        self.at += size
        return self.data[self.at - size : self.at].rstrip(b"\0").decode()

    def array(self) -> Any:
        shape = tuple(self.number("I") for _ in range(self.number("B")))
        kind, size = TYPES[self.number("B")], self.number("I")
        self.at += size
        return np.frombuffer(self.data, kind, size // np.dtype(kind).itemsize,
                             self.at - size).reshape(shape)  # fmt: skip


def read(path: Path) -> Model:
    """A model file; struct.error or ValueError where it is none."""
    return parsed(path.read_bytes())


def parsed(data: bytes) -> Model:
    """The model in the bytes of a file; struct.error or ValueError where there is none."""
    reader = _Reader(data)
    version, name, revision = reader.number("I"), reader.text(), reader.number("I")
    arrays = {}
    for _ in range(reader.number("I")):
        label = reader.text()
        arrays[label] = reader.array()
    aliases = {}
    for _ in range(reader.number("I")):
        label = reader.text()
        aliases[label] = reader.text()
    return Model(name, revision, arrays, aliases, version)


def write(model: Model, path: Path) -> None:
    """Write a model file, part by part."""
    with path.open("wb") as file:
        file.writelines(_parts(model))


def _text(text: str) -> bytes:
    data = text.encode() + b"\0"
    return struct.pack("<H", len(data)) + data


def _parts(model: Model) -> Iterator[bytes]:
    yield struct.pack("<I", model.version) + _text(model.name)
    yield struct.pack("<II", model.revision, len(model.arrays))
    for label, array in model.arrays.items():
        yield _text(label) + struct.pack(f"<B{array.ndim}I", array.ndim, *array.shape)
        yield struct.pack("<BI", _CODES[array.dtype], array.nbytes) + array.tobytes()
    yield struct.pack("<I", len(model.aliases))
    for alias, label in model.aliases.items():
        yield _text(alias) + _text(label)
