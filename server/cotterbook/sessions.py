"""The session's cookie, which carries nothing but what the page's security token is held against."""

import hashlib

from flask import Flask, request
from flask.sessions import SecureCookieSessionInterface
from itsdangerous import Signer

from .devices.gate import port

# What signs cookie and token takes SHA-1 by default, for the sake of what was signed long ago; here is nothing such.
Signer.default_digest_method = staticmethod(hashlib.sha256)


class Sessions(SecureCookieSessionInterface):
    """A cookie bound to host and port: over HTTPS by its prefix, and on this computer itself by its name alone."""

    digest_method = staticmethod(hashlib.sha256)

    def get_cookie_name(self, app: Flask) -> str:
        """Its name at the port that was asked: cookies know no ports."""
        return ("__Host-" if request.is_secure else "") + "cotterbook-session-" + port()

    def get_cookie_secure(self, app: Flask) -> bool:
        """Whether it goes over HTTPS alone."""
        return request.is_secure
