"""A kitchen's way to a server's socket, which can be cut and mended while the others' stays."""

import socket
import threading
from contextlib import suppress
from pathlib import Path

_NAME = ".s.PGSQL.5432"


class Cable:
    """Carries bytes between a socket in a folder of its own and the server's."""

    def __init__(self, server: Path, folder: Path) -> None:
        self._server, self._folder = server / _NAME, folder
        self._carried: set[socket.socket] = set()
        self._lock = threading.Lock()
        self._door: socket.socket | None = None
        folder.mkdir()
        folder.chmod(0o755)
        self.mend()

    def mend(self) -> None:
        """Let the kitchen through."""
        door = socket.socket(socket.AF_UNIX)
        door.bind(str(self._folder / _NAME))
        door.listen(16)
        self._door = door
        threading.Thread(target=self._let_in, args=(door,), daemon=True).start()

    def cut(self) -> None:
        """End what is being carried, wherever it is, and let nobody through."""
        if self._door is not None:
            (self._folder / _NAME).unlink()
            with suppress(OSError):
                self._door.shutdown(socket.SHUT_RDWR)
            self._door.close()
            self._door = None
        with self._lock:
            for end in self._carried:
                with suppress(OSError):
                    end.shutdown(socket.SHUT_RDWR)

    def _let_in(self, door: socket.socket) -> None:
        while True:
            try:
                kitchen, _ = door.accept()
            except OSError:
                return
            server = socket.socket(socket.AF_UNIX)
            try:
                server.connect(str(self._server))
            except OSError:
                server.close()
                kitchen.close()
                continue
            self._carry(kitchen, server)

    def _carry(self, kitchen: socket.socket, server: socket.socket) -> None:
        with self._lock:
            self._carried |= {kitchen, server}
        done = threading.Barrier(2)
        for source, target in ((kitchen, server), (server, kitchen)):
            threading.Thread(target=self._pump, args=(source, target, done), daemon=True).start()

    def _pump(self, source: socket.socket, target: socket.socket, done: threading.Barrier) -> None:
        with suppress(OSError):
            while data := source.recv(65536):
                target.sendall(data)
        for end in (source, target):
            with suppress(OSError):
                end.shutdown(socket.SHUT_RDWR)
        done.wait()
        with self._lock:
            self._carried.discard(source)
        source.close()
