"""Image and values for a cluster: the chart reads every key, JupyterHub's own parts sign people in, and the files agree with each other."""

import json
import re
import subprocess
import sys
from pathlib import Path

import environment
import pytest
import yaml
from packaging.requirements import Requirement

from lessons_lib.storage import own_material

ROOT = Path(__file__).resolve().parents[2]
CLUSTER = ROOT / "workbooks" / "instructor" / "cluster"
# Beside the checkout, or beside the folder that checkouts lie in: the list is not part of the project.
KEYS = [up / "shared" / "reference" / "jupyterhub_chart_keys.json" for up in (ROOT.parent, ROOT.parent.parent)]
PAGE = (CLUSTER / "README.md").read_text(encoding="utf-8")
KINDS = {"object": dict, "array": list, "string": str, "boolean": bool, "integer": int, "number": (int, float)}
OWN_CLASSES = {"ltiauthenticator.lti13.auth.LTI13Authenticator", "native"}  # what the hub's image holds


def read(name: str) -> dict:
    """Gives the content of a file of values."""
    return yaml.safe_load((CLUSTER / name).read_text(encoding="utf-8"))


VALUES, NATIVE, OWN = read("values.yaml"), read("native.yaml"), read("own-material.yaml")


@pytest.fixture(scope="module")
def known() -> dict:
    """The keys that the chart reads, with the kinds of their values."""
    file = next((one for one in KEYS if one.exists()), None)
    if file is None:
        pytest.skip("the list of the chart's keys lies outside the project: ../shared/reference is not there")
    return json.loads(file.read_text(encoding="utf-8"))["keys"]


def unknown(given, kinds, at: str = "") -> list[str]:
    """Names each key that the chart would not read, and each value of a kind that it would not take."""
    if isinstance(kinds, dict) and isinstance(given, dict):
        found = []
        for key, value in given.items():
            if key not in kinds and "*" not in kinds:
                found.append(f"{at}{key}")
            else:
                found += unknown(value, kinds.get(key, "any"), f"{at}{key}.")
        return found
    possible = ["object"] if isinstance(kinds, dict) else [kinds] if isinstance(kinds, str) else kinds
    fits = "any" in possible or any(isinstance(given, KINDS[one]) for one in possible if one in KINDS)
    return [] if fits and not (isinstance(given, bool) and "boolean" not in possible) else [at]


@pytest.mark.parametrize("name", ["values.yaml", "native.yaml", "own-material.yaml"])
def test_the_chart_reads_every_key(known, name):
    """The settings of classes in hub.config are JupyterHub's own: the chart hands them on, and its list names one class only."""
    values = read(name)
    classes = values.get("hub", {}).pop("config", {"JupyterHub": {}})
    assert unknown(values, known) == [] and unknown(classes["JupyterHub"], known["hub"]["config"]["JupyterHub"]) == []
    assert all(re.fullmatch(r"[A-Z]\w+", one) and isinstance(classes[one], dict) for one in classes)


def test_a_slip_in_the_values_is_seen(known):
    for slip in (
        {"hub": {"shutDownOnLogout": True}},
        {"singleuser": {"memory": {"limits": "1G"}}},
        {"singleuser": {"uid": "1000"}},
        {"cull": {"timeout": True}},
        {"proxy": {"service": "ClusterIP"}},
    ):
        assert len(unknown(slip, known)) == 1, slip


def test_people_are_signed_in_by_a_class_of_the_hubs_own_image():
    for values in (VALUES, NATIVE):
        config = values["hub"]["config"]
        assert config["JupyterHub"]["authenticator_class"] in OWN_CLASSES and "extraFiles" not in values["hub"]
        assert config["JupyterHub"]["authenticator_class"] in PAGE
    platform = VALUES["hub"]["config"]["LTI13Authenticator"]
    assert {"issuer", "client_id", "authorize_url", "jwks_endpoint"} < set(platform) and isinstance(
        platform["client_id"], list
    )
    assert all(platform[one].startswith("https://") for one in ("issuer", "authorize_url", "jwks_endpoint"))


def test_nobody_gets_in_unasked():
    assert VALUES["proxy"]["service"]["type"] == "ClusterIP"
    assert NATIVE["hub"]["config"]["NativeAuthenticator"]["open_signup"] is False
    assert VALUES["singleuser"]["networkPolicy"]["egressAllowRules"]["nonPrivateIPs"] is False


def test_the_schools_own_material_is_mounted_for_reading_only_where_the_lessons_look():
    single = OWN["singleuser"]
    (volume,), (mount,) = single["storage"]["extraVolumes"], single["storage"]["extraVolumeMounts"]
    claim = volume["persistentVolumeClaim"]
    assert mount["name"] == volume["name"] and mount["readOnly"] is claim["readOnly"] is True
    assert single["extraEnv"] == {own_material.MATERIAL_VARIABLE: mount["mountPath"]}
    assert not mount["mountPath"].startswith(VALUES["singleuser"]["storage"]["homeMountPath"])
    assert f"claimed as `{claim['claimName']}`" in PAGE and own_material.MATERIAL_VARIABLE in PAGE
    assert set(NATIVE["singleuser"]["extraEnv"]).isdisjoint(single["extraEnv"])


