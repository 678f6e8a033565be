"""What needs PyTorch, and runs as a program of its own on another machine, is not collected."""

collect_ignore = ["model.py", "packing.py", "sounds.py", "train.py"]
