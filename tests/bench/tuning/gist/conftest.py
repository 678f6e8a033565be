"""What needs PyTorch, and runs as a program of its own on another machine, is not collected."""

collect_ignore = ["encoder.py", "train_gist.py"]
