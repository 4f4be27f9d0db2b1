"""Image and values for a cluster: they parse, say what the hub's chart reads, keep the door shut, and name files that are there."""

import re
import sys
from pathlib import Path

import pytest
import yaml

ROOT = Path(__file__).resolve().parents[2]
HUB = ROOT / "workbooks" / "instructor" / "hub"
VALUES = yaml.safe_load((HUB / "values.yaml").read_text(encoding="utf-8"))
PAGE = (HUB / "README.md").read_text(encoding="utf-8")
# Keys of the hub's chart that are used here (its own values.yaml and schema.yaml), two levels deep.
CHART = {
    "hub": {"extraEnv", "extraFiles", "templatePaths", "extraConfig"},
    "proxy": {"service"},
    "cull": {"enabled", "timeout", "every"},
    "singleuser": {
        "image",
        "cmd",
        "defaultUrl",
        "uid",
        "fsGid",
        "startTimeout",
        "allowPrivilegeEscalation",
        "memory",
        "cpu",
        "storage",
    },
}


def instructions() -> list[tuple[str, str]]:
    """The Dockerfile's lines, continued ones joined: (word, the rest)."""
    text = re.sub(r"\\\n\s*", "", (HUB / "Dockerfile").read_text(encoding="utf-8"))
    return [tuple(line.split(maxsplit=1)) for line in text.splitlines() if line.strip() and not line.startswith("#")]


def test_values_hold_only_what_the_chart_reads():
    assert {part: set(VALUES[part]) for part in VALUES} == CHART
    for size in VALUES["singleuser"]["memory"].values():
        assert re.fullmatch(r"\d+[MG]", size)
    assert VALUES["singleuser"]["storage"]["capacity"] and VALUES["cull"]["enabled"] is True


def test_nobody_comes_in_without_the_code(tmp_path, monkeypatch):
    """The hub's part is run with a stand-in for its configuration: no code, no hub."""
    pytest.importorskip("jupyterhub", reason='install the extra "class" to run this test')
    from traitlets.config import Config

    assert VALUES["proxy"]["service"]["type"] == "ClusterIP" and "authenticator_class" not in str(
        VALUES["hub"].get("config", "")
    )
    monkeypatch.syspath_prepend(str(HUB))
    code = compile(
        VALUES["hub"]["extraConfig"]["class"].replace("/srv/jupyterhub", str(tmp_path)), "values.yaml", "exec"
    )
    monkeypatch.delenv("ROOM_CODE", raising=False)
    with pytest.raises(KeyError, match="ROOM_CODE"):
        exec(code, {"c": Config()})
    monkeypatch.setenv("ROOM_CODE", "r00mcode")
    c = Config()
    exec(code, {"c": c})
    assert c.JupyterHub.authenticator_class.__name__ == "RoomAuthenticator" and c.RoomAuthenticator.code == "r00mcode"
    assert VALUES["hub"]["extraEnv"]["ROOM_CODE"]["valueFrom"]["secretKeyRef"] == {"name": "room-code", "key": "code"}
    monkeypatch.setattr(sys, "path", [one for one in sys.path if "local/etc/jupyterhub" not in one])


def test_files_of_the_hub_are_handed_over_by_the_page_of_instructions():
    for name, entry in VALUES["hub"]["extraFiles"].items():
        (given,) = re.findall(rf"hub\.extraFiles\.{name}\.stringData=(\S+)", PAGE)
        assert (ROOT / given).name == Path(entry["mountPath"]).name and (ROOT / given).is_file()
    assert len(re.findall("--set-file", PAGE)) == len(VALUES["hub"]["extraFiles"])


def test_the_image_is_pinned_unprivileged_and_without_the_instructors_pages():
    lines = instructions()
    words = {"FROM", "WORKDIR", "COPY", "RUN", "USER", "ENV", "EXPOSE", "CMD"}
    assert {word for word, _ in lines} <= words and lines[0][0] == "FROM" and lines[-1][0] == "CMD"
    assert all(re.fullmatch(r"python:3\.\d+\.\d+-slim( AS build)?", rest) for word, rest in lines if word == "FROM")
    last = lines[max(place for place, (word, _) in enumerate(lines) if word == "FROM") :]
    assert [rest for word, rest in last if word == "COPY"] == ["--from=build /built /opt/hot-water-runs"]
    assert ("USER", str(VALUES["singleuser"]["uid"])) in last
    for word, rest in lines:
        if word == "COPY" and not rest.startswith("--from"):
            assert all((ROOT / one).exists() for one in rest.split()[:-1]), rest
    command = yaml.safe_load(lines[-1][1])
    assert command == VALUES["singleuser"]["cmd"]


def test_the_image_holds_what_its_own_server_reads():
    """What class_hub puts into a folder is what command, values and environment name."""
    settings = dict(one.split("=", 1) for word, rest in instructions() if word == "ENV" for one in rest.split())
    server = (HUB / "page_server.py").read_text(encoding="utf-8")
    assert set(re.findall(r'environ\["([A-Z_]+)"\]', server)) <= set(settings)
    assert settings["HOT_WATER_RUNS_FOLDER"] == VALUES["singleuser"]["storage"]["homeMountPath"]
    assert (
        settings["JUPYTER_PATH"].endswith("/served/data") and "/served/pages" in VALUES["hub"]["extraConfig"]["class"]
    )
