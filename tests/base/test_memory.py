"""Memory that is free goes back to the system. Each case runs in a process of its own."""

import platform
import subprocess
import sys

import pytest

from assistant.base import memory

glibc = pytest.mark.skipif(
    sys.platform != "linux" or platform.libc_ver()[0] != "glibc", reason="speaks to glibc"
)
HELD = """
from assistant.base.memory import give_back_free_memory
def held():
    return int(open("/proc/self/statm").read().split()[1]) * 4096 // 2**20
many = [bytes(100_000) for _ in range(1000)]
last = bytes(100_000)  # so that the end of the heap is in use
del many
before = held()
give_back_free_memory()
print(before - held())
"""
THREADS = """
import ctypes, threading
from assistant.base.memory import share_free_memory
{first}
meet = threading.Barrier(4)
def work():
    libc.malloc(5_000)
    meet.wait()
libc = ctypes.CDLL(None)
threads = [threading.Thread(target=work) for _ in range(4)]
[each.start() for each in threads]
[each.join() for each in threads]
libc.fopen.restype = ctypes.c_void_p
file = ctypes.c_void_p(libc.fopen(b"/dev/stdout", b"w"))
libc.malloc_info(0, file)
libc.fclose(file)
"""


def printed(code: str) -> str:
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    return done.stdout


@glibc
def test_free_memory_goes_back() -> None:
    assert int(printed(HELD)) > 50


@glibc
def test_threads_share_one_store_of_it() -> None:
    assert printed(THREADS.format(first="share_free_memory()")).count("<heap nr=") == 1
    assert printed(THREADS.format(first="")).count("<heap nr=") > 1


def test_elsewhere_nothing_is_done(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "platform", "win32")
    memory.share_free_memory()
    memory.give_back_free_memory()
