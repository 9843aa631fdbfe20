"""The errors of `error_table`, and the one shape to answer in.

An error says what happened, what was kept and what to do. On the wire it is
always {"error": {"code", "text", "values"}} with the status from the table; on
the command line it is the same sentence, or the terminal's own.
"""

from typing import Any

from flask import Flask, Response, g, has_request_context, jsonify
from flask_wtf.csrf import CSRFError
from werkzeug.exceptions import HTTPException

from .core.words import say, spoken
from .error_table import ERRORS
from .terminal_words import AT_THE_TERMINAL

STATUS = {code: status for code, status, _ in ERRORS}
TEXT = {code: text for code, _, text in ERRORS}
BY_STATUS = {404: "not_found", 405: "wrong_method"}


class Problem(Exception):
    """Something was refused or failed, for a reason that ERRORS knows; as a text, it is the terminal's."""

    def __init__(self, code: str, **values: Any) -> None:
        self.code, self.values, self.status = code, values, STATUS[code]
        super().__init__(spoken(say(AT_THE_TERMINAL.get(code, TEXT[code]), **values)))


def answer(problem: Problem) -> Response:
    """The one shape of an error on the wire; the log takes its code from there."""
    if has_request_context():
        g.problem = problem.code
    body = {"error": {"code": problem.code, "text": TEXT[problem.code], "values": problem.values}}
    response = jsonify(body)
    response.status_code = problem.status
    return response


def for_whom_asks(problem: Problem) -> Problem:
    """A fault as the one who asks may hear it: where files and database are is for owners alone."""
    asks = g.get("device")
    if not problem.values or asks and asks.may("owner"):
        return problem
    told = Problem("pc_trouble")
    told.status = problem.status
    return told


def init_app(app: Flask) -> None:
    """Answer every refusal, whoever raised it, in the one shape."""

    @app.errorhandler(Problem)
    def refused(problem: Problem) -> Response:
        if problem.status >= 500:
            app.logger.error("%s", problem)
            problem = for_whom_asks(problem)
        return answer(problem)

    @app.errorhandler(CSRFError)
    def without_token(error: CSRFError) -> Response:
        return answer(Problem("csrf"))

    @app.errorhandler(HTTPException)
    def by_status(error: HTTPException) -> Response | HTTPException:
        status = error.code or 500
        if status < 400:
            return error
        if status >= 500:
            return answer(Problem("fault"))
        code = BY_STATUS.get(status)
        response = answer(Problem(code) if code else Problem("bad_request", what="the request"))
        response.status_code = status
        for name, value in error.get_headers():
            if name == "Allow":
                response.headers[name] = value
        return response
