"""Attacks on a running room, as a browser or a program in the room could make them: none gives anything."""

import json
import re

import pytest
from room_visitor import Visitor, heard, message, opened, widget_states

from lessons_lib.lessons.your_own_run import own_files

websocket = pytest.importorskip("websocket", reason='install the extra "test" to run this test')

BAIT = "import pathlib, os; pathlib.Path(os.environ['HOT_WATER_RUNS_FOLDER'], 'owned').write_text('x')"
KINDS = {
    "execute_request": {
        "code": BAIT,
        "silent": False,
        "store_history": True,
        "user_expressions": {},
        "allow_stdin": True,
    },
    "inspect_request": {"code": "print", "cursor_pos": 5, "detail_level": 1},
    "complete_request": {"code": "impo", "cursor_pos": 4},
    "history_request": {"output": True, "raw": True, "hist_access_type": "tail", "n": 100},
    "is_complete_request": {"code": BAIT},
    "connect_request": {},
    "shutdown_request": {"restart": False},
    "interrupt_request": {},
    "debug_request": {"seq": 1, "type": "request", "command": "evaluate", "arguments": {"expression": BAIT}},
    "comm_info_request": {},
    "create_subshell_request": {},
    "delete_subshell_request": {"subshell_id": "x"},
    "list_subshell_request": {},
    "usage_request": {},
    "apply_request": {"code": BAIT},
    "clear_request": {},
    "abort_request": {},
    "input_reply": {"value": BAIT},
    "execute_reply": {"status": "ok"},
    "": {"code": BAIT},
}
CHANNELS = ("shell", "control", "stdin", "iopub")
LAYOUT = list(own_files.ready_made().values())[1].read_bytes()
LESSON = "/voila/render/02-how-hot-at-the-tap.ipynb"
PATHS = """
/api /api/status /api/me /api/spec.yaml /api/contents /api/contents/ /api/contents/start-here.ipynb
/api/contents/..%2f..%2froom.json /api/kernels /api/kernels/ /api/sessions /api/terminals /api/terminals/1
/api/kernelspecs /api/config/notebook /api/nbconvert /api/security/csp-report /api/shutdown /api/events /lab /tree /notebooks/x
/files/room.json /edit/room.json /view/x /terminals/1 /terminals/websocket/1 /login /logout /nbconvert/html/start-here.ipynb
/kernelspecs/python3/kernel.json /metrics /static/../room.json /static/style/style.min.css /custom/custom.css
/voila /voila/ /voila/tree /voila/tree/ /voila/tree/.. /voila/api/contents /voila/api/contents/start-here.ipynb
/voila/files/room.json /voila/files/../room.json /voila/files/start-here.ipynb /voila/files/..%2froom.json
/voila/render /voila/render/ /voila/render/.. /voila/render/../room.json /voila/render/..%2f..%2froom.json
/voila/render/%2e%2e/%2e%2e/room.json /voila/render/instructor/answer-key.ipynb /voila/render//etc/passwd
/voila/render/..%5croom.json /voila/render/class-board.ipynb /voila/render/start-here.ipynb%00 /voila/render/.ipynb
/voila/static/../../../room.json /voila/static/..%2f..%2f..%2f..%2f..%2froom.json /voila/static//etc/passwd
/voila/static/%2e%2e/%2e%2e/room.json /voila/templates/lab/static/../../../../../room.json
/voila/templates/../../room.json /voila/templates/room/static/..%2f..%2f..%2f..%2f..%2froom.json
/voila/templates/..%2f..%2f/static/room.json /voila/templates/x /voila/labextensions/../../room.json
/voila/labextensions/..%2f..%2froom.json /voila/query/0-0-0-0-0 /voila/execution/0-0-0-0-0 /voila/api/themes/../room.json
/members.json /room.json /../room.json /%2e%2e/room.json /served/pages/start-here.ipynb /members /instructor /.git/config
""".split()
SECRETS = (
    "cookie",
    "$argon2id",
    "root:x:0",
    '"cells"',
    "from lessons_lib",
    "Traceback",
    "tornado",
    "<title>Error",
    "[core]",
)


