"""The roof: settings and a store come in, the whole application goes out.

The only module that knows every room. Pages and API stand in `journal.web.rooms`; they are imported
when an application is made, because the terminal asks this module for less than that.
"""

from __future__ import annotations

import os
import secrets
import tempfile
from collections.abc import Callable
from contextlib import suppress
from functools import partial
from pathlib import Path

import sqlalchemy as sa
from flask import Flask
from flask_smorest import Api
from jinja2 import StrictUndefined

from journal import __version__
from journal.domain.errors import NotKept
from journal.domain.settings import Settings
from journal.jobs.prints import PRINTS, PrintFolder
from journal.records.work import Clock, clock_of_the_machine, open_work
from journal.store.engine import Store
from journal.web.addresses import links_of
from journal.web.csrf import protect_forms
from journal.web.headers import add_headers
from journal.web.links import offer_links
from journal.web.request_work import EXTENSION, Doorway
from journal.web.static_files import STATIC_FOLDER, offer_assets

_PACKAGE = Path(__file__).parent
#: In the wheel beside the package, in the repository at the top.
TEMPLATE_FOLDERS = (_PACKAGE / "templates", _PACKAGE.parent / "templates")
#: The largest thing anyone sends is a CSV of a class's trials.
LARGEST_REQUEST_BYTES = 5 * 1024 * 1024


def create_app(
    settings: Settings,
    store: Store | None = None,
    clock: Clock = clock_of_the_machine,
    call_dispatcher: Callable[[], None] = lambda: None,
) -> Flask:
    """Build the application; without a store it opens the one that the settings name.

    Migrations are not run here: `journal serve` and `journal database upgrade` do that. Jobs are
    only queued here: a dispatcher does them, and `call_dispatcher` has it look.
    """
    # Some three hundred modules: a terminal command that serves nobody does without them.
    from journal.services.sign_ins import actor_of  # noqa: PLC0415
    from journal.web import errors, rooms  # noqa: PLC0415

    app = Flask(
        __name__,
        static_folder=str(STATIC_FOLDER),
        template_folder=str(next(folder for folder in TEMPLATE_FOLDERS if folder.is_dir())),
    )
    app.config.update(
        SECRET_KEY=get_secret_key(settings.secret_file),
        SESSION_COOKIE_NAME="journal_form",
        SESSION_COOKIE_HTTPONLY=True,
        SESSION_COOKIE_SAMESITE="Lax",
        SESSION_COOKIE_SECURE=settings.secure_cookies,
        MAX_CONTENT_LENGTH=LARGEST_REQUEST_BYTES,
        API_TITLE="Design Iteration Journal",
        API_VERSION=__version__,
        OPENAPI_VERSION="3.1.0",
    )
    # A misspelt value in a template is an error in the first test, not an empty place in a page.
    app.jinja_env.undefined = StrictUndefined
    app.jinja_env.trim_blocks = True
    app.jinja_env.lstrip_blocks = True
    store = store or Store(settings.database_url)
    app.extensions[EXTENSION] = Doorway(
        open_work=partial(open_work, store, clock=clock),
        actor_of=partial(actor_of, store, clock=clock, unwritten={}),
        is_ready=partial(_is_ready, store),
        prints=PrintFolder(settings.instance / PRINTS),
        links=partial(links_of, settings.host, settings.port),
        call_dispatcher=call_dispatcher,
    )
    protect_forms(app)
    add_headers(app)
    offer_assets(app)
    offer_links(app)
    for module in rooms.PAGES:
        app.register_blueprint(module.pages)
    api = Api(app)
    for blueprint in rooms.APIS:
        api.register_blueprint(blueprint)
    # After the API, which brings handlers of its own: every error has one shape.
    errors.answer_errors(app)
    return app


def get_secret_key(path: Path) -> str:
    """Return the key that signs forms; it is made at the first start, for the owner's eyes only."""
    if not path.exists():
        path.parent.mkdir(parents=True, exist_ok=True)
        # A temporary file is for the owner only; the link appears whole, and once.
        with tempfile.NamedTemporaryFile("w", dir=path.parent, encoding="ascii") as file:
            file.write(secrets.token_hex(32))
            file.flush()
            with suppress(FileExistsError):
                os.link(file.name, path)
    return path.read_text(encoding="ascii").strip()


def _is_ready(store: Store) -> bool:
    try:
        with store.open_session(writing=False) as session:
            session.execute(sa.text("SELECT 1"))
    except NotKept:
        return False
    return True
