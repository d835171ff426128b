"""The workbench on a network: accounts first, TLS and nothing else, a certificate to compare."""

from __future__ import annotations

import hashlib
import http.client
import os
import socket
import ssl
import stat
import threading
import time
from contextlib import closing, contextmanager
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
import uvicorn
from click.testing import CliRunner
from conftest import TODAY, token_of

from swapwright.base.errors import InputError
from swapwright.catalogue.read import Catalogue
from swapwright.cli.main import main
from swapwright.jobs import network as networks
from swapwright.jobs import shop_access
from swapwright.jobs.network import THIS_MACHINE, Network, network
from swapwright.jobs.shop import LOCAL_ACTOR, Shop
from swapwright.records.certificate import LASTS, RENEWED_BEFORE, own_certificate
from swapwright.records.record import Draft
from swapwright.workbench import serve
from swapwright.workbench.app import application
from swapwright.workbench.garage import Garage
from swapwright.workbench.identity import SESSION_UNDER_TLS

pytestmark = pytest.mark.arithmetic

NOW = datetime.now(UTC).replace(microsecond=0)
"""A real handshake looks at the real clock; nothing here depends on which day it is."""
NAMES = ("127.0.0.1", "localhost", "bench.example")
NAME, PASSWORD = "Ana Quell", "a long enough one"
STARTS_WITHIN = 20.0

posix = pytest.mark.skipif(os.name != "posix", reason="files have other rights here")


@pytest.fixture
def shop(tmp_path: Path):
    found = Shop(tmp_path / "the-shop" / "shop.db", today=lambda: TODAY)
    yield found
    if shop_access.needs_login(found):
        found.store.close()


@pytest.fixture
def own(tmp_path: Path) -> Path:
    return tmp_path / "settings" / "certificate.pem"


@pytest.fixture
def certificate(own: Path):
    return own_certificate(own, NAMES, NOW)


def trusting(file: Path) -> ssl.SSLContext:
    """A browser that takes this one certificate and no other."""
    return ssl.create_default_context(cafile=str(file))


@contextmanager
def serving(folder: Path, shop: Shop, reached: Network):
    """The server as the command sets it up; give its port."""
    garage = Garage(folder, Catalogue(), lambda: TODAY)
    hosts = serve.hosts_of(reached)
    app = application(garage, hosts=hosts, shop=shop, network=reached)
    listening = serve.free_socket(9100, "127.0.0.1")
    server = uvicorn.Server(serve.settings_for(app, reached))
    thread = threading.Thread(target=server.run, kwargs={"sockets": [listening]}, daemon=True)
    thread.start()
    until = time.monotonic() + STARTS_WITHIN
    while not server.started and time.monotonic() < until:
        time.sleep(0.02)
    try:
        yield listening.getsockname()[1]
    finally:
        server.should_exit = True
        thread.join(STARTS_WITHIN)
        listening.close()


@pytest.mark.parametrize("listen", ["0.0.0.0", "::", "198.51.100.7"])
def test_without_an_admin_s_password_nobody_else_is_let_near(shop, own, listen):
    with pytest.raises(InputError, match="needs accounts"):
        network(listen, shop=shop, own=own, now=NOW)
    with pytest.raises(InputError, match="needs accounts"):
        network(listen, shop=None, own=own, now=NOW)
    assert not own.exists()
    assert not (shop.place).exists()


def test_a_password_of_somebody_who_is_no_admin_is_not_enough(shop, own):
    shop.write(
        Draft("person.added", "local", {"person": "bo"}, {"name": "Bo"}),
        Draft("role.given", "local", {"person": "bo"}, {"role": "technician"}),
        Draft("secret.set", "local", {"person": "bo"}, {"which": "password"}),
    )
    with pytest.raises(InputError, match="no admin has a password"):
        network("0.0.0.0", shop=shop, own=own, now=NOW)


def test_the_command_refuses_a_network_without_accounts_as_bad_input(tmp_path):
    given = ["workbench", str(tmp_path / "cars"), "--shop", str(tmp_path / "shop")]
    done = CliRunner().invoke(main, [*given, "--listen", "0.0.0.0"])
    assert done.exit_code == 2
    assert "needs accounts" in done.stderr
    assert list(tmp_path.iterdir()) == []


def test_with_an_admin_s_password_a_network_is_listened_to_under_tls_and_no_other_way(shop, own):
    shop_access.first_account(shop, LOCAL_ACTOR, NAME, PASSWORD)
    found = network("0.0.0.0", names=("Bench.Example",), shop=shop, own=own, now=NOW)
    assert found.is_open
    assert found.certificate is not None
    assert {"bench.example", "127.0.0.1", "localhost"} <= set(found.names)
    with pytest.raises(ValueError, match="without TLS"):
        serve.settings_for(lambda *_: None, replace(found, certificate=None))