@pytest.fixture(scope="module")
def room(tmp_path_factory):
    with pytest.MonkeyPatch.context() as patch, opened(tmp_path_factory.mktemp("attacked"), patch) as found:
        yield found


@pytest.fixture(scope="module")
def ana(room):
    """A learner with an open lesson: herself, her page, its kernel."""
    visitor = Visitor(room)
    visitor.enter("Ana")
    page, kernel = visitor.open()
    return visitor, page, kernel


@pytest.fixture(scope="module")
def ben(room):
    """A signed-in neighbour, with an open lesson of his own."""
    visitor = Visitor(room)
    visitor.enter("Ben")
    return visitor, visitor.open()[1]


def stolen(room) -> list:
    """What a message that ran would have left behind."""
    return list(room.state.rglob("owned"))


def test_no_kind_of_message_but_widgets_reaches_ones_own_kernel(room, ana):
    visitor, _, kernel = ana
    line = visitor.socket(kernel)
    for kind, content in KINDS.items():
        for channel in CHANNELS:
            line.send(message(kind, content, channel))
    # what is allowed is answered, and after all that was sent before
    line.send(message("kernel_info_request", {}))
    kinds = {one["msg_type"] for one in heard(line, "kernel_info_reply")}
    line.close()
    assert kinds <= {"kernel_info_reply", "status"}, kinds
    assert not stolen(room) and room.program.poll() is None
    assert visitor.ask(f"/api/kernels/{kernel}").status == 200, "the kernel is still there"


def test_a_widget_still_moves(ana):
    visitor, _, kernel = ana
    line = visitor.socket(kernel)
    states = widget_states(line)
    sliders = {comm: one["state"] for comm, one in states.items() if one["model_name"] == "FloatSliderModel"}
    for comm, state in sliders.items():
        moved = {"value": state["max"] if state["value"] < state["max"] else state["min"]}
        line.send(
            message("comm_msg", {"comm_id": comm, "data": {"method": "update", "state": moved, "buffer_paths": []}})
        )
    line.send(message("kernel_info_request", {}))
    came = [one["content"].get("comm_id") for one in heard(line, "kernel_info_reply", 90)]
    line.close()
    assert set(came) - {None, *sliders}, "the page answers with other widgets"


@pytest.mark.parametrize("who", ["nobody", "somebody with the code", "a neighbour", "a removed cookie", "another site"])
def test_a_strangers_line_to_a_kernel_is_refused(room, ana, ben, who):
    _, _, kernel = ana
    visitor, site = Visitor(room), ""
    if who == "somebody with the code":
        visitor.give_code()
    elif who == "a neighbour":
        visitor = ben[0]
    elif who == "a removed cookie":
        visitor.cookies = {name: value for name, value in ana[0].cookies.items() if name != "room-code"}
    elif who == "another site":
        visitor, site = ana[0], "http://evil.example"
    with pytest.raises(websocket.WebSocketBadStatusException) as refused:
        line = visitor.socket(kernel, site)
        line.send(message("execute_request", KINDS["execute_request"]))
        heard(line, "execute_reply")
    assert refused.value.status_code == 403 and not stolen(room)


def test_a_neighbour_can_neither_see_nor_end_a_kernel(room, ana, ben):
    _, _, kernel = ana
    neighbour = ben[0]
    xsrf = {"X-XSRFToken": neighbour.cookies["_xsrf"]}
    for path, method in (
        (f"/api/kernels/{kernel}", "GET"),
        (f"/api/kernels/{kernel}", "DELETE"),
        (f"/api/kernels/{kernel}/interrupt", "POST"),
        (f"/api/kernels/{kernel}/restart", "POST"),
        (f"/voila/api/shutdown/{kernel}", "POST"),
        (f"/voila/query/{kernel}", "GET"),
        (f"/voila/execution/{kernel}", "GET"),
    ):
        answer = neighbour.ask(path, method=method, headers=xsrf)
        assert answer.status in (403, 404, 405) and kernel not in answer.text, path
    assert ana[0].ask(f"/api/kernels/{kernel}").status == 200


