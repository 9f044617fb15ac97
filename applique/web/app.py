"""The page's own server: each address reads a request, calls a room, and answers with plain data."""

from __future__ import annotations

import asyncio
import contextlib
import sys
from collections.abc import AsyncIterator, Callable, Mapping
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final, TypeVar

from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.middleware import Middleware
from starlette.requests import ClientDisconnect, Request
from starlette.responses import FileResponse, HTMLResponse, JSONResponse, Response, StreamingResponse
from starlette.routing import Mount, Route
from starlette.staticfiles import StaticFiles

from applique.archives import zipped
from applique.design import Design, design_data, design_from_mapping
from applique.errors import Problem, Refusal
from applique.kept import ChangedElsewhere, Chest
from applique.language import Speech, american, message
from applique.pattern import Sketch, sketch
from applique.photos import LARGEST_FILE as LARGEST_PHOTO
from applique.publishing import LARGEST_FILE
from applique.record import RECORD
from applique.starter import new_design
from applique.units import parse_length
from applique.web.answering import (
    TAB_HEADER,
    download,
    effort_asked,
    event,
    file_stem,
    svg,
    tab_asking,
    table_in,
    while_wanted,
)
from applique.web.beginnings import sample_design, sample_names, sample_picture
from applique.web.bench import Bench, Task
from applique.web.bodies import LARGEST_FONT, HeardOut, TooLarge, read_body, read_object
from applique.web.borders import borders_to_choose, spare_fabrics
from applique.web.findings import notice_views, problem_views
from applique.web.guard import Guard, refused
from applique.web.lettering import lettering_files
from applique.web.listing import NamesAnswers
from applique.web.moves import followed, moved, put_back
from applique.web.openapi import openapi
from applique.web.opening import OpeningAnswers, take_font, take_mark, take_photo
from applique.web.pages import page_count, page_png
from applique.web.presence import Presence
from applique.web.quilts import QuiltAnswers
from applique.web.samples import font_list, font_sample
from applique.web.speaking import described, page_html, speech_of
from applique.web.tabs import Made, Tab, Tabs
from applique.web.tasks import CustomersTask, MakeTask, NumbersTask, warm
from applique.web.trash import TrashAnswers
from applique.web.views import drawing_view

__all__ = ["Start", "page_app"]

Result = TypeVar("Result")
_STATIC: Final = Path(__file__).parent / "static"
_UNTIL_READY: Final = 0.3
"""Seconds after its first answer until the server loads more; the page has drawn itself by then."""
_WIDEST_PICTURE: Final = 1600


@dataclass(frozen=True, slots=True, kw_only=True)
class Start:
    """What a new page begins with: plain design data (empty: no words yet) and the name of its file."""

    design: Mapping[str, Any]
    name: str