def test_at_one_address_it_answers_to_that_and_not_as_this_machine_alone(shop, own):
    shop_access.first_account(shop, LOCAL_ACTOR, NAME, PASSWORD)
    found = network("198.51.100.7", shop=shop, own=own, now=NOW)
    assert found.names[0] == "198.51.100.7"
    assert "localhost" not in found.names


@pytest.mark.parametrize("listen", ["127.0.0.1", "localhost", "::1", " LOCALHOST "])
def test_on_this_machine_nothing_is_asked_for_and_no_certificate_made(own, listen):
    found = network(listen, own=own, now=NOW)
    assert (found.is_open, found.certificate) == (False, None)
    assert set(THIS_MACHINE.names) <= set(found.names)
    assert not own.exists()


@pytest.mark.parametrize("listen", ["", "everywhere", "10.0.0", "0.0.0.0:80", "256.1.1.1"])
def test_what_is_no_address_is_told_by_name(own, listen):
    with pytest.raises(InputError, match=r"--listen: this is no address"):
        network(listen, own=own, now=NOW)


@pytest.mark.parametrize("name", ["", "a b", "*.example", "ä.example", "a/b", "[::1]", "a" * 300])
def test_what_is_no_name_is_told_by_name(own, name):
    with pytest.raises(InputError, match="this is no name"):
        network("127.0.0.1", names=(name,), own=own, now=NOW)


def test_a_machine_whose_own_name_is_no_host_s_is_reached_by_its_address(monkeypatch):
    monkeypatch.setattr(networks.socket, "gethostname", lambda: "Ana's bench")
    assert networks._host_names() == ()


def test_its_own_certificate_is_for_its_names_for_397_days_and_its_fingerprint_is_of_the_bytes(
    own, certificate
):
    text = own.read_text("ascii")
    public = text[text.index("-----BEGIN CERTIFICATE") :]
    digest = hashlib.sha256(ssl.PEM_cert_to_DER_cert(public)).hexdigest().upper()
    assert certificate.fingerprint.replace(":", "") == digest
    assert certificate.is_own
    assert certificate.is_new
    assert timedelta(days=397) == LASTS
    assert NOW + timedelta(days=396) < certificate.until <= NOW + LASTS


@posix
def test_its_key_is_for_its_owner_alone_and_one_open_to_others_is_refused(own, certificate):
    assert stat.S_IMODE(own.stat().st_mode) == 0o600
    assert stat.S_IMODE(own.parent.stat().st_mode) == 0o700
    assert [each.name for each in own.parent.iterdir()] == [own.name]
    own.chmod(0o640)
    with pytest.raises(InputError, match="others may read"):
        own_certificate(own, NAMES, NOW)


def test_the_same_certificate_is_shown_at_the_next_start(own, certificate):
    again = own_certificate(own, NAMES[:2], NOW + timedelta(days=300))
    assert not again.is_new
    assert again.fingerprint == certificate.fingerprint


@pytest.mark.parametrize(
    ("names", "later"),
    [
        ((*NAMES, "198.51.100.7"), timedelta()),
        (NAMES, LASTS),
        (NAMES, LASTS - RENEWED_BEFORE),
        (NAMES, -timedelta(days=2)),
    ],
    ids=["a new address", "ended", "about to end", "not yet valid"],
)
def test_it_is_made_anew_with_a_new_key_where_it_does_not_do(own, certificate, names, later):
    again = own_certificate(own, names, NOW + later)
    assert again.is_new
    assert again.fingerprint != certificate.fingerprint


@pytest.mark.parametrize("content", [b"", b"no certificate", b"-----BEGIN CERTIFICATE-----\nAA"])
def test_one_that_cannot_be_read_is_made_anew(own, certificate, content):
    own.write_bytes(content)
    assert own_certificate(own, NAMES, NOW).is_new


def test_a_given_certificate_is_taken_with_its_key_and_told_as_given(tmp_path, own, certificate):
    found = network("127.0.0.1", given=(own, own), own=tmp_path / "none", now=NOW)
    assert found.is_known
    assert found.certificate.fingerprint == certificate.fingerprint
    assert not (tmp_path / "none").exists()


