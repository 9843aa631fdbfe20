"""The session's cookie, which carries nothing but what the page's security token is held against."""

from flask import Flask, request
from flask.sessions import SecureCookieSessionInterface

from .devices.gate import port


class Sessions(SecureCookieSessionInterface):
    """A cookie bound to host and port: over HTTPS by its prefix, and on this computer itself by its name alone."""

    def get_cookie_name(self, app: Flask) -> str:
        """Its name at the port that was asked: cookies know no ports."""
        return ("__Host-" if request.is_secure else "") + "cotterbook-session-" + port()

    def get_cookie_secure(self, app: Flask) -> bool:
        """Whether it goes over HTTPS alone."""
        return request.is_secure
