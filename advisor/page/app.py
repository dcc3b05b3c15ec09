"""The addresses of the page. No plan is kept between two requests; any number of servers may stand side by side."""

from __future__ import annotations

import base64
import hashlib
import json
import re
from collections.abc import AsyncIterator, Awaitable, Callable, Iterable
from contextlib import asynccontextmanager
from pathlib import Path
from typing import Any

from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, PlainTextResponse, Response
from starlette.routing import Route

from advisor.errors import InputError
from advisor.page import answers
from advisor.page.folder import ChangedMeanwhileError, Folder, PlanFile
from advisor.page.guard import Guard, apology
from advisor.page.render import render
from advisor.page.sheets import SHEETS
from advisor.page.workers import SupersededError, TooSlowError, Workers

_STATIC = {"page.css": "text/css", "page.js": "text/javascript", "core.js": "text/javascript"}
_MOST_WORDS = 20_000  # letters of plain sentences
_STYLE = re.compile(r"<style>(.*?)</style>", re.S)
_NOTHING_ELSE = "frame-ancestors 'none'; base-uri 'none'; form-action 'none'"
_TOO_SLOW = "This took too long and was stopped; nothing is known of it. Take some things or steps out of the plan."
Handler = Callable[[Request], Awaitable[Response]]


class BadRequestError(Exception):
    """A request that the page itself would never send; says why."""


def make_app(hosts: Iterable[str], workers: Workers, folder: Folder | None = None) -> Guard:
    """The page for these host names (each with its port), with a folder of plans or without."""
    page = _Page(workers, folder)

    @asynccontextmanager
    async def life(_: Starlette) -> AsyncIterator[None]:
        await workers.start()
        try:
            yield
        finally:
            workers.stop()

    routes = [
        Route("/", page.shell),
        Route("/static/{name}", page.static),
        Route("/look", page.answered(answers.look, ("text",), live=True), methods=["POST"]),
        Route("/write", page.answered(answers.write, ("text", "sort", "own", "attribute", "value")), methods=["POST"]),
        Route("/name", page.answered(answers.name, ("text", "title")), methods=["POST"]),
        Route("/take", page.answered(answers.take, ("text", "finding")), methods=["POST"]),
        Route("/move", page.answered(answers.move, ("text", "number", "places")), methods=["POST"]),
        Route("/draft", page.answered(answers.draft, ("words", "into")), methods=["POST"]),
        Route("/words", page.answered(answers.words, ()), methods=["POST"]),
        Route("/begin", page.answered(answers.begin, ("jobs",)), methods=["POST"]),
        Route("/sheet/{what}", page.sheet, methods=["POST"]),
        Route("/review", page.plain_review, methods=["POST"]),
        Route("/plans/{name}", page.plan, methods=["GET", "PUT"]),
    ]
    return Guard(Starlette(routes=routes, lifespan=life, exception_handlers={Exception: apology}), hosts)


