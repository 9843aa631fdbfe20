"""Cotterbook: the PC's side."""

from pathlib import Path

from flask import Flask
from flask_wtf.csrf import CSRFProtect

from .store import Store

# The version of the package too: pyproject.toml reads it here.
VERSION = "0.1.0"


def create_app(folder: Path, store: Store) -> Flask:
    """The web application over an open store, with its key in the data folder."""
    from . import bodies, errors, pages, photos, settings, sync

    app = Flask(__name__, static_folder=None)
    app.config.from_mapping(settings.flask_config(folder))
    CSRFProtect(app)
    errors.init_app(app)
    bodies.init_app(app)
    pages.init_app(app)
    app.register_blueprint(sync.make_blueprint(store))
    app.register_blueprint(photos.make_blueprint(store))
    app.register_blueprint(pages.make_blueprint())
    return app