class _Page:
    """The answers of the page. The drawing has a thread of its own; what takes seconds goes to the bench."""

    def __init__(self, *, tabs: Tabs, start: Start, presence: Presence, chest: Chest) -> None:
        self._tabs = tabs
        self._chest = chest
        self._start = start
        self._presence = presence
        self._drawing = ThreadPoolExecutor(max_workers=1, thread_name_prefix="drawing")
        self.bench = Bench(warm)

    def close(self) -> None:
        """Let go of threads and processes."""
        self._drawing.shutdown(wait=False, cancel_futures=True)
        self.bench.close()

    async def drawn(self, work: Callable[[], Result]) -> Result:
        """Typefaces and prepared shapes are shared, so one thread does all that draws."""
        return await asyncio.get_running_loop().run_in_executor(self._drawing, work)

    def _tab(self, request: Request) -> Tab:
        return tab_asking(self._tabs, request)

    async def hello(self, request: Request) -> Response:
        """A page opens, or comes back after it was loaded anew: its key, and what to begin with.

        It gets the fonts, marks and photos of the kept quilt that it shows, if it shows one.
        """
        asked = request.query_params.get("quilt", "")
        key = asked if self._chest.has(asked) else ""
        known = self._tabs.get(request.headers.get(TAB_HEADER, ""))
        tab = known if known is not None and known.quilt in ("", key) else self._tabs.new()
        if key:
            await asyncio.to_thread(self._show, tab, key)
        self._presence.came(tab.key)
        asyncio.get_running_loop().call_later(_UNTIL_READY, self._get_ready)
        blank = new_design(speech_of(request))
        return JSONResponse(
            {
                "tab": tab.key,
                "design": self._start.design or blank,
                "name": self._start.name,
                "blank": blank,
            }
        )

    def _get_ready(self) -> None:
        """Load what the first drawing and the first numbers need, while the maker looks at the page."""
        example = design_from_mapping({"row": [{"text": "A"}]})
        self._drawing.submit(lambda: drawing_view(sketch(example), example, american()))
        self.bench.get_ready()

    async def there(self, request: Request) -> Response:
        """That the program is there: asked now and then by a page that lies idle."""
        return Response(status_code=204)

    async def goodbye(self, request: Request) -> Response:
        """A page closes."""
        key = request.headers.get(TAB_HEADER, "")
        self._presence.went(key)
        tab = self._tabs.get(key)
        if tab is not None:
            tab.drawn = None
        return Response(status_code=204)

    async def plan(self, request: Request) -> Response:
        """The drawing of a design, and what stands in its way."""
        tab, data = self._tab(request), await read_object(request)
        speech = speech_of(request)

        def answer() -> dict[str, Any]:
            design: Design | None = None
            try:
                named = tab.checked(data)
                design = tab.with_paths(named)
                drawn = sketch(design, after=tab.drawn[1] if tab.drawn else None)
            except Refusal as refusal:
                problems = problem_views(refusal.problems, design, speech)
                return {"drawing": None, "findings": _named(tab, problems)}
            tab.drawn = (named, drawn)
            return _planned(tab, drawn, design, speech)

        return JSONResponse(await self.drawn(answer))

    async def numbers(self, request: Request) -> Response:
        """What to buy and to print, twice: quick, then searched. It goes on from the drawing of the same design."""
        tab, data = self._tab(request), await read_object(request)
        start = tab.start(tab.checked(data))
        task = NumbersTask(
            start=start, folder=tab.folder, language=speech_of(request).tag, effort=effort_asked(request)
        )
        return self._events(request, task, dict)

    async def make(self, request: Request) -> Response:
        """The whole pattern, step by step, from the drawing on. It is stopped by hanging up."""
        tab, data = self._tab(request), await read_object(request)
        task = MakeTask(start=tab.start(tab.checked(data)), folder=tab.folder, effort=effort_asked(request))
        return self._events(request, task, lambda value: self._keep(tab, *value, is_makers=True))

    async def make_for_customers(self, request: Request) -> Response:
        """The customer's edition, step by step."""
        tab, data = self._tab(request), await read_object(request)
        task = CustomersTask(design=tab.checked(data), folder=tab.folder, effort=effort_asked(request))
        return self._events(request, task, lambda value: self._keep(tab, *value, is_makers=False))

    def _keep(self, tab: Tab, title: str, files: dict[str, bytes], *, is_makers: bool) -> dict[str, Any]:
        """What was made is kept for the page to fetch, and listed."""
        stem = file_stem(title) if is_makers else f"{file_stem(title)}-for-customers"
        key = tab.keep_made(Made(stem=stem, files=files, is_makers=is_makers))
        return {
            "made": key,
            "name": stem,
            "files": [
                {
                    "name": name,
                    "size": len(content),
                    "pages": page_count(content) if name.endswith(".pdf") else 0,
                }
                for name, content in files.items()
                if is_makers or name != RECORD
            ],
        }

    def _events(self, request: Request, task: Task, done: Callable[[Any], Mapping[str, Any]]) -> Response:
        """The messages of `task` as server-sent events (HTML Standard); `done` makes the last one plain data."""

        async def events() -> AsyncIterator[str]:
            async with contextlib.aclosing(self.bench.run(task)) as messages:
                async for kind, value in while_wanted(request, messages):
                    match kind:
                        case "done":
                            value = await asyncio.to_thread(done, value or {})
                        case "refused":
                            value = {"findings": problem_views(value, None, speech_of(request))}
                        case "failed":
                            print(value, file=sys.stderr, flush=True)
                            value = {}
                        case "step":
                            value = {"step": value}
                    yield event(kind, value)

        return StreamingResponse(events(), media_type="text/event-stream")

    async def move(self, request: Request) -> Response:
        """A row or a letter moved by hand, or put back: the new design."""
        tab, asked = self._tab(request), await read_object(request)
        design = tab.checked(table_in(asked.get("design")))
        row, letter = asked.get("row"), asked.get("letter")
        if not isinstance(row, int) or not (letter is None or isinstance(letter, int)):
            raise Refusal(
                Problem(
                    kind="move-not-understood",
                    what=message("row and letter are whole numbers"),
                    fix=message("see /api/openapi.json"),
                )
            )
        if asked.get("back"):
            return JSONResponse({"design": design_data(put_back(design, row=row, letter=letter))})
        right, up = str(asked.get("right", "0in")), str(asked.get("up", "0in"))
        after = moved(design, row=row, letter=letter, right=right, up=up)
        return JSONResponse({"design": design_data(tab.checked(design_data(after)))})

    async def borders(self, request: Request) -> Response:
        """The borders that can be added to a design, each with its picture; fabrics that may be added come along."""
        tab, asked = self._tab(request), await read_object(request)
        named = tab.checked(table_in(asked.get("design")))
        spare = spare_fabrics(asked.get("spare"))
        speech = speech_of(request)
        found = await asyncio.to_thread(borders_to_choose, named, tab.with_paths(named), spare, speech)
        return JSONResponse({"borders": found})

    async def follow(self, request: Request) -> Response:
        """The moves by hand of a row whose letters have become larger or smaller: the new design."""
        tab, asked = self._tab(request), await read_object(request)
        design = tab.checked(table_in(asked.get("design")))
        row, before, now = asked.get("row"), str(asked.get("before", "")), str(asked.get("now", ""))
        after = followed(design, row=row if isinstance(row, int) else 0, before=before, now=now)
        return JSONResponse({"design": design_data(after)})

    async def fonts(self, request: Request) -> Response:
        """The fonts that this page may use."""
        return JSONResponse({"fonts": font_list(self._tab(request).fonts, speech_of(request))})

    async def sample(self, request: Request) -> Response:
        """Words set in one font."""
        tab, asked = self._tab(request), await read_object(request)
        data = {
            "row": [{"text": asked.get("words"), "font": asked.get("font"), "axes": asked.get("axes") or {}}]
        }
        row = tab.with_paths(tab.checked(data)).row[0]
        height = asked.get("cap_height")
        cap_height = parse_length(height) if isinstance(height, str) and height else None

        def answer() -> dict[str, Any]:
            return font_sample(row.font or "", row.text, row.axes or {}, cap_height)

        return JSONResponse(await self.drawn(answer))

    async def add_font(self, request: Request) -> Response:
        """A font file of the maker's own, kept for this page alone."""
        tab, content = self._tab(request), await read_body(request, most=LARGEST_FONT)
        name = request.query_params.get("name", "")
        font, about = await take_font(tab, self.bench, name, content, speech_of(request))
        return JSONResponse({"font": font, "described": about})

    async def add_mark(self, request: Request) -> Response:
        """The picture of a publisher's mark, kept for this page alone."""
        tab, content = self._tab(request), await read_body(request, most=LARGEST_FILE)
        return JSONResponse(
            {"mark_file": await take_mark(tab, request.query_params.get("name", ""), content)}
        )

    def _show(self, tab: Tab, key: str) -> None:
        """Give the page what is kept beside its quilt."""
        files = {name: self._chest.file(key, name) for name in self._chest.beside(key)}
        tab.show(key, {name: content for name, content in files.items() if content is not None})

    async def samples(self, request: Request) -> Response:
        """The samples that a new quilt can begin with."""
        named = [(name, sample_design(name) or {}) for name in sample_names()]
        return JSONResponse(
            {"samples": [{"sample": name, "title": design.get("title", name)} for name, design in named]}
        )

    async def sample_quilt(self, request: Request) -> Response:
        """The design of a sample."""
        design = sample_design(request.path_params["sample"])
        if design is None:
            raise HTTPException(404)
        return JSONResponse({"design": design})

    async def sample_quilt_picture(self, request: Request) -> Response:
        """A small picture of a sample."""
        name = request.path_params["sample"]
        drawn = await self.drawn(lambda: sample_picture(name))
        if drawn is None:
            raise HTTPException(404)
        return svg(drawn)

    async def add_photo(self, request: Request) -> Response:
        """The photo of a fabric, made ready and kept for this page alone."""
        tab, content = self._tab(request), await read_body(request, most=LARGEST_PHOTO)
        name, photo = await take_photo(tab, request.query_params.get("name", ""), content)
        return JSONResponse({"photo": name, "color": photo.color})

    async def photo(self, request: Request) -> Response:
        """The photo of a fabric that this page was given."""
        path = self._tab(request).photos.get(request.path_params["name"])
        if path is None:
            raise HTTPException(404)
        return FileResponse(path)

    def _made(self, request: Request) -> Made:
        made = self._tab(request).made.get(request.path_params["made"])
        if made is None:
            raise HTTPException(404)
        return made

    async def folder(self, request: Request) -> Response:
        """The finished folder as one zip."""
        made = self._made(request)
        content = await asyncio.to_thread(_zipped, made)
        return download(content, f"{made.stem}.zip", "application/zip")

    async def file(self, request: Request) -> Response:
        """One file of the finished folder; a name that is not in it is not looked for anywhere else."""
        name = request.path_params["name"]
        content = self._made(request).files.get(name)
        if content is None:
            raise HTTPException(404)
        return download(content, name.rsplit("/", 1)[-1], "application/octet-stream")

    async def picture(self, request: Request) -> Response:
        """One page of a finished PDF as a picture."""
        name, page = request.path_params["name"], request.path_params["page"]
        content = self._made(request).files.get(name)
        width = request.query_params.get("width", "320")
        if content is None or not name.endswith(".pdf") or not width.isdecimal():
            raise HTTPException(404)
        try:
            wide = min(max(int(width), 50), _WIDEST_PICTURE)
            drawn = await asyncio.to_thread(page_png, content, page, width_px=wide)
        except IndexError:
            raise HTTPException(404) from None
        return Response(drawn, media_type="image/png")

    async def description(self, request: Request) -> Response:
        """What this server answers, as OpenAPI, and what the keys of the design mean, in the language of the page."""
        return JSONResponse(described(openapi(), speech_of(request)))


