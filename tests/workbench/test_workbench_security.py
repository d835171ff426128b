"""What the workbench refuses: other sites and hosts, ways out of the folder, too much at once."""

from __future__ import annotations

import re
import shutil
from html.parser import HTMLParser
from pathlib import Path

import pytest
from conftest import TODAY, token_of
from starlette.testclient import TestClient

from swapwright.catalogue.read import Catalogue
from swapwright.workbench import links
from swapwright.workbench.api import MOST_TOLD
from swapwright.workbench.app import application
from swapwright.workbench.garage import Garage
from swapwright.workbench.pages import start
from swapwright.workbench.security import (
    LONGEST_FIELD,
    MOST_BODY,
    MOST_FORM_FIELDS,
    POLICY,
)
from swapwright.workbench.settings import COOKIE, Settings, settings_of

pytestmark = pytest.mark.arithmetic

STAGE = "/cars/ridgeway/donor"
EDIT = "/cars/ridgeway/edit"
HOSTILE = '"><script>alert(1)</script><img src=x onerror=alert(1)>'
OUTSIDE = ("https://elsewhere.example/", "//elsewhere.example", "/\\elsewhere.example")


@pytest.fixture
def form(client) -> dict[str, str]:
    """A form that changes the owner's mark where it is taken."""
    html = client.get(STAGE).text
    return {
        "token": token_of(html),
        "path": "car.mark",
        "text": "changed",
        "from": STAGE,
        "based_on": re.search(r'name="based_on" value="([^"]+)"', html)[1],
    }


@pytest.fixture
def token(form) -> str:
    return form["token"]


def mark_in(folder: Path) -> str:
    return re.search(r"(?m)^mark\s*=.*$", (folder / "ridgeway.toml").read_text("utf-8"))[0]


@pytest.mark.parametrize(
    "host", ["elsewhere.example", "127.0.0.1.elsewhere.example", "", "localhost@elsewhere.example"]
)
def test_a_name_of_another_site_that_leads_here_is_refused(client, host):
    for address in ("/", STAGE, "/api/cars", "/static/sheet.css"):
        answer = client.get(address, headers={"host": host})
        assert answer.status_code == 400
        assert answer.headers["content-security-policy"] == POLICY


@pytest.mark.parametrize("host", ["127.0.0.1:8420", "localhost:8420", "LOCALHOST"])
def test_the_machine_s_own_names_are_answered(client, host):
    assert client.get("/api/cars", headers={"host": host}).status_code == 200


@pytest.mark.parametrize(
    "headers",
    [
        {"origin": "https://elsewhere.example"},
        {"origin": "null"},
        {"origin": "http://127.0.0.1:9999"},
        {"origin": "http://[127.0.0.1"},
        {"origin": "http://127.0.0.1@elsewhere.example"},
        {"origin": "ftp://127.0.0.1"},
        {"sec-fetch-site": "cross-site"},
        {"sec-fetch-site": "same-site"},
    ],
    ids=str,
)
def test_a_form_sent_from_another_site_changes_nothing_even_with_the_token(
    client, folder, form, headers
):
    before = mark_in(folder)
    answer = client.post(EDIT, data=form, headers=headers)
    assert answer.status_code == 403
    assert mark_in(folder) == before


@pytest.mark.parametrize(
    ("site", "mode", "dest"),
    [
        ("cross-site", "no-cors", "image"),
        ("cross-site", "no-cors", "script"),
        ("cross-site", "navigate", "iframe"),
        ("cross-site", "navigate", "embed"),
        ("same-site", "cors", "empty"),
    ],
)
def test_another_site_s_page_can_have_nothing_worked_out_here(client, site, mode, dest):
    headers = {"sec-fetch-site": site, "sec-fetch-mode": mode, "sec-fetch-dest": dest}
    for address in ("/", "/cars/ridgeway/parts/drive.motor", "/api/cars", "/static/sheet.css"):
        assert client.get(address, headers=headers).status_code == 403


