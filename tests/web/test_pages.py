"""Every page: nothing runs but our files, nothing comes from elsewhere, all text is text."""

import re
from importlib.resources import files

import pytest
from tests.web.asking import Asker, words

from loomwright.store.store import Store
from loomwright.web import screens
from loomwright.web.csrf import PROGRAM_HEADER
from loomwright.web.places import ORDER, Place, in_order

INLINE = re.compile(r"<script(?![^>]*\bsrc=)|<style|\sstyle=|\son\w+=|javascript:", re.I)
ELSEWHERE = re.compile(r"""(?:src|href|action|url\()\s*=?\s*["']?(?:https?:)?//""", re.I)
SVG_SPACE = "http://www.w3.org/2000/svg"


def every_page(rig_id: str) -> list[str]:
    return [*screens.addresses(rig_id), f"/rigs/{rig_id}/history/1", "/nowhere", "/rigs?q=zeppelin"]


def test_every_page_answers_under_the_strict_policy(host: Asker, rig_id: str) -> None:
    for path in every_page(rig_id):
        answer = host.get(path)
        policy = answer.headers["content-security-policy"]

        assert answer.status_code in {200, 303, 404}, path  # 303: a step that another comes before
        assert "default-src 'none'" in policy
        assert "unsafe" not in policy
        assert answer.headers["x-content-type-options"] == "nosniff"
        assert answer.headers["cache-control"] == "no-store"


def test_no_page_has_script_or_style_of_its_own_or_from_elsewhere(host: Asker, rig_id: str) -> None:
    for path in every_page(rig_id):
        text = host.get(path).text.replace(f'xmlns="{SVG_SPACE}"', "")

        assert not INLINE.search(text), (path, INLINE.search(text))
        assert not ELSEWHERE.search(text), path


def test_our_style_and_scripts_bring_in_nothing_from_elsewhere(host: Asker) -> None:
    for name in ("workbench.css", "workbench.js", "vendor/htmx.min.js", "mark.svg"):
        answer = host.get(f"/static/{name}")

        assert answer.status_code == 200
        assert not ELSEWHERE.search(answer.text.replace(SVG_SPACE, ""))
    assert "@import" not in host.get("/static/workbench.css").text


@pytest.mark.parametrize(
    "path",
    ["/static/../app.py", "/static/%2e%2e/app.py", "/static/..%2fapp.py", "/static//etc/passwd"],
)
def test_no_file_but_ours_is_sent(host: Asker, path: str) -> None:
    assert host.get(path).status_code == 404


EVIL = """<script>alert(1)</script>"><img src=x onerror=alert(2)>'{{7*7}}"""


def test_what_a_job_file_says_is_shown_as_text(host: Asker, store: Store) -> None:
    job = files("loomwright.examples").joinpath("utility-rewire.toml").read_text("utf-8")
    evil = EVIL.replace('"', '\\"')
    text = re.sub(r'^name = "[^"]*"', f'name = "{evil}"', job, flags=re.M)
    rig_id = store.rigs.import_text(text, EVIL[:80]).id

    for path in every_page(rig_id):
        if path.endswith("/file"):
            continue
        shown = host.get(path).text

        assert "<script>alert" not in shown, path
        assert "<img src=x" not in shown, path
        assert "'49" not in shown, path
    assert "<script>alert(1)</script>" in words(host.get(f"/rigs/{rig_id}")) or "alert(1)" in (
        host.get(f"/rigs/{rig_id}").text
    )


def test_a_visitors_name_is_shown_as_text(host: Asker) -> None:
    host.post("/settings", name=EVIL[:70], units="us")

    assert "<script>alert" not in host.get("/settings").text


def test_what_is_searched_is_shown_as_text(host: Asker, rig_id: str) -> None:
    assert "<script>alert" not in host.get("/rigs", params={"q": EVIL}).text


def test_a_missing_page_says_what_to_do(host: Asker) -> None:
    answer = host.get("/nowhere")

    assert answer.status_code == 404
    assert "What to do" in words(answer)


@pytest.mark.parametrize("rig", ["0" * 32, "nonsense", "..", "%00", "a" * 3000, "☃"])
def test_a_rig_that_is_not_there(host: Asker, rig: str) -> None:
    for path in (f"/rigs/{rig}", f"/rigs/{rig}/text", f"/rigs/{rig}/file", f"/api/rigs/{rig}"):
        answer = host.get(path)
        assert answer.status_code in {303, 307, 404}, path
        assert "Traceback" not in answer.text


def test_too_much_is_refused_before_it_is_read(host: Asker, store: Store) -> None:
    token = host.token("/import")
    big = b"#" * 2_100_000
    answers = [
        host.client.post("/import", data={"csrf": token}, files={"file": ("a.toml", big)}),
        host.client.post(
            "/api/rigs",
            content=b'{"text": "' + big + b'"}',
            headers={"content-type": "application/json", PROGRAM_HEADER: "test"},
        ),
        host.client.post(
            "/import",
            content=(big[:300_000] for _ in range(8)),  # chunked: no length is told
            headers={
                "content-type": "application/x-www-form-urlencoded",
                "x-csrf-token": token,
            },
        ),
    ]

    assert [answer.status_code for answer in answers] == [413, 413, 413]
    assert "too large" in words(answers[0])
    assert store.rigs.search() == ()


def test_places_are_known_and_in_order() -> None:
    places = [place for screen in screens.collect() for place in screen.places]

    assert [place.key for place in in_order(places)] == [
        key for key in ORDER if key in {place.key for place in places}
    ]
    with pytest.raises(ValueError, match="unknown"):
        in_order([Place("moon", "moon", "/moon")])
