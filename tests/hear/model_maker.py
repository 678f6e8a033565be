"""Folders that look like Vosk models, and an archive of one."""

import zipfile
from pathlib import Path

PARTS = (
    "am/final.mdl",
    "conf/mfcc.conf",
    "conf/model.conf",
    "graph/HCLr.fst",
    "graph/Gr.fst",
)
FIXED = (*PARTS[:3], "graph/HCLG.fst")
"""The parts of a model whose graph is ready-made."""


def make_model(folder: Path, parts: tuple[str, ...] = PARTS) -> Path:
    """A folder with these parts, each with a few bytes in it."""
    for part in parts:
        (folder / part).parent.mkdir(parents=True, exist_ok=True)
        (folder / part).write_bytes(b"not a real model")
    return folder


def make_archive(name: str, scratch: Path) -> bytes:
    """A zip of such a folder under this name."""
    folder = make_model(scratch / name)
    archive = scratch / f"{name}.archive"
    with zipfile.ZipFile(archive, "w") as file:
        for part in PARTS:
            file.write(folder / part, f"{name}/{part}")
    return archive.read_bytes()