@pytest.mark.parametrize("site", ["cross-site", "same-site", "same-origin", "none"])
def test_a_link_from_anywhere_leads_here(client, site):
    headers = {"sec-fetch-site": site, "sec-fetch-mode": "navigate", "sec-fetch-dest": "document"}
    assert client.get(STAGE, headers=headers).status_code == 200


@pytest.mark.parametrize(
    "given", ["", "guessed", "gu\u00e4ssed", None], ids=["empty", "wrong", "umlaut", "none"]
)
@pytest.mark.parametrize("action", ["edit", "rows", "undo", "redo", "revisions"])
def test_without_the_token_of_this_start_nothing_changes(client, folder, form, given, action):
    before = {path.name: path.read_bytes() for path in folder.glob("*.toml")}
    sent = {**form, "token": given}
    if given is None:
        del sent["token"]
    answer = client.post(f"/cars/ridgeway/{action}", data=sent)
    assert answer.status_code == 403
    assert {path.name: path.read_bytes() for path in folder.glob("*.toml")} == before


def test_every_address_that_takes_a_form_asks_for_the_token(client):
    app = client.app
    for address in form_addresses(app.routes):
        answer = client.post(address, data={"token": "guessed"}, follow_redirects=False)
        assert answer.status_code in (403, 404), address


def form_addresses(routes, above: str = "") -> list[str]:
    """Return the addresses of the pages that take a POST; the interface for programs has none."""
    found = []
    for route in routes:
        path = above + re.sub(r"\{car[^}]*\}", "ridgeway", route.path)
        if getattr(route, "routes", None) and not path.startswith(links.API):
            found += form_addresses(route.routes, path)
        elif "POST" in (getattr(route, "methods", None) or ()):
            found.append(re.sub(r"\{[^}]*\}", "1", path))
    return found


def test_a_form_that_is_in_order_is_taken(client, folder, form):
    own = {"origin": "http://127.0.0.1", "sec-fetch-site": "same-origin"}
    answer = client.post(EDIT, data=form, headers=own, follow_redirects=False)
    assert (answer.status_code, answer.headers["location"]) == (303, STAGE)
    assert "changed" in mark_in(folder)


@pytest.mark.parametrize(
    "name",
    [
        "..",
        "%2e%2e",
        "..%2fsecret",
        "..%5csecret",
        "%2fetc%2fpasswd",
        "/etc/passwd",
        "ridgeway%00",
        "ridgeway%0a",
        "ridgeway.toml",
        ".hidden",
        "-ridgeway",
        "r" * 300,
        "%f0%9f%9a%97",
        "%ff",
    ],
)
def test_a_name_that_leads_out_of_the_folder_is_no_car(client, folder, name):
    (folder.parent / "secret.toml").write_text("format = 1\n", encoding="utf-8")
    for address in (f"/cars/{name}/donor", f"/api/cars/{name}/figures"):
        answer = client.get(address, follow_redirects=False)
        assert answer.status_code in (404, 422), address
        assert str(folder) not in answer.text


def test_a_link_that_leads_out_of_the_folder_is_no_car_and_one_within_it_is(client, folder):
    outside = folder.parent / "outside.toml"
    shutil.copy(folder / "ridgeway.toml", outside)
    (folder / "leak.toml").symlink_to(outside)
    (folder / "second.toml").symlink_to(folder / "ridgeway.toml")
    (folder / "loop.toml").symlink_to(folder / "loop.toml")
    (folder / "folder.toml").mkdir()
    assert client.get("/cars/leak/donor").status_code == 404
    assert client.get("/cars/loop/donor").status_code == 404
    assert client.get("/cars/folder/donor").status_code == 404
    assert client.get("/cars/second/donor").status_code == 200
    assert "leak" not in client.get("/").text