def _planned(tab: Tab, drawn: Sketch, design: Design, speech: Speech) -> dict[str, Any]:
    drawing = drawing_view(drawn, design, speech)
    drawing["design"] = tab.with_names(drawing["design"])
    return {
        "drawing": drawing,
        "findings": _named(tab, notice_views(drawn.notices, design, speech, panel=drawn.panel)),
    }


def _named(tab: Tab, findings: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Findings whose cures call the fonts of the page by their names."""
    return [
        {
            **finding,
            "cures": [{**cure, "design": tab.with_names(cure["design"])} for cure in finding["cures"]],
        }
        for finding in findings
    ]


def _zipped(made: Made) -> bytes:
    """The folder of a maker with its record, so that it is replaced like any other; that of a customer without it."""
    return zipped(
        made.stem, {name: data for name, data in made.files.items() if made.is_makers or name != RECORD}
    )


async def _index(request: Request) -> Response:
    return HTMLResponse(page_html(speech_of(request)))


async def _lettering(request: Request) -> Response:
    file = lettering_files().get(request.path_params["name"])
    if file is None:
        raise HTTPException(404)
    return FileResponse(file, media_type=f"font/{file.suffix[1:]}")


async def _on_refusal(request: Request, error: Exception) -> Response:
    return refused(error.problems if isinstance(error, Refusal) else (), 422, request)


async def _on_changed_elsewhere(request: Request, error: Exception) -> Response:
    """412 is what HTTP says of a precondition that does not hold (RFC 9110, 15.5.13)."""
    problems = error.problems if isinstance(error, ChangedElsewhere) else ()
    return refused(problems, 412, request)


async def _on_too_large(request: Request, error: Exception) -> Response:
    most = error.most // 1_000_000 if isinstance(error, TooLarge) else 0
    problem = Problem(
        kind="request-too-large",
        what=message("it is larger than {most} MB", most=most),
        fix=message("a smaller file"),
    )
    answer = refused([problem], 413, request)
    answer.headers["connection"] = "close"  # or the server would read on what it has refused
    return HeardOut(answer)


async def _on_http(request: Request, error: Exception) -> Response:
    status = error.status_code if isinstance(error, HTTPException) else 500
    problem = Problem(
        kind="nothing-by-that-name",
        what=message("there is nothing here by that name"),
        fix=message("load the page anew"),
    )
    return refused([problem], status, request)


async def _on_gone(request: Request, error: Exception) -> Response:
    return Response(status_code=499)


async def _on_fault(request: Request, error: Exception) -> Response:
    problem = Problem(
        kind="fault-of-program",
        what=message("this is a fault of the program"),
        fix=message("the window that runs `applique serve` says more; your design is kept in the page"),
    )
    return refused([problem], 500, request)


def page_app(
    *, token: str, port: int, tabs: Tabs, start: Start, presence: Presence, chest: Chest
) -> Starlette:
    """The page and its answers, for requests to `port` of this machine that know the `token`."""
    page = _Page(tabs=tabs, start=start, presence=presence, chest=chest)

    @contextlib.asynccontextmanager
    async def life(app: Starlette) -> AsyncIterator[None]:
        yield
        page.close()

    answers = [
        Route("/hello", page.hello, methods=["POST"]),
        Route("/there", page.there, methods=["GET"]),
        Route("/goodbye", page.goodbye, methods=["POST"]),
        Route("/plan", page.plan, methods=["POST"]),
        Route("/numbers", page.numbers, methods=["POST"]),
        Route("/make", page.make, methods=["POST"]),
        Route("/make-for-customers", page.make_for_customers, methods=["POST"]),
        Route("/move", page.move, methods=["POST"]),
        Route("/borders", page.borders, methods=["POST"]),
        Route("/follow", page.follow, methods=["POST"]),
        Route("/fonts", page.fonts, methods=["GET"]),
        Route("/fonts", page.add_font, methods=["POST"]),
        Route("/marks", page.add_mark, methods=["POST"]),
        Route("/photos", page.add_photo, methods=["POST"]),
        Route("/photos/{name}", page.photo, methods=["GET"]),
        Route("/sample", page.sample, methods=["POST"]),
        Route("/made/{made}/folder", page.folder, methods=["GET"]),
        Route("/made/{made}/page/{page:int}/{name:path}", page.picture, methods=["GET"]),
        Route("/made/{made}/file/{name:path}", page.file, methods=["GET"]),
        Route("/samples", page.samples, methods=["GET"]),
        Route("/samples/{sample}", page.sample_quilt, methods=["GET"]),
        Route("/samples/{sample}/picture", page.sample_quilt_picture, methods=["GET"]),
        Route("/openapi.json", page.description, methods=["GET"]),
        *OpeningAnswers(tabs=tabs, bench=page.bench).routes,
        *NamesAnswers(tabs=tabs, bench=page.bench).routes,
        *QuiltAnswers(tabs=tabs, chest=chest, drawn=page.drawn).routes,
        *TrashAnswers(chest=chest, drawn=page.drawn).routes,
    ]
    return Starlette(
        routes=[
            Mount("/api", routes=answers),
            Route("/{token}/", _index),
            Route("/{token}/lettering/{name}", _lettering),
            Mount("/{token}/static", StaticFiles(directory=_STATIC)),
        ],
        middleware=[Middleware(Guard, token=token, port=port)],
        exception_handlers={
            ChangedElsewhere: _on_changed_elsewhere,
            Refusal: _on_refusal,
            TooLarge: _on_too_large,
            HTTPException: _on_http,
            ClientDisconnect: _on_gone,
            Exception: _on_fault,
        },
        lifespan=life,
    )
