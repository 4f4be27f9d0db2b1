"""A learner of a class as a program: signs in at the hub, opens pages, talks with their kernels. For tests and benchmarks."""

import json
import re
import struct
import time
import urllib.error
import urllib.parse
import urllib.request
import uuid
from http.cookiejar import CookieJar

import websocket

KERNEL = r'"kernelId":\s*"([^"]+)"'


class Visitor:
    """Somebody with a browser at the hub's address."""

    def __init__(self, address: str):
        self.address, self.cookies = address.rstrip("/"), CookieJar()
        self._opener = urllib.request.build_opener(urllib.request.HTTPCookieProcessor(self.cookies))

    def fetch(
        self, path: str, fields: dict | None = None, patience: float = 300, method: str | None = None
    ) -> tuple[int, str, str]:
        """Status, address at the end and text of a page."""
        url = path if path.startswith("http") else self.address + path
        content = None if fields is None else urllib.parse.urlencode(fields).encode()
        try:
            with self._opener.open(urllib.request.Request(url, content, method=method), timeout=patience) as answer:
                return answer.status, answer.url, answer.read().decode()
        except urllib.error.HTTPError as refusal:
            with refusal:
                return refusal.code, refusal.url, refusal.read().decode(errors="replace")

    def sign_in(self, code: str, name: str, word: str) -> tuple[int, str, str]:
        """Fill in the page of the hub; what stands there afterwards."""
        self.fetch("/hub/login")
        secret = next(cookie.value for cookie in self.cookies if cookie.name == "_xsrf" and cookie.path == "/hub/")
        return self.fetch("/hub/login", {"_xsrf": secret, "code": code, "username": name, "password": word})

    def server(self, patience: float = 120) -> str:
        """The path of the visitor's own server, once it runs and shows the start page."""
        until = time.monotonic() + patience
        while time.monotonic() < until:
            status, url, text = self.fetch("/hub/spawn")
            found = re.match(r"(/user/[^/]+/)", urllib.parse.urlparse(url).path)
            if status == 200 and found:
                self.own = found.group(1)
                self._kernel = re.search(KERNEL, text).group(1)
                return self.own
            time.sleep(1)
        raise TimeoutError(f"no server after {patience} s")

    def page(self, name: str) -> str:
        """Leave the open page for a lesson's; its text."""
        secret = next(cookie.value for cookie in self.cookies if cookie.name == "_xsrf" and cookie.path == self.own)
        left, _, text = self.fetch(f"{self.own}voila/api/shutdown/{self._kernel}", {"_xsrf": secret})
        if left != 204:
            raise AssertionError(f"{left} {text[:300]}")
        status, _, text = self.fetch(f"{self.own}voila/render/{name}.ipynb")
        kernel = re.search(KERNEL, text)
        if status != 200 or not kernel:
            raise AssertionError(f"{name}: {status} {text[:300]}")
        self._kernel = kernel.group(1)
        return text

    def kernel(self) -> "Kernel":
        """The open page's."""
        return Kernel(self, self.own, self._kernel)


class Kernel:
    """A page's kernel, as the page's own script talks to it."""

    def __init__(self, visitor: Visitor, server: str, kernel: str):
        cookies = "; ".join(f"{one.name}={one.value}" for one in visitor.cookies if server.startswith(one.path))
        self._session = uuid.uuid4().hex
        self._line = websocket.create_connection(
            f"{visitor.address.replace('http', 'ws', 1)}{server}api/kernels/{kernel}/channels?session_id={self._session}",
            cookie=cookies,
            origin=visitor.address,
            timeout=120,
        )

    def send(self, kind: str, content: dict, channel: str = "shell", metadata: dict | None = None) -> str:
        """Send a message; its id."""
        sent = uuid.uuid4().hex
        head = {
            "msg_id": sent,
            "msg_type": kind,
            "session": self._session,
            "username": "",
            "version": "5.3",
            "date": "",
        }
        self._line.send(
            json.dumps(
                {
                    "header": head,
                    "parent_header": {},
                    "metadata": metadata or {},
                    "content": content,
                    "channel": channel,
                    "buffers": [],
                }
            )
        )
        return sent

    def received(self, patience: float = 120) -> dict | None:
        """The next message, with binary parts only its words; None where none came in time."""
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

    def _next(self) -> dict:
        """The next message. Raises TimeoutError."""
        message = self.received()
        if message is None:
            raise TimeoutError("the kernel says nothing")
        return message

    def run(self, code: str) -> str:
        """What some code prints, or its error."""
        sent = self.send(
            "execute_request",
            {"code": code, "silent": False, "store_history": False, "user_expressions": {}, "allow_stdin": False},
        )
        printed = ""
        while True:
            message = self._next()
            if message["parent_header"].get("msg_id") != sent:
                continue
            if message["msg_type"] == "stream":
                printed += message["content"]["text"]
            elif message["msg_type"] == "error":
                printed += "\n".join(message["content"]["traceback"])
            elif message["msg_type"] == "status" and message["content"]["execution_state"] == "idle":
                return printed

    def widgets(self) -> dict:
        """State of every widget by its id."""
        control = uuid.uuid4().hex
        self.send(
            "comm_open",
            {"comm_id": control, "target_name": "jupyter.widget.control", "data": {}},
            metadata={"version": "1.0.0"},
        )
        self.send("comm_msg", {"comm_id": control, "data": {"method": "request_states"}})
        while True:
            message = self._next()
            if message["msg_type"] == "comm_msg" and message["content"]["data"].get("method") == "update_states":
                return {one: state["state"] for one, state in message["content"]["data"]["states"].items()}

    def set(self, widget: str, value) -> str:
        """Move a widget, as a hand would."""
        return self.send(
            "comm_msg", {"comm_id": widget, "data": {"method": "update", "state": {"value": value}, "buffer_paths": []}}
        )

    def close(self) -> None:
        self._line.close()