def test_a_file_exchanged_for_a_link_that_leads_out_is_no_car_any_more(client, folder, form):
    outside = folder.parent / "outside.toml"
    shutil.move(folder / "ridgeway.toml", outside)
    before = outside.read_bytes()
    (folder / "ridgeway.toml").symlink_to(outside)
    assert client.post(EDIT, data=form).status_code == 404
    assert client.get(STAGE).status_code == 404
    assert outside.read_bytes() == before
    (folder / "ridgeway.toml").unlink()
    assert client.get(STAGE).status_code == 200


def test_where_upper_and_lower_case_are_one_a_car_has_one_name(folder, monkeypatch):
    garage = Garage(folder, Catalogue(), lambda: TODAY)
    monkeypatch.setattr(Garage, "_is_here", lambda *_: True)
    assert garage.desk("RIDGEWAY") is None
    assert garage.desk("ridgeway") is not None


@pytest.mark.parametrize(
    ("wanted", "name"),
    [
        ("CON", "CON-2"),
        ("lpt1", "lpt1-2"),
        ("Ridgeway", "Ridgeway-2"),
        ("console", "console"),
        ("../../new", "new"),
        ("\U0001f697", "car"),
        ("x" * 3_000_000, "x" * 60),
    ],
    ids=lambda each: each[:12].encode("unicode_escape").decode(),
)
def test_a_new_car_s_file_has_a_name_that_every_system_takes(folder, wanted, name):
    assert Garage(folder, Catalogue(), lambda: TODAY).free_name(wanted) == name


def test_a_folder_that_is_lost_or_closed_is_a_folder_without_cars(client, folder, monkeypatch):
    def closed(self):
        raise PermissionError(13, "Permission denied")

    with monkeypatch.context() as patched:
        patched.setattr(Path, "is_file", closed)
        assert Garage(folder, Catalogue(), lambda: TODAY).names() == ()
        patched.setattr(Path, "iterdir", closed)
        assert client.get("/").status_code == 200
    token = token_of(client.get(STAGE).text)
    shutil.rmtree(folder)
    assert client.get("/").status_code == 200
    assert client.get(STAGE).status_code == 200
    file = {"file": ("new.toml", b"format = 1\n[car]\nname = 'x'\n")}
    for address, sent, files in (
        (EDIT, {"path": "car.mark", "text": "B"}, None),
        ("/cars/ridgeway/restore", {}, None),
        ("/cars/ridgeway/revisions", {"name": "x"}, None),
        ("/new", {"entry:car.name": "x"}, None),
        ("/copy", {"source": "ridgeway", "name": "x"}, None),
        ("/drop", {}, file),
    ):
        answer = client.post(address, data={"token": token, **sent}, files=files)
        assert answer.status_code == 422, address
        assert str(folder) not in answer.text


@pytest.mark.parametrize(
    "content", [b"\xff\xfe", b"#" * 2_000_001, None], ids=["no-text", "", "dir"]
)
def test_what_a_file_has_wrong_is_told_without_where_it_lies(client, folder, content):
    client.get(STAGE)
    path = folder / "ridgeway.toml"
    path.unlink()
    path.mkdir() if content is None else path.write_bytes(content)
    for address in ("/", STAGE, "/cars/ridgeway/export/build.toml", "/api/cars/ridgeway/figures"):
        answer = client.get(address)
        assert answer.status_code in (200, 409, 422)
        assert str(folder.parent) not in answer.text


@pytest.mark.parametrize(
    "path", ["../../etc/passwd", "..%2fapp.py", "/etc/passwd", "%2e%2e/app.py", "..\\app.py", ""]
)
def test_nothing_beside_the_static_files_is_handed_out(client, path):
    answer = client.get(f"/static/{path}", follow_redirects=False)
    assert answer.status_code == 404
    assert "Starlette" not in answer.text


