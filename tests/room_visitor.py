"""A room on this machine, and a learner in it as a program: gives code and name, opens pages, moves their widgets.

For tests and benchmarks.
"""

import html
import json
import os
import re
import struct
import subprocess
import sys
import time
import urllib.error
import urllib.parse
import urllib.request
import uuid
from http.cookiejar import CookieJar
from pathlib import Path

import websocket

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT / "workbooks"))
from room.command import room_command  # noqa: E402

CODE = "three words nobody-expects"
HERE = "127.0.0.1"
KERNEL = re.compile(r'"kernelId":\s*"([^"]+)"')


class RunningRoom:
    """A room that is open, with its state in a folder of its own.

    address : of its door; folder : what stands for the instructor's own folder; server : the process
    """

    def __init__(self, folder: Path, *extra: str, port: int | None = None):
        self.folder, self._extra = Path(folder), extra
        self.start(port)

    def start(self, port: int | None = None) -> None:
        """Opens the room and waits until it answers; at the same address as before where it was open once."""
        before = os.environ.get("HOT_WATER_RUNS_FOLDER")
        os.environ["HOT_WATER_RUNS_FOLDER"] = str(self.folder)
        try:
            arguments, variables = room_command(Path(sys.executable), HERE, port, code=CODE)
        finally:
            os.environ.pop("HOT_WATER_RUNS_FOLDER")
            if before is not None:
                os.environ["HOT_WATER_RUNS_FOLDER"] = before
        variables["HOT_WATER_RUNS_FOLDER"] = str(self.folder)
        variables["PYTHONPATH"] = os.pathsep.join((variables["PYTHONPATH"], str(ROOT)))
        self.port = int(arguments[arguments.index("--port") + 1])
        self.address = f"http://{HERE}:{self.port}"
        self.server = subprocess.Popen([*arguments, *self._extra], env=variables, stdout=subprocess.DEVNULL)
        for _ in range(600):
            try:
                urllib.request.urlopen(self.address, timeout=5).close()
                return
            except urllib.error.HTTPError:
                return
            except (urllib.error.URLError, ConnectionError, TimeoutError):
                if self.server.poll() is not None:
                    raise AssertionError("the room was closed by itself") from None
                time.sleep(0.2)
        raise AssertionError("the room did not open")

    def members(self) -> dict[str, Path]:
        """Gives the folders of the learners by their names."""
        found = json.loads((self.folder / "room" / "members.json").read_text(encoding="utf-8"))
        return {one["name"]: self.folder / "room" / "members" / account for account, one in found.items()}

    def close(self) -> None:
        """Closes the room, as Ctrl-C does."""
        if self.server.poll() is None:
            self.server.terminate()
            try:
                self.server.wait(timeout=30)
            except subprocess.TimeoutExpired:
                self.server.kill()
                self.server.wait()

    def __enter__(self):
        return self

    def __exit__(self, *_):
        self.close()