@pytest.mark.parametrize("path", PATHS)
def test_no_path_gives_anything(room, ana, path):
    without = Visitor(room).ask(path)
    assert without.status in (400, 403) and (without.asks_for == "code" or without.told), path
    for visitor, methods in ((Visitor(room), ("POST",)), (ana[0], ("GET", "HEAD", "POST", "PUT", "DELETE"))):
        for method in methods:
            headers = {"X-XSRFToken": visitor.cookies.get("_xsrf", "")}
            answer = visitor.ask(path, method=method, headers=headers)
            assert answer.status in (400, 403, 404, 405), (path, method, answer.status)
            assert not any(secret in answer.text for secret in SECRETS), (path, method)
            assert room.code not in answer.text and room.instructor not in answer.text
            if method in ("GET", "POST"):
                assert answer.told or answer.asks_for, (path, method, answer.text[:300])


def test_a_page_without_the_code_keeps_what_was_asked_for(room):
    visitor = Visitor(room)
    asked = visitor.ask(LESSON)
    assert asked.status == 403 and asked.asks_for == "code" and f'value="{LESSON}"' in asked.text
    assert "How hot at the tap" not in asked.text
    answer = visitor.give_code(to=LESSON)
    assert answer.status == 303 and answer.headers["Location"] == LESSON
    assert visitor.ask(LESSON).asks_for == "name"
    answer = visitor.ask("/name", {"name": "Cem", "word": "kite", "to": LESSON})
    assert answer.headers["Location"] == LESSON


@pytest.mark.parametrize(
    "to",
    [
        "//evil.example",
        "http://evil.example/",
        "/voila/render/../x",
        "/\\evil.example",
        "javascript:alert(1)",
        "x\r\ny: z",
    ],
)
def test_the_door_sends_nobody_to_another_site(room, to):
    assert Visitor(room).give_code(to=to).headers["Location"] == "/voila/render/start-here.ipynb"


def test_other_names_for_this_address_give_nothing(ana):
    visitor, _, _ = ana
    for host in ("evil.example", "evil.example:80", "", "127.0.0.1.evil.example", "127.0.0.1"):
        answer = visitor.ask(LESSON, headers={"Host": host})
        assert answer.status in (400, 403) and "How hot at the tap" not in answer.text, host
        assert "not at this address" in answer.told or answer.status == 400


def test_forms_from_elsewhere_are_refused(room, ana):
    visitor, _, _ = ana
    stranger = Visitor(room)
    for form in ({"code": room.code, "_xsrf": ""}, {"code": room.code, "_xsrf": "2|made|up|1"}):
        answer = stranger.ask("/", form)
        assert answer.status == 403 and "came from somewhere else" in answer.told
        assert "room-code" not in stranger.cookies
    assert visitor.ask("/leave", {"_xsrf": ""}).status == 403
    assert visitor.ask("/leave").status == 200, "still signed in"


def test_cookies_are_out_of_reach_and_cannot_be_made_up(room):
    visitor = Visitor(room)
    given = [visitor.give_code(), visitor.enter("Dee")]
    cookies = [one for answer in given for one in answer.headers.get_all("Set-Cookie") if one.startswith("room-")]
    assert len(cookies) == 2 and all("HttpOnly" in one and "SameSite=Strict" in one for one in cookies)
    assert not any(re.search("expires|max-age", one, re.I) for one in cookies), "gone when the browser is closed"
    account = next(iter(json.loads((room.state / "members.json").read_text())))
    forged = Visitor(room)
    forged.give_code()
    name, _, value = cookies[1].partition(";")[0].partition("=")
    for made_up in (
        account,
        f"{account} 0",
        value.replace("A", "B"),
        value[:-4] + 'beef"',
        '"2|1:0|10:1|11:room-member|4:eA==|00"',
    ):
        forged.cookies[name] = made_up
        assert forged.ask(LESSON).asks_for == "name", made_up
    swapped = Visitor(room)  # the code's cookie in the place of the member's
    swapped.give_code()
    swapped.cookies["room-member"] = swapped.cookies["room-instructor"] = swapped.cookies["room-code"]
    assert swapped.ask(LESSON).asks_for == "name" and swapped.ask("/instructor").status in (403, 404)