@pytest.mark.parametrize(
    "path",
    [
        "../car.kerb_mass",
        "car/../../x",
        "car.kerb_mass\0",
        "__class__",
        "car[99999999999]",
        "[[",
        "",
    ],
)
def test_an_entry_s_path_that_is_none_changes_nothing(client, folder, form, path):
    before = (folder / "ridgeway.toml").read_bytes()
    answer = client.post(EDIT, data={**form, "path": path})
    assert answer.status_code in (404, 422)
    assert (folder / "ridgeway.toml").read_bytes() == before


@pytest.mark.parametrize(
    "text", ['1 kg"\nname = "x', '"""', "'''", "1 kg\r\n[car]", "\\u0000", "\x1b[31m", "{csv='x'}"]
)
def test_a_value_cannot_write_another_line_into_the_file(client, folder, form, text):
    lines = (folder / "ridgeway.toml").read_text("utf-8").splitlines()
    client.post(EDIT, data={**form, "path": "car.name", "text": text})
    after = (folder / "ridgeway.toml").read_text("utf-8").splitlines()
    assert len(after) == len(lines)
    assert sum(one != other for one, other in zip(lines, after, strict=True)) <= 1
    assert client.get(STAGE).status_code == 200


@pytest.mark.parametrize("length", [str(MOST_BODY + 1), "9" * 5000, "-1", "many"])
def test_a_body_said_to_be_too_large_is_refused_before_it_is_read(client, length):
    answer = client.post(EDIT, content=b"", headers={"content-length": length})
    assert answer.status_code == 413
    assert answer.headers["x-content-type-options"] == "nosniff"


