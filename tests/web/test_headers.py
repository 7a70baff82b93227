"""Headers stand on every response, and forms are taken from our own pages only."""

from pathlib import Path

import pytest
from flask import Flask
from flask.testing import FlaskClient

from journal.app import create_app
from journal.domain.settings import settings_from
from journal.store.engine import Store


@pytest.mark.parametrize("path", ["/", "/healthz", "/nothing/here", "/static/journal.css"])
def test_every_response_has_the_headers(nobody: FlaskClient, path: str) -> None:
    """Pages, errors and files alike forbid foreign content and framing."""
    headers = nobody.get(path, buffered=True).headers
    policy = headers["Content-Security-Policy"]
    for rule in ("default-src 'self'", "object-src 'none'", "base-uri 'none'"):
        assert rule in policy
    assert "frame-ancestors 'none'" in policy
    assert "unsafe" not in policy
    assert "nosniff" == headers["X-Content-Type-Options"]
    assert "same-origin" == headers["Referrer-Policy"]


def test_pages_are_not_kept_and_files_are(nobody: FlaskClient) -> None:
    """A page is personal; a file under its hash never changes."""
    page = nobody.get("/nothing/here")
    assert "no-store" == page.headers["Cache-Control"]
    address = page.text.split('rel="stylesheet" href="')[1].split('"')[0]
    file = nobody.get(address, buffered=True)
    assert (200, "public, max-age=31536000, immutable") == (
        file.status_code,
        file.headers["Cache-Control"],
    )
    unhashed = nobody.get("/static/journal.css", buffered=True)
    assert "public, no-cache" == unhashed.headers["Cache-Control"]


def _guarded_browser(store: Store, tmp_path: Path, **environ: str) -> tuple[Flask, FlaskClient]:
    app = create_app(settings_from({"JOURNAL_INSTANCE": str(tmp_path), **environ}), store)

    @app.post("/take")
    def take() -> str:
        return "taken"

    return app, app.test_client()


def _token(browser: FlaskClient) -> str:
    return browser.get("/nothing/here").text.split('name="csrf-token" content="')[1].split('"')[0]


def test_a_form_without_its_token_is_refused(store: Store, tmp_path: Path) -> None:
    """A request that another site made is not taken, and says what helps."""
    _, browser = _guarded_browser(store, tmp_path)
    answer = browser.post("/take")
    assert 400 == answer.status_code
    assert "open for too long" in answer.text


@pytest.mark.parametrize("way", ["field", "header"])
def test_a_form_with_its_token_is_taken(store: Store, tmp_path: Path, way: str) -> None:
    """The token counts as a field of a form and as a header of a script."""
    _, browser = _guarded_browser(store, tmp_path)
    token = _token(browser)
    answer = (
        browser.post("/take", data={"csrf_token": token})
        if way == "field"
        else browser.post("/take", headers={"X-CSRFToken": token})
    )
    assert (200, "taken") == (answer.status_code, answer.text)


@pytest.mark.parametrize(("wish", "secure"), [("yes", True), ("no", False)])
def test_cookies_keep_to_the_setting(
    store: Store, tmp_path: Path, wish: str, *, secure: bool
) -> None:
    """The form's cookie is hidden from scripts, and is for HTTPS only where that is set."""
    _, browser = _guarded_browser(store, tmp_path, JOURNAL_SECURE_COOKIES=wish)
    cookie = browser.get("/nothing/here").headers["Set-Cookie"]
    assert "HttpOnly" in cookie
    assert "SameSite=Lax" in cookie
    assert secure == ("Secure" in cookie)


def test_the_key_is_made_once_and_for_the_owner_only(store: Store, tmp_path: Path) -> None:
    """A second start finds the same key, which nobody else may read."""
    one, _ = _guarded_browser(store, tmp_path)
    two, _ = _guarded_browser(store, tmp_path)
    assert one.secret_key == two.secret_key
    assert 0o600 == (tmp_path / "secret_key").stat().st_mode & 0o777


def test_health_tells_when_the_database_is_gone(tmp_path: Path) -> None:
    """A database that cannot be opened is 503, not a fault."""
    settings = settings_from(
        {
            "JOURNAL_INSTANCE": str(tmp_path),
            "JOURNAL_DATABASE_URL": f"sqlite:///{tmp_path}/no/such/folder/x.sqlite3",
        }
    )
    answer = create_app(settings).test_client().get("/healthz")
    assert (503, "waiting for the database") == (answer.status_code, answer.json["status"])