def test_the_cookie_of_a_removed_learner_opens_nothing_of_a_later_ones(room):
    from room.members import Members

    before, after = Visitor(room), Visitor(room)
    before.enter("Fay")
    members = Members(room.state)
    account, _ = members.named("Fay")
    members.remove(account)
    assert before.ask(LESSON).asks_for == "name"
    after.enter("Fay", "another")
    assert members.named("Fay")[0] == account and after.ask("/leave").status == 200
    assert before.ask("/leave").asks_for == "name"


def test_every_page_loads_from_this_machine_only(ana):
    visitor, page, _ = ana
    for path in ("/", "/leave", LESSON, "/nothing", "/voila/static/x"):
        asks = Visitor(visitor.room) if path == "/" else visitor
        policy = asks.ask(path).headers["Content-Security-Policy"]
        assert policy.startswith("default-src 'self'") and "frame-ancestors 'none'" in policy
        assert "*" not in policy and "http" not in policy
        assert "unsafe-eval" not in policy or path == LESSON
    assert "from lessons_lib" not in page and "For the instructor" not in page


def test_what_people_type_is_never_printed(room):
    for path in (f"/?code={room.code.replace(' ', '+')}&token=guessed-token", "/x?token=guessed-token"):
        Visitor(room).ask(path)
    Visitor(room).give_code("guessed-token")
    Visitor(room).ask("/", {"code": "guessed-token", "_xsrf": ""})
    assert "guessed-token" not in (room.state.parent / "room.log").read_text()


def test_a_token_in_the_address_opens_nothing(room):
    for query in (f"token={room.code}", f"token={room.instructor}", f"code={room.code}", "token="):
        answer = Visitor(room).ask(f"{LESSON}?{query.replace(' ', '%20')}")
        assert answer.status == 403 and answer.asks_for == "code"
    answer = Visitor(room).ask(LESSON, headers={"Authorization": f"token {room.instructor}"})
    assert answer.status == 403 and answer.asks_for == "code"


def test_leaving_ends_the_sign_in_and_the_open_pages(room):
    visitor = Visitor(room)
    visitor.enter("Eve")
    kernel = visitor.open()[1]
    before = dict(visitor.cookies)
    assert visitor.ask("/leave", {}).headers["Location"] == "/name"
    assert visitor.ask(LESSON).asks_for == "name"
    visitor.cookies = before
    with pytest.raises(websocket.WebSocketBadStatusException):
        visitor.socket(kernel)


def test_files_come_as_downloads_to_their_owner_alone(room):
    gus, hal = Visitor(room), Visitor(room)
    assert gus.ask("/files").asks_for == "code"
    gus.enter("Gus")
    hal.enter("Hal")
    assert "no file of yours yet" in gus.ask("/files").text
    edge = "edge-of-a-part"
    body = (
        (
            f'--{edge}\r\nContent-Disposition: form-data; name="_xsrf"\r\n\r\n{gus.cookies["_xsrf"]}\r\n'
            f'--{edge}\r\nContent-Disposition: form-data; name="layout"; filename="bärn &lt;1.toml"\r\n\r\n'
        ).encode()
        + LAYOUT
        + f"\r\n--{edge}--\r\n".encode()
    )
    kind = {"Content-Type": f"multipart/form-data; boundary={edge}"}
    refused = gus.ask("/files", method="POST", headers=kind, body=body)
    assert refused.status == 400 or "is kept" in refused.text
    kept = gus.ask("/files", method="POST", headers=kind, body=body.replace("bärn &lt;1".encode(), b"barn"))
    assert kept.status == 200 and "barn.toml is kept" in kept.text and 'href="/files/barn.toml"' in kept.text
    got = gus.ask("/files/barn.toml")
    assert got.text == LAYOUT.decode() and got.headers["Content-Disposition"].startswith("attachment")
    assert hal.ask("/files/barn.toml").status == 404 and "barn.toml" not in hal.ask("/files").text
    for way in (
        "/files/..%2F..%2Fmembers.json",
        "/files/../../members.json",
        "/files/%2e%2e%2fchoices.json",
        "/files/",
    ):
        assert gus.ask(way).status in (403, 404), way
    assert gus.ask("/files", {"layout": "x"}).status == 400
