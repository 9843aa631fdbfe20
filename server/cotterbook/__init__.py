"""Cotterbook: the PC's side."""

from pathlib import Path

from flask import Flask
from flask_wtf.csrf import CSRFProtect

from .concerns import Concerns
from .devices import DeviceBook
from .network.shop_network import ShopNetwork
from .store import Store

# The version of the package too: pyproject.toml reads it here.
VERSION = "0.1.0"


def create_app(
    folder: Path, store: Store, book: DeviceBook | None = None, network: ShopNetwork | None = None,
    concerns: Concerns | None = None,
) -> Flask:
    """The web application over an open store, with its key in the data folder.

    `book` says who may ask; without one anybody may, which is for the throw-away demo alone. `network` is
    where phones find the pages; without one only this computer does. `concerns` is what its owner hears of the PC.
    """
    from . import bodies, errors, less_than_told, pages, photos, server_log, settings, sync, ways
    from .devices import gate, routes
    from .devices.limits import Attempts
    from .exports import routes as exports
    from .sessions import Sessions

    app = Flask(__name__, static_folder=None)
    app.config.from_mapping(settings.flask_config(folder))
    app.session_interface = Sessions()
    attempts = Attempts()
    server_log.init_app(app, folder)
    errors.init_app(app)
    ways.init_app(app, network)
    gate.init_app(app, book, attempts)
    CSRFProtect(app)
    bodies.init_app(app)
    pages.init_app(app)
    less = less_than_told.LessThanTold(store, book, sync.now_ms)
    app.register_blueprint(sync.make_blueprint(store, book, concerns or Concerns(store, folder, book=book), less))
    app.register_blueprint(less_than_told.make_blueprint(less))
    app.register_blueprint(photos.make_blueprint(store))
    app.register_blueprint(exports.make_blueprint(store))
    app.register_blueprint(routes.make_blueprint(book, attempts, network))
    app.register_blueprint(pages.make_blueprint())
    return app
