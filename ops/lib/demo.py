"""The demo as a service of the script's own: a folder, a port, and a clock that starts at one fixed instant."""
import os
import shutil
import signal
import socket
import subprocess
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
SECONDS_TO_START = 240
NOW = "2026-11-25T10:47:00Z"


def free_port():
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


class Service:
    """The demo, started by the README's own command."""

    def __init__(self):
        self.data = tempfile.mkdtemp()
        self.address = f"http://127.0.0.1:{free_port()}"
        command = [ROOT / "ops/run", "--demo", "--data", self.data, "--urls", self.address]
        self.process = subprocess.Popen(
            command, stdout=subprocess.PIPE, text=True, cwd=ROOT, env={**os.environ, "Clock__Start": NOW})
        signal.alarm(SECONDS_TO_START)
        for line in self.process.stdout:
            if line.startswith("ready "):
                signal.alarm(0)
                return
        raise SystemExit("The demo did not become ready.")

    def stop(self):
        self.process.send_signal(signal.SIGTERM)
        code = self.process.wait(timeout=60)
        shutil.rmtree(self.data, ignore_errors=True)
        if code != 0:
            raise SystemExit(f"The service ended with code {code} when asked to stop.")