def test_every_file_and_setting_that_the_page_names_is_there():
    for given in re.findall(r"workbooks/\S+?/cluster/[\w.-]+", PAGE):
        assert (ROOT / given).is_file(), given
    image = VALUES["singleuser"]["image"]
    assert f"{image['name']}:{image['tag']}" in PAGE
    minutes = VALUES["cull"]["timeout"] / 60
    assert minutes == 90 and f"after {minutes:.0f} minutes" in PAGE


def instructions() -> list[tuple[str, str]]:
    """Gives the Dockerfile's lines, continued ones joined: (word, the rest)."""
    text = re.sub(r"\\\n\s*", "", (CLUSTER / "Dockerfile").read_text(encoding="utf-8"))
    return [tuple(line.split(maxsplit=1)) for line in text.splitlines() if line.strip() and not line.startswith("#")]


def test_the_image_is_of_a_named_version_unprivileged_and_without_the_instructors_pages():
    lines = instructions()
    words = {"FROM", "WORKDIR", "COPY", "RUN", "USER", "ENV", "EXPOSE", "CMD"}
    assert {word for word, _ in lines} <= words and lines[0][0] == "FROM" and lines[-1][0] == "CMD"
    bases = [rest for word, rest in lines if word == "FROM"]
    assert all(re.fullmatch(r"python:3\.\d+\.\d+-slim-\w+( AS build)?", one) for one in bases) and len(bases) == 2
    last = lines[max(place for place, (word, _) in enumerate(lines) if word == "FROM") :]
    assert [rest for word, rest in last if word == "COPY"] == ["--from=build /built /opt/hot-water-runs"]
    assert ("USER", str(VALUES["singleuser"]["uid"])) in last
    for word, rest in lines:
        if word == "COPY" and not rest.startswith("--from"):
            assert all((ROOT / one).exists() for one in rest.split()[:-1]), rest


def test_every_package_of_the_image_is_held_against_its_hash():
    """Nothing comes from a registry but by the set for the image; the lessons' own wheel is built with what that set holds."""
    runs = [step for word, rest in instructions() if word == "RUN" for step in rest.split("&& ")]
    by_set, own = "--require-hashes -r /", "--no-deps --no-build-isolation --wheel-dir /built ."
    steps = [step for step in runs if "pip " in step]
    assert len(steps) == 4 and all("--no-deps" in step for step in steps)
    assert [by_set in step for step in steps] == [True, False, True, False]
    assert own in steps[1] and steps[3].split()[-1] == "/opt/hot-water-runs/*.whl"
    assert all("/cluster.txt" in steps[place] for place in (0, 2))


def pinned(file: Path) -> dict[str, list[str]]:
    """Gives the version of each package of a tested set, and behind it the hashes."""
    found = {}
    for entry in re.split(r"\n(?=\S)", file.read_text(encoding="utf-8").strip()):
        name, version = re.match(r"(\S+)==(\S+)", entry).groups()
        found[name] = [version, *re.findall(r"--hash=(sha256:\w{64})", entry)]
        assert len(found[name]) > 1, f"{name} has no hash"
    return found


def test_the_set_for_the_image_is_the_rooms_and_what_a_hub_starts():
    """The same versions and hashes as a room's set; JupyterHub and what builds the wheel beside them."""
    room, image = (pinned(environment.TESTED / f"{name}.txt") for name in ("room", "cluster"))
    assert {name: image.get(name) for name in room} == room
    for line in (CLUSTER / "hub.txt").read_text(encoding="utf-8").splitlines():
        asked = None if line.startswith("#") else Requirement(line)
        assert asked is None or asked.specifier.contains(image[asked.name][0]), line


def test_the_image_lays_out_the_pages_that_its_server_serves(tmp_path, monkeypatch):
    """The line of the Dockerfile is run: lessons without cells, in a look that asks nothing of a room."""
    (line,) = [rest for word, rest in instructions() if word == "RUN" and "lay_out" in rest]
    monkeypatch.chdir(ROOT / "workbooks")
    code = re.search(r'python -c "(.*)"', line)[1].replace("/built/served", str(tmp_path / "served"))
    subprocess.run([sys.executable, "-c", code], check=True)
    look = (tmp_path / "served" / "data" / "voila" / "templates" / "room" / "index.html.j2").read_text(encoding="utf-8")
    assert "Content-Security-Policy" in look and "awake" not in look and "asleep" not in look
    assert (tmp_path / "served" / "pages" / "start-here.ipynb").is_file()
    assert not list((tmp_path / "served").rglob("class-board*")) and (tmp_path / "served" / "ipython").is_dir()


def test_values_and_image_name_the_same_places_and_the_same_command():
    settings = dict(one.split("=", 1) for word, rest in instructions() if word == "ENV" for one in rest.split())
    home, command = VALUES["singleuser"]["storage"]["homeMountPath"], VALUES["singleuser"]["cmd"]
    assert yaml.safe_load(instructions()[-1][1]) == command
    assert settings["HOT_WATER_RUNS_FOLDER"] == home and f"--ServerApp.root_dir={home}" in command
    _, _, pages, link = VALUES["singleuser"]["lifecycleHooks"]["postStart"]["exec"]["command"]
    assert settings["JUPYTER_PATH"] == pages.replace("/pages", "/data") and link == f"{home}/lessons"
    assert VALUES["singleuser"]["defaultUrl"] == "/voila/render/lessons/start-here.ipynb"
