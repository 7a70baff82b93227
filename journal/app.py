"""The roof: settings and a store come in, the whole application goes out.

The only module that knows every room. A new page or API module is imported here and named in
`PAGES` or `APIS`.
"""

from __future__ import annotations

import os
import secrets
import tempfile
from contextlib import suppress
from functools import partial
from pathlib import Path

import sqlalchemy as sa
from flask import Flask
from flask_smorest import Api
from flask_smorest import Blueprint as ApiBlueprint
from jinja2 import StrictUndefined

from journal import __version__
from journal.domain.settings import Settings
from journal.services.sign_ins import actor_of
from journal.services.work import Clock, clock_of_the_machine, open_work
from journal.store.engine import Store
from journal.web import errors, health
from journal.web.api import findings as finding_api
from journal.web.api import overviews as overview_api
from journal.web.api import trials as trial_api
from journal.web.csrf import protect_forms
from journal.web.headers import add_headers
from journal.web.pages import (
    challenges,
    classes,
    corrections,
    counted,
    door,
    energy,
    findings,
    groups,
    journals,
    ladders,
    measures,
    overviews,
    parts,
    physics,
    portfolios,
    revisions,
    sessions,
    sign_ins,
    stages,
    swap_tests,
    tablets,
    trials,
    visits,
)
from journal.web.request_work import EXTENSION, Doorway
from journal.web.static_files import STATIC_FOLDER, offer_assets

#: Each module has `pages`, a Flask blueprint.
PAGES = (
    challenges,
    classes,
    corrections,
    counted,
    door,
    energy,
    errors,
    findings,
    groups,
    health,
    journals,
    ladders,
    measures,
    overviews,
    parts,
    physics,
    portfolios,
    revisions,
    sessions,
    sign_ins,
    stages,
    swap_tests,
    tablets,
    trials,
    visits,
)
#: Each module has `api`, a flask-smorest blueprint.
APIS: tuple[ApiBlueprint, ...] = (finding_api.api, overview_api.api, trial_api.api)

_PACKAGE = Path(__file__).parent
#: In the wheel beside the package, in the repository at the top.
TEMPLATE_FOLDERS = (_PACKAGE / "templates", _PACKAGE.parent / "templates")
#: The largest thing anyone sends is a CSV of a class's trials.
LARGEST_REQUEST_BYTES = 5 * 1024 * 1024


def create_app(
    settings: Settings, store: Store | None = None, clock: Clock = clock_of_the_machine
) -> Flask:
    """Build the application; without a store it opens the one that the settings name.

    Migrations are not run here: `journal serve` and `journal database upgrade` do that.
    """
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
    _open_doorway(app, store or Store(settings.database_url), clock)
    protect_forms(app)
    add_headers(app)
    offer_assets(app)
    for module in PAGES:
        app.register_blueprint(module.pages)
    api = Api(app)
    for blueprint in APIS:
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


def _open_doorway(app: Flask, store: Store, clock: Clock) -> None:
    app.extensions[EXTENSION] = Doorway(
        open_work=partial(open_work, store, clock=clock),
        actor_of=partial(actor_of, store, clock=clock),
        is_ready=partial(_is_ready, store),
    )


def _is_ready(store: Store) -> bool:
    try:
        with store.open_session(writing=False) as session:
            session.execute(sa.text("SELECT 1"))
    except sa.exc.SQLAlchemyError:
        return False
    return True