def test_a_body_that_grows_too_large_unannounced_is_refused(client):
    def pieces():
        for _ in range(MOST_BODY // 1_000_000 + 2):
            yield b"a" * 1_000_000

    for address, kind in (
        (EDIT, "application/x-www-form-urlencoded"),
        ("/api/assess", "application/json"),
    ):
        answer = client.post(address, content=pieces(), headers={"content-type": kind})
        assert answer.status_code in (400, 413), address


def test_more_fields_than_any_form_has_are_refused(client, token):
    fields = {f"entry:{number}": "1" for number in range(MOST_FORM_FIELDS + 1)}
    answer = client.post("/cars/ridgeway/rows", data={"token": token, **fields})
    assert answer.status_code == 400
    parts = {name: (None, value) for name, value in fields.items()}
    answer = client.post("/cars/ridgeway/rows", files={"token": (None, token), **parts})
    assert answer.status_code == 400


@pytest.mark.parametrize("field", ["text", "path", "based_on", "from"])
def test_a_field_longer_than_anyone_types_is_refused(client, folder, form, field):
    before = mark_in(folder)
    answer = client.post(EDIT, data={**form, field: "a." * LONGEST_FIELD})
    assert answer.status_code == 413
    assert len(answer.content) < 10_000
    assert mark_in(folder) == before


@pytest.mark.parametrize("charset", ["unicode_escape", "undefined", "utf-16", "idna", '"a\0b"'])
def test_a_form_in_other_letters_than_a_file_takes_is_refused(client, folder, form, charset):
    before = mark_in(folder)
    fields = {**form, "text": "\\ud800"}
    parts = [
        f'--b\r\ncontent-disposition: form-data; name="{name}"\r\n\r\n{value}\r\n'
        for name, value in fields.items()
    ]
    kind = f"Multipart/form-data; boundary=b; Charset={charset}"
    body = "".join((*parts, "--b--\r\n"))
    assert client.post(EDIT, content=body, headers={"content-type": kind}).status_code == 400
    assert mark_in(folder) == before


def test_the_faults_of_a_request_are_told_as_far_as_anyone_reads(client):
    sent = {f"key{number}": 1 for number in range(5 * MOST_TOLD)}
    answer = client.post("/api/assess", json=sent)
    assert answer.status_code == 422
    problems = answer.json()["problems"]
    assert len(problems) == MOST_TOLD + 1
    assert problems[-1]["message"] == f"and {4 * MOST_TOLD + 1} more"


@pytest.mark.parametrize(
    "given",
    [
        *OUTSIDE,
        "javascript:alert(1)",
        "/\t/elsewhere.example",
        "/\n/elsewhere.example",
        "\t//elsewhere.example",
        "/%0d%0aset-cookie:a=b",
        "/a\r\nset-cookie: a=b",
        "elsewhere.example",
        "",
        "/ä",
    ],
)
def test_a_form_never_leads_to_another_site(client, form, token, given):
    for address, sent in (
        ("/settings", {"token": token, "from": given, "units": "us"}),
        (EDIT, {**form, "from": given}),
        (EDIT, {**form, "from": f"/cars/ridgeway/{given}"}),
    ):
        answer = client.post(address, data=sent, follow_redirects=False)
        assert answer.status_code == 303
        place = answer.headers["location"]
        assert re.match(r"/(?![/\\])[\x21-\x7e]*$", place), place
        assert "set-cookie" not in answer.headers or "a=b" not in answer.headers["set-cookie"]


@pytest.mark.parametrize("given", [*OUTSIDE, "/a\\b", "/a\0", "x", "/\x7f"])
def test_only_a_plain_address_of_ours_is_led_back_to(given):
    assert links.inside(given) == links.START


class Elements(HTMLParser):
    """The elements of a page that could act, and the handlers any element carries."""

    def __init__(self) -> None:
        super().__init__()
        self.acting: list[str] = []

    def handle_starttag(self, tag, attrs):
        given = dict(attrs)
        if tag in ("iframe", "object", "embed", "base") or (tag == "script" and "src" not in given):
            self.acting.append(tag)
        self.acting += [name for name in given if name.startswith("on") or name == "style"]
        self.acting += [
            value for value in given.values() if value and value.strip().startswith("javascript:")
        ]


def acting(html: str) -> list[str]:
    found = Elements()
    found.feed(html)
    return found.acting


def test_what_a_person_writes_never_becomes_a_part_of_the_page(client, folder):
    text = (folder / "ridgeway.toml").read_text("utf-8")
    named = re.sub(r'(?m)^name\s*= ".*"$', lambda _: f"name = '{HOSTILE}'", text)
    assert named != text
    (folder / "ridgeway.toml").write_text(named, encoding="utf-8")
    pages = ["/", *(f"/cars/ridgeway/{slug}" for slug in SLUGS)]
    for address in pages:
        html = client.get(address).text
        assert not acting(html), address
        assert "<script>alert" not in html
    assert "&lt;script&gt;alert" in client.get(STAGE).text


SLUGS = ("donor", "goals", "drive", "pack", "high-voltage", "weight", "revisions", "circuit")


def test_a_broken_file_s_own_words_are_shown_as_words(client, folder):
    (folder / "ridgeway.toml").write_text(f"format = 1\n'{HOSTILE}' = 1\n", encoding="utf-8")
    for address in ("/", STAGE):
        html = client.get(address).text
        assert not acting(html)
        assert "<script>alert" not in html


def test_what_was_typed_and_not_taken_is_shown_as_words(client, form):
    answer = client.post(EDIT, data={**form, "path": "car.wheelbase", "text": HOSTILE})
    assert answer.status_code == 422
    assert not acting(answer.text)
    assert "&lt;script&gt;" in answer.text


@pytest.mark.parametrize("query", ["at", "from", "state", "q", "moved"])
def test_an_address_is_never_shown_as_anything_but_words(client, query):
    for address in (
        STAGE,
        "/",
        f"/{HOSTILE}",
        f"/cars/{HOSTILE}/donor",
        f"/cars/ridgeway/{HOSTILE}",
    ):
        answer = client.get(address, params={query: HOSTILE})
        assert not acting(answer.text), address
        assert "<script>alert" not in answer.text


@pytest.mark.parametrize(
    "cookie", [HOSTILE, "a.b.c", "us.engine", "us.engine.dark.x", "us.engine.neon", "." * 5000]
)
def test_a_cookie_that_is_not_ours_chooses_nothing(client, cookie):
    assert settings_of(cookie) == settings_of("") or settings_of(cookie).theme in ("auto",)
    answer = client.get(STAGE, headers={"cookie": f"{COOKIE}={cookie}"})
    assert answer.status_code == 200
    assert not acting(answer.text)


def test_the_cookie_keeps_choices_alone_and_no_script_reads_it(client, token):
    sent = {"token": token, "units": HOSTILE, "world": "engine", "theme": "dark"}
    answer = client.post("/settings", data=sent, follow_redirects=False)
    cookie = answer.headers["set-cookie"]
    assert cookie.startswith(f"{COOKIE}={Settings('', 'engine', 'dark').text()};")
    assert "HttpOnly" in cookie
    assert "SameSite=lax" in cookie


def test_every_answer_carries_the_policy_and_is_kept_by_nobody(client):
    for address in ("/", STAGE, "/none", "/api/cars", "/api/none", "/cars/none/donor"):
        answer = client.get(address)
        assert answer.headers["content-security-policy"] == POLICY
        assert answer.headers["x-frame-options"] == "DENY"
        assert answer.headers["cross-origin-resource-policy"] == "same-origin"
        assert answer.headers["cache-control"] == "no-store"
        assert "access-control-allow-origin" not in answer.headers
    assert "unsafe" not in POLICY


@pytest.mark.parametrize("address", ["/", "/api/cars"])
def test_a_fault_of_ours_tells_neither_where_the_files_lie_nor_how_it_came(
    folder, monkeypatch, address
):
    def break_down(self):
        raise RuntimeError(f"{folder} is where it broke")

    monkeypatch.setattr(Garage, "names", break_down)
    app = application(Garage(folder, Catalogue(), lambda: TODAY))
    client = TestClient(app, base_url="http://127.0.0.1", raise_server_exceptions=False)
    answer = client.get(address)
    assert answer.status_code == 500
    assert "broke" not in answer.text
    assert "Traceback" not in answer.text
    assert str(folder) not in answer.text
    assert answer.headers["content-security-policy"] == POLICY


def test_an_unusable_folder_of_revisions_is_told_and_is_no_fault(client, folder, token):
    (folder / "revisions").write_text("in the way", encoding="utf-8")
    answer = client.post("/cars/ridgeway/revisions", data={"token": token, "name": "first"})
    assert answer.status_code in (409, 422)


@pytest.mark.parametrize("name", [HOSTILE, "../../../out", "a\r\nb", "x" * 5000, ""])
def test_a_revision_s_name_is_words_and_never_a_place(client, folder, token, name):
    client.post("/cars/ridgeway/revisions", data={"token": token, "name": name})
    kept = {path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file()}
    kept -= {"ridgeway.toml", "fault-finder.toml"}
    assert all(re.fullmatch(r"revisions/ridgeway/[0-9a-z]+\.(toml|json)", each) for each in kept)
    assert not (folder.parent / "out").exists()
    html = client.get(STAGE).text
    assert not acting(html)
    assert "<script>alert" not in html


def test_a_method_that_no_page_has_is_refused(client):
    for method in ("PUT", "DELETE", "PATCH", "TRACE", "CONNECT"):
        assert client.request(method, STAGE).status_code == 405


def test_an_address_that_takes_what_is_sent_changes_nothing_when_it_is_asked(client, folder: Path):
    before = (folder / "ridgeway.toml").read_bytes()
    asked = {"path": "drive.final_drive", "text": "9", "based_on": "0", "is_forced": "yes"}
    answer = client.get(EDIT, params=asked, follow_redirects=False)
    assert answer.status_code == 303
    assert answer.headers["location"] == "/cars/ridgeway/donor"
    assert (folder / "ridgeway.toml").read_bytes() == before


def test_the_start_page_names_the_folder_and_not_where_it_lies(client, folder):
    html = client.get("/").text
    assert folder.name in html
    assert str(folder.parent) not in html
    assert start.SHOWN
