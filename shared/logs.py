"""Logs with a request id on each line and nobody's data on any.

What a log may hold: the route's pattern (never the path, which can carry a client's
token, nor the query), method, status, time taken, and where in the code an error
happened (never its message, which can quote what somebody typed).
"""

import logging
import time
import traceback
import uuid
from collections.abc import Callable
from contextvars import ContextVar
from types import TracebackType

from django.http import HttpRequest
from django.http.response import HttpResponseBase

NO_ID = "-"
request_id: ContextVar[str] = ContextVar("request_id", default=NO_ID)

logger = logging.getLogger("cleatbook.request")


def route_of(request: HttpRequest) -> str:
    """Return the URL pattern that answered, or a placeholder when none did."""
    match = request.resolver_match
    return f"/{match.route}" if match is not None else "(no route)"


class RequestLogMiddleware:
    """Gives each request an id of its own, and the log one line about it."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponseBase]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponseBase:
        """Answer the request inside its id."""
        token = request_id.set(uuid.uuid4().hex[:16])
        started = time.perf_counter()
        try:
            response = self.get_response(request)
            response["X-Request-ID"] = request_id.get()
            logger.info(
                "%s %s %d %d ms",
                request.method,
                route_of(request),
                response.status_code,
                (time.perf_counter() - started) * 1000,
            )
            return response
        finally:
            request_id.reset(token)


class RequestIdFilter(logging.Filter):
    """Puts the id of the request being answered on each record."""

    def filter(self, record: logging.LogRecord) -> bool:
        """Keep every record."""
        record.request_id = request_id.get()
        return True


class NoPathsFilter(logging.Filter):
    """Puts the route's pattern where Django would log the path asked for."""

    def filter(self, record: logging.LogRecord) -> bool:
        """Keep every record."""
        request = getattr(record, "request", None)
        if isinstance(request, HttpRequest) and isinstance(record.args, tuple):
            paths = {request.path, request.get_full_path()}
            record.args = tuple(
                route_of(request) if arg in paths else arg for arg in record.args
            )
        return True


class LineFormatter(logging.Formatter):
    """Writes a record as one line, and an error as its kind and its places in the code."""

    converter = staticmethod(time.gmtime)

    def __init__(self) -> None:
        super().__init__(
            "{asctime}Z {levelname} {request_id} {name}: {message}",
            datefmt="%Y-%m-%dT%H:%M:%S",
            style="{",
            defaults={"request_id": NO_ID},
        )

    def formatException(  # noqa: N802 - the name is logging's
        self,
        ei: (
            tuple[type[BaseException], BaseException, TracebackType | None]
            | tuple[None, None, None]
        ),
    ) -> str:
        """Return where it went wrong, without the messages of the exceptions."""
        lines: list[str] = []
        error = ei[1]
        while error is not None:
            lines.append(f"{type(error).__module__}.{type(error).__qualname__}")
            lines += [
                f"  {frame.filename}:{frame.lineno} in {frame.name}"
                for frame in traceback.extract_tb(error.__traceback__)
            ]
            error = error.__cause__ or error.__context__
        return "\n".join(lines)