class _Page:
    def __init__(self, workers: Workers, folder: Folder | None) -> None:
        self.workers, self.folder = workers, folder

    async def shell(self, _: Request) -> Response:
        """The page itself."""
        names = await run_in_threadpool(self.folder.names) if self.folder else []
        return HTMLResponse(
            render("shell.html.j2", jobs=answers.usual_jobs(), plans=names, folder=self.folder is not None)
        )

    async def static(self, request: Request) -> Response:
        """Script and style: three files by name, nothing else."""
        name = request.path_params["name"]
        if name not in _STATIC:
            return PlainTextResponse("There is no such file.", 404)
        text = (Path(__file__).parent / "static" / name).read_bytes()
        return Response(text, media_type=_STATIC[name])

    def answered(self, task: Callable[..., Any], names: tuple[str, ...], *, live: bool = False) -> Handler:
        """A handler that does a task with these fields of the request."""

        async def handle(request: Request) -> Response:
            try:
                sent = _object(await request.body())
                args = [_field(sent, name) for name in names]
                person, turn = (str(sent.get("person", ""))[:64], sent.get("turn", 0)) if live else ("", 0)
                if not isinstance(turn, int):
                    raise BadRequestError("turn is no number")
            except BadRequestError as error:
                return JSONResponse(
                    {"problems": [{"line": 0, "message": f"The request cannot be read: {error}."}]}, 400
                )
            return await self._done(task, args, person, turn)

        return handle

    async def _done(self, task: Callable[..., Any], args: list[Any], person: str, turn: int) -> Response:
        try:
            return JSONResponse(await self.workers.do(task, *args, person=person, turn=turn))
        except SupersededError:
            return JSONResponse({"superseded": True}, 409)
        except TooSlowError:
            return JSONResponse({"problems": [{"line": 0, "message": _TOO_SLOW}]})

    async def sheet(self, request: Request) -> Response:
        """A file to take away, from a form: HTML to open and print, others to keep."""
        what = request.path_params["what"]
        sent = await _form(request)
        if what not in SHEETS or "text" not in sent:
            return PlainTextResponse("There is no such sheet.", 404)
        try:
            made = await self.workers.do(answers.sheet, sent["text"], what, sent.get("start", ""))
        except TooSlowError:
            return PlainTextResponse(_TOO_SLOW)
        if made["problems"]:
            return _problems(made["problems"])
        if made["kind"] == "text/html":
            return _with_style(made["content"])
        headers = {"content-disposition": f'attachment; filename="{made["name"]}"'}
        return Response(made["content"].encode("utf-8", "replace"), media_type=made["kind"], headers=headers)

    async def plain_review(self, request: Request) -> Response:
        """A review for a browser without script."""
        text = (await _form(request)).get("text")
        if text is None:
            return PlainTextResponse("No plan came with the form.", 400)
        try:
            made = await self.workers.do(answers.sheet, text, "review")
        except TooSlowError:
            return PlainTextResponse(_TOO_SLOW)
        return _problems(made["problems"]) if made["problems"] else _with_style(made["content"])

    async def plan(self, request: Request) -> Response:
        """A plan of the folder: read it, or save it where nobody changed it meanwhile."""
        name = request.path_params["name"]
        if self.folder is None:
            return PlainTextResponse("There is no folder of plans here.", 404)
        try:
            if request.method == "GET":
                return _kept(await run_in_threadpool(self.folder.read, name))
            sent = _object(await request.body())
            text, mark = str(_field(sent, "text")), str(_field(sent, "mark"))
            return _kept(await run_in_threadpool(self.folder.save, name, text, mark))
        except KeyError:
            return PlainTextResponse("There is no such plan.", 404)
        except ChangedMeanwhileError as error:
            return _kept(error.now, 409)
        except BadRequestError as error:
            return PlainTextResponse(f"The request cannot be read: {error}.", 400)
        except InputError as error:
            return JSONResponse({"problems": [{"line": p.line, "message": p.message} for p in error.problems]}, 422)


def _object(body: bytes) -> dict[str, Any]:
    try:
        sent = json.loads(body.decode("utf-8"))
    except (ValueError, RecursionError):
        raise BadRequestError("it is no JSON") from None
    if not isinstance(sent, dict):
        raise BadRequestError("it is no JSON object")
    return sent


_NUMBERS = ("number", "places")


def _field(sent: dict[str, Any], name: str) -> Any:
    value = sent.get(name, [] if name == "jobs" else "")
    if name in _NUMBERS:
        if not isinstance(value, int) or isinstance(value, bool) or abs(value) > 1_000_000:
            raise BadRequestError(f"{name} is no number")
        return value
    if name == "jobs":
        if not isinstance(value, list) or not all(isinstance(one, str) for one in value) or len(value) > 40:
            raise BadRequestError("jobs is no list of names")
        return value
    if not isinstance(value, str):
        raise BadRequestError(f"{name} is no text")
    if name == "words" and len(value) > _MOST_WORDS:
        raise BadRequestError(f"words are more than {_MOST_WORDS:,} letters")
    return value.encode("utf-8", "replace").decode("utf-8")


async def _form(request: Request) -> dict[str, str]:
    """The fields of a form that came url-encoded; no library for uploads is needed."""
    from urllib.parse import parse_qs

    body = (await request.body()).decode("utf-8", "replace")
    try:
        fields = parse_qs(body, keep_blank_values=True, max_num_fields=8)
    except ValueError:
        return {}
    return {name: values[0].replace("\r\n", "\n") for name, values in fields.items()}


def _kept(one: PlanFile, status: int = 200) -> Response:
    return JSONResponse({"name": one.name, "text": one.text, "mark": one.mark}, status)


def _problems(problems: list[dict[str, Any]]) -> Response:
    return HTMLResponse(render("problems.html.j2", problems=problems))


def _with_style(page: str) -> Response:
    """A report as it is written to a file; the browser is told which style in it is ours, by its digest."""
    found = _STYLE.search(page)
    digest = base64.b64encode(hashlib.sha256((found[1] if found else "").encode()).digest()).decode()
    policy = f"default-src 'none'; style-src 'sha256-{digest}'; img-src data:; {_NOTHING_ELSE}"
    return HTMLResponse(page, headers={"content-security-policy": policy})