def test_a_given_certificate_that_does_not_do_is_refused_by_name(tmp_path, own, certificate):
    other = own_certificate(tmp_path / "other.pem", NAMES, NOW).file
    text = tmp_path / "text.pem"
    text.write_text("words")
    text.chmod(0o600)
    for given, now, words in (
        ((own, other), NOW, "does not belong to the certificate"),
        ((own, own), NOW + LASTS, "not valid today"),
        ((own, own), NOW - LASTS, "not valid today"),
        ((text, own), NOW, "this is no certificate"),
        ((own, text), NOW, "this is no key"),
        ((tmp_path / "none", own), NOW, "cannot be read"),
        ((own, None), NOW, "come together"),
        ((None, own), NOW, "come together"),
    ):
        with pytest.raises(InputError, match=words):
            network("127.0.0.1", given=given, own=tmp_path / "unused", now=now)


@posix
def test_a_given_key_everybody_may_read_is_refused(own, certificate):
    own.chmod(0o644)
    with pytest.raises(InputError, match="everybody may read"):
        network("127.0.0.1", given=(own, own), now=NOW)


def test_over_a_real_connection_it_is_tls_with_the_fingerprint_told_and_nothing_else(
    folder, shop, own, certificate
):
    shop_access.first_account(shop, LOCAL_ACTOR, NAME, PASSWORD)
    reached = Network("127.0.0.1", NAMES, certificate, is_open=True)
    with serving(folder, shop, reached) as port:
        with (
            socket.create_connection(("127.0.0.1", port), timeout=STARTS_WITHIN) as bare,
            trusting(own).wrap_socket(bare, server_hostname="localhost") as shown,
        ):
            digest = hashlib.sha256(shown.getpeercert(binary_form=True)).hexdigest()
            assert digest.upper() == certificate.fingerprint.replace(":", "")
            assert shown.version() in ("TLSv1.2", "TLSv1.3")
        with (
            socket.create_connection(("127.0.0.1", port), timeout=STARTS_WITHIN) as bare,
            pytest.raises(ssl.SSLCertVerificationError),
        ):
            trusting(own).wrap_socket(bare, server_hostname="elsewhere.example")
        assert_plain_http_gets_nothing(port)
        assert_a_person_logs_in(port, own)


def assert_plain_http_gets_nothing(port: int) -> None:
    with socket.create_connection(("127.0.0.1", port), timeout=STARTS_WITHIN) as bare:
        bare.sendall(b"GET /login HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n")
        got = b""
        try:
            while piece := bare.recv(4096):
                got += piece
        except ConnectionError:
            pass
    assert b"HTTP" not in got
    assert b"html" not in got


def assert_a_person_logs_in(port: int, own: Path) -> None:
    context = trusting(own)
    with closing(http.client.HTTPSConnection("127.0.0.1", port, context=context)) as asking:
        asking.request("GET", "/cars/ridgeway/donor", headers={"accept": "text/html"})
        answer = asking.getresponse()
        answer.read()
        assert (answer.status, answer.getheader("strict-transport-security")) == (303, None)
        asking.request("GET", "/login")
        token = token_of(asking.getresponse().read().decode())
        form = f"token={token}&name=Ana+Quell&password={PASSWORD.replace(' ', '+')}"
        kind = {"content-type": "application/x-www-form-urlencoded"}
        asking.request("POST", "/login", form, kind)
        answer = asking.getresponse()
        answer.read()
        assert answer.status == 303
        said = answer.getheader("set-cookie")
        assert said.startswith(SESSION_UNDER_TLS)
        assert "Secure" in said
        cookie = said.partition(";")[0]
        asking.request("GET", "/account", headers={"cookie": cookie})
        assert NAME in asking.getresponse().read().decode()
        asking.request("GET", "/login", headers={"host": "elsewhere.example"})
        assert asking.getresponse().status == 400


def test_a_free_port_is_looked_for_at_the_address_asked_for():
    with closing(serve.free_socket(9150, "127.0.0.2")) as found:
        assert found.getsockname()[0] == "127.0.0.2"
    with pytest.raises(InputError, match=r"no free port.*192\.0\.2\.1"):
        serve.free_socket(9150, "192.0.2.1")


def test_the_address_told_is_the_one_others_reach(certificate):
    reached = Network("0.0.0.0", ("2001:db8::5", "bench.example"), certificate, is_open=True)
    with closing(serve.free_socket(9150)) as found:
        port = found.getsockname()[1]
        assert serve.address_of(found, reached) == f"https://[2001:db8::5]:{port}/"
        assert serve.address_of(found) == f"http://127.0.0.1:{port}/"
    assert serve.hosts_of(reached) == ("[2001:db8::5]", "bench.example")


def test_a_place_is_a_folder_a_file_or_a_database(tmp_path):
    assert shop_access.shop_place("my-shop") == Path("my-shop") / "shop.db"
    assert shop_access.shop_place("a/b.db") == "a/b.db"
    assert shop_access.shop_place("postgresql://here/x") == "postgresql://here/x"