class Visitor:
    """Somebody with a browser at the room's address, signed in under a name.

    account : whose pages it opens; cookies : of this browser
    """

    def __init__(self, address: str, name: str, word: str = "kettle", code: str = CODE):
        self.address, self.cookies = address.rstrip("/"), CookieJar()
        self._opener = urllib.request.build_opener(urllib.request.HTTPCookieProcessor(self.cookies))
        self.post("/", code=code)
        self.signed_in = self.post("/name", name=name, seat="", word=word)

    def fetch(self, path: str, content: bytes | None = None, kind: str | None = None) -> tuple[int, str, str]:
        """Gives status, address at the end and text of a page."""
        request = urllib.request.Request(self.address + path, content)
        if kind:
            request.add_header("Content-Type", kind)
        try:
            with self._opener.open(request, timeout=300) as answer:
                return answer.status, answer.url, answer.read().decode(errors="replace")
        except urllib.error.HTTPError as refusal:
            with refusal:
                return refusal.code, refusal.url, refusal.read().decode(errors="replace")

    def token(self) -> str:
        """Gives what a form of this browser has to carry along."""
        return next((one.value for one in self.cookies if one.name == "_xsrf"), "")

    def post(self, path: str, **fields: str) -> tuple[int, str, str]:
        """Fills in a form of the room and sends it."""
        if not self.token():
            self.fetch("/")
        return self.fetch(path, urllib.parse.urlencode({"_xsrf": self.token(), **fields}).encode())

    def upload(self, path: str, name: str, content: bytes) -> tuple[int, str, str]:
        """Sends a file with the form of a page."""
        edge = uuid.uuid4().hex
        parts = (
            f'--{edge}\r\nContent-Disposition: form-data; name="_xsrf"\r\n\r\n{self.token()}\r\n'.encode(),
            f'--{edge}\r\nContent-Disposition: form-data; name="layout"; filename="{name}"\r\n'.encode(),
            b"Content-Type: application/octet-stream\r\n\r\n" + content + f"\r\n--{edge}--\r\n".encode(),
        )
        return self.fetch(path, b"".join(parts), f"multipart/form-data; boundary={edge}")

    def page(self, name: str) -> "Line":
        """Opens a lesson, and gives the line to its kernel once the page is whole."""
        status, _, text = self.fetch(f"/voila/render/{name}.ipynb")
        found = KERNEL.search(text)
        if status != 200 or not found:
            raise AssertionError(f"{name}: {status} {html.unescape(text[:500])}")
        return Line(self, found.group(1))


class Line:
    """The line from a page to its kernel, as the page's own script uses it. kernel : its id"""

    def __init__(self, visitor: Visitor, kernel: str):
        self.kernel, self._session = kernel, uuid.uuid4().hex
        self._line = websocket.create_connection(
            f"{visitor.address.replace('http', 'ws', 1)}/api/kernels/{kernel}/channels?session_id={self._session}",
            cookie="; ".join(f"{one.name}={one.value}" for one in visitor.cookies),
            origin=visitor.address,
            timeout=120,
        )

    def send(self, kind: str, content: dict, metadata: dict | None = None) -> str:
        """Sends a message; gives its id."""
        sent = uuid.uuid4().hex
        head = {"msg_id": sent, "msg_type": kind, "session": self._session, "username": "", "version": "5.3", "date": ""}
        message = {
            "header": head,
            "parent_header": {},
            "metadata": metadata or {},
            "content": content,
            "channel": "shell",
            "buffers": [],
        }
        self._line.send(json.dumps(message))
        return sent

    def received(self, patience: float = 120) -> dict | None:
        """Gives the next message, of one with binary parts only its words; None where none came in time."""
        self._line.settimeout(patience)
        try:
            raw = self._line.recv()
        except websocket.WebSocketTimeoutException:
            return None
        if isinstance(raw, bytes):
            count = struct.unpack("!i", raw[:4])[0]
            places = [*struct.unpack(f"!{count}I", raw[4 : 4 * count + 4]), len(raw)]
            raw = raw[places[0] : places[1]]
        return json.loads(raw)

    def widgets(self) -> dict[str, dict]:
        """Gives the state of every widget of the page by its id."""
        control = uuid.uuid4().hex
        opened = {"comm_id": control, "target_name": "jupyter.widget.control", "data": {}}
        self.send("comm_open", opened, metadata={"version": "1.0.0"})
        self.send("comm_msg", {"comm_id": control, "data": {"method": "request_states"}})
        while (message := self.received()) is not None:
            if message["msg_type"] == "comm_msg" and message["content"]["data"].get("method") == "update_states":
                return {one: state["state"] for one, state in message["content"]["data"]["states"].items()}
        raise TimeoutError("the page's kernel says nothing")

    def set(self, widget: str, value) -> str:
        """Moves a widget, as a hand would; gives the message's id."""
        data = {"method": "update", "state": {"value": value}, "buffer_paths": []}
        return self.send("comm_msg", {"comm_id": widget, "data": data})

    def close(self) -> None:
        """Ends the line, as a browser does that goes away."""
        self._line.close()
