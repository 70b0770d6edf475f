"""The application: pages rendered here, changes taken from their forms, clips of the recording."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Annotated, Any, Literal
from urllib.parse import urlencode

from fastapi import FastAPI, Form, HTTPException, Query, Request
from fastapi import Path as PathPart
from fastapi.exceptions import RequestValidationError
from fastapi.responses import HTMLResponse, JSONResponse, RedirectResponse, Response
from fastapi.staticfiles import StaticFiles
from fastapi.templating import Jinja2Templates
from pydantic import BaseModel, Field, StringConstraints, ValidationError
from starlette.exceptions import HTTPException as StarletteHTTPException

from pipeline.lexicon import load
from pipeline.live.web import mount
from pipeline.record.errors import NoSuchExamination, SignedRecord, StaleChange, StoreError
from pipeline.record.model import Row
from pipeline.record.store import Store
from pipeline.review import page, risk, sound, wording
from pipeline.review.access import COOKIE, Doorkeeper, Guard, Session
from pipeline.review.vocabulary import Vocabulary

HERE = Path(__file__).parent

ExamId = Annotated[str, PathPart(pattern="^[0-9a-f]{16}$")]
ItemId = Annotated[str, PathPart(pattern="^[a-z]{1,12}-[0-9]{1,9}(-added)?$")]
Seen = Annotated[int, Form(ge=0, le=2**31 - 1)]
Selection = Annotated[str, Field(max_length=40)]
# Control characters have no place in a name or a reason, and PostgreSQL takes no NUL.
Text = Annotated[
    str, StringConstraints(strip_whitespace=True, max_length=2000, pattern=r"^[^\x00-\x08\x0b-\x1f\x7f]*$")
]
Word = Annotated[str, StringConstraints(strip_whitespace=True, max_length=120, pattern=r"^[^\x00-\x1f\x7f]*$")]


class Change(BaseModel):
    """What every form sends: the revision that the page showed, what to open next, and why."""

    seen: Annotated[int, Field(ge=0, le=2**31 - 1)]
    following: Selection = ""
    why: Text = ""


class Choosing(Change):
    alternative: Annotated[int, Field(ge=1, le=1000)]


class Grouping(Change):
    items: list[Word] = []


class Undoing(Change):
    entry: Annotated[int, Field(ge=2, le=2**31 - 1)]


class RowForm(Change):
    """A row as a person writes it; empty fields are left out."""

    manoeuvre: Word
    side: Literal["left", "right", "midline"]
    site: Word = ""
    value: Word = ""
    status: Literal["examined", "not_examined"] = "examined"
    reason: Literal["", "declined", "pain", "unable", "deferred", "not_done"] = ""
    roots: Word = ""
    muscle: Word = ""
    nerve: Word = ""
    from_gap: Word = ""

    def fields(self) -> dict[str, Any]:
        examined = self.status == "examined"
        return {
            "manoeuvre": self.manoeuvre,
            "side": self.side,
            "site": self.site or None,
            "value": (self.value.replace("−", "-") or None) if examined else None,
            "status": self.status,
            "reason": None if examined else self.reason or None,
            "roots": self.roots.upper().replace(",", " ").split(),
            "muscle": self.muscle or None,
            "nerve": self.nerve or None,
        }


class Signing(Change):
    name: Word
    role: Word
    statement: Text


def create_app(store: Store, doorkeeper: Doorkeeper, hosts: frozenset[str], *, keep_audio: bool = False) -> FastAPI:
    """The application for one store. `hosts` are the only values of the Host header that it answers to.

    `keep_audio`: whether recordings stay after signing.
    """
    app = FastAPI(title="Review of examination records", docs_url=None, redoc_url=None)
    app.add_middleware(Guard, doorkeeper=doorkeeper, hosts=hosts)
    app.mount("/static", StaticFiles(directory=HERE / "static"), name="static")
    mount(app, store)
    vocabulary = Vocabulary(load())
    templates = Jinja2Templates(HERE / "templates")
    templates.env.trim_blocks = templates.env.lstrip_blocks = True
    templates.env.globals.update(
        wording=wording, page=page, risk=risk, sound=sound, vocabulary=vocabulary, keep_audio=keep_audio
    )

    def render(request: Request, name: str, status: int = 200, **values: Any) -> HTMLResponse:
        values["reviewer"] = _session(request).reviewer
        return templates.TemplateResponse(request, name, values, status_code=status)

    def message(request: Request, status: int, text: str) -> HTMLResponse:
        return render(request, "message.html", status, text=text)

    def exam_page(
        request: Request, exam_id: str, wanted: str = "", done: int = 0, problem: str = "", status: int = 200
    ) -> HTMLResponse:
        gathered = page.gather(store, vocabulary, exam_id, wanted, done)
        return render(
            request, "exam.html", status, view=gathered, exam=gathered.exam, here=f"/exams/{exam_id}", problem=problem
        )

    def let_in(response: Response, session: Session) -> None:
        response.set_cookie(COOKIE, doorkeeper.token(session), httponly=True, samesite="strict", path="/")

    def change(
        request: Request, exam_id: str, item: str, form: Change, act: Callable[[str], int], *, may_stay: bool = False
    ) -> Response:
        """Does it and goes on to what follows; or shows the item again, with what stood in the way.

        `may_stay`: the item stays selected when it is still open afterwards.
        """
        try:
            revision = act(_named(request))
            stays = may_stay and store.exam(exam_id).item(item).open
        except NoSuchExamination:
            raise
        except StoreError as error:
            status = 409 if isinstance(error, StaleChange | SignedRecord) else 400
            return exam_page(request, exam_id, item, problem=_sentence(str(error)), status=status)
        query = urlencode({"item": item if stays else form.following, "done": revision})
        return RedirectResponse(f"/exams/{exam_id}?{query}", 303)

    @app.exception_handler(NoSuchExamination)
    def _no_such_examination(request: Request, _: NoSuchExamination) -> Response:
        return message(request, 404, "There is no such examination here. It may have been deleted.")

    @app.exception_handler(StoreError)
    def _store_error(request: Request, error: StoreError) -> Response:
        return message(request, 409, _sentence(str(error)))

    @app.exception_handler(StarletteHTTPException)
    def _http_error(request: Request, error: StarletteHTTPException) -> Response:
        if error.status_code == 307:
            return RedirectResponse("/reviewer", 303)
        return message(request, error.status_code, _sentence(str(error.detail)))

    @app.exception_handler(RequestValidationError)
    def _invalid(request: Request, error: RequestValidationError) -> Response:
        first = error.errors()[0]
        return message(request, 422, f"The {first['loc'][-1]} is missing or cannot be used. Go back and correct it.")

    @app.get("/enter", response_class=RedirectResponse, status_code=303)
    def enter(request: Request, key: Annotated[str, Query(max_length=200)] = "") -> Response:
        session = request.state.session
        if session is None:
            if not doorkeeper.exchange(key):
                return message(
                    request, 403, "This address was used already. Start the review command again for a new one."
                )
            session = Session()
        response = RedirectResponse("/", 303)
        let_in(response, session)
        return response

    @app.get("/reviewer", response_class=HTMLResponse)
    def ask_name(request: Request) -> Response:
        return render(request, "reviewer.html")

    @app.post("/reviewer", response_class=RedirectResponse, status_code=303)
    def take_name(name: Annotated[Word, Form(min_length=1)]) -> Response:
        response = RedirectResponse("/", 303)
        let_in(response, Session(name))
        return response

    @app.get("/", response_class=HTMLResponse)
    def examinations(request: Request) -> Response:
        _named(request)
        return render(request, "list.html", exams=store.list())

    @app.get("/exams/{exam_id}", response_class=HTMLResponse)
    def examination(
        request: Request,
        exam_id: ExamId,
        item: Selection = "",
        done: Annotated[int, Query(ge=0, le=2**31 - 1)] = 0,
    ) -> Response:
        _named(request)
        return exam_page(request, exam_id, item, done)

    @app.get("/exams/{exam_id}/news")
    def others(request: Request, exam_id: ExamId, after: Annotated[int, Query(ge=0, le=2**31 - 1)]) -> Response:
        return JSONResponse({"text": page.news(store.entries(exam_id, after), _session(request).reviewer)})

    @app.get("/exams/{exam_id}/clip.wav", response_class=Response, responses={206: {}, 416: {}})
    def clip(
        request: Request,
        exam_id: ExamId,
        start: Annotated[float, Query(ge=0, le=1e6, allow_inf_nan=False)],
        end: Annotated[float, Query(ge=0, le=1e6, allow_inf_nan=False)],
    ) -> Response:
        if not start < end <= start + sound.LONGEST:
            raise HTTPException(400, f"A clip lasts up to {sound.LONGEST:.0f} seconds.")
        return sound.ranged(store.clip(exam_id, start, end), request.headers.get("range"))

    @app.post("/exams/{exam_id}/items/{item_id}/confirm", response_class=RedirectResponse, status_code=303)
    def confirm(request: Request, exam_id: ExamId, item_id: ItemId, form: Annotated[Change, Form()]) -> Response:
        def act(who: str) -> int:
            return store.confirm(exam_id, item_id, who=who, seen=form.seen, why=form.why)

        return change(request, exam_id, item_id, form, act)

    @app.post("/exams/{exam_id}/items/{item_id}/choose", response_class=RedirectResponse, status_code=303)
    def choose(request: Request, exam_id: ExamId, item_id: ItemId, form: Annotated[Choosing, Form()]) -> Response:
        def act(who: str) -> int:
            alternatives = _row(store, exam_id, item_id).alternatives
            if form.alternative > len(alternatives):
                raise StoreError("the row has no such alternative; look again")
            chosen = alternatives[form.alternative - 1]
            return store.choose(exam_id, item_id, chosen, who=who, seen=form.seen, why=form.why)

        return change(request, exam_id, item_id, form, act, may_stay=True)

    @app.post("/exams/{exam_id}/items/{item_id}/edit", response_class=RedirectResponse, status_code=303)
    def edit(request: Request, exam_id: ExamId, item_id: ItemId, form: Annotated[RowForm, Form()]) -> Response:
        def act(who: str) -> int:
            _check(vocabulary, form)
            return store.edit(exam_id, item_id, form.fields(), who=who, seen=form.seen, why=form.why)

        return change(request, exam_id, item_id, form, act)

    @app.post("/exams/{exam_id}/items/{item_id}/reject", response_class=RedirectResponse, status_code=303)
    def reject(request: Request, exam_id: ExamId, item_id: ItemId, form: Annotated[Change, Form()]) -> Response:
        def act(who: str) -> int:
            return store.reject(exam_id, item_id, who=who, seen=form.seen, why=form.why)

        return change(request, exam_id, item_id, form, act)

    @app.post("/exams/{exam_id}/items/{item_id}/clear", response_class=RedirectResponse, status_code=303)
    def clear(request: Request, exam_id: ExamId, item_id: ItemId, form: Annotated[Change, Form()]) -> Response:
        clearing = store.clear_unheard if item_id.startswith("unheard-") else store.clear_unplaced

        def act(who: str) -> int:
            return clearing(exam_id, item_id, who=who, seen=form.seen, why=form.why)

        return change(request, exam_id, item_id, form, act)

    @app.post("/exams/{exam_id}/items/{item_id}/undo", response_class=RedirectResponse, status_code=303)
    def undo_item(request: Request, exam_id: ExamId, item_id: ItemId, form: Annotated[Change, Form()]) -> Response:
        def act(who: str) -> int:
            return store.undo(exam_id, [item_id], who=who, seen=form.seen, why=form.why)

        return change(request, exam_id, item_id, form, act)

    @app.post("/exams/{exam_id}/undo", response_class=RedirectResponse, status_code=303)
    def undo_entry(request: Request, exam_id: ExamId, form: Annotated[Undoing, Form()]) -> Response:
        def act(who: str) -> int:
            entries = store.entries(exam_id, form.entry - 1)
            items = [one.item for one in entries[0].content.changes] if entries else []
            return store.undo(exam_id, items, who=who, seen=form.seen, why=form.why)

        return change(request, exam_id, form.following, form, act)

    @app.post("/exams/{exam_id}/group", response_class=RedirectResponse, status_code=303)
    def confirm_group(request: Request, exam_id: ExamId, form: Annotated[Grouping, Form()]) -> Response:
        def act(who: str) -> int:
            return store.confirm_group(exam_id, form.items, who=who, seen=form.seen, why=form.why)

        return change(request, exam_id, page.GROUP, form, act)

    @app.post("/exams/{exam_id}/rows", response_class=RedirectResponse, status_code=303)
    def add_row(request: Request, exam_id: ExamId, form: Annotated[RowForm, Form()]) -> Response:
        def act(who: str) -> int:
            row = _check(vocabulary, form)
            gap = form.from_gap or None
            return store.add_row(exam_id, row, who=who, seen=form.seen, why=form.why, from_gap=gap)

        return change(request, exam_id, form.from_gap or page.ADD, form, act)

    @app.post("/exams/{exam_id}/sign", response_class=RedirectResponse, status_code=303)
    def sign(request: Request, exam_id: ExamId, form: Annotated[Signing, Form()]) -> Response:
        def act(_who: str) -> int:
            return store.sign(
                exam_id,
                name=form.name,
                role=form.role,
                statement=form.statement,
                seen=form.seen,
                keep_audio=keep_audio,
            )

        return change(request, exam_id, page.SIGN, form, act)

    @app.post("/exams/{exam_id}/amend", response_class=RedirectResponse, status_code=303)
    def amend(request: Request, exam_id: ExamId, form: Annotated[Change, Form()]) -> Response:
        newer = store.amend(exam_id, who=_named(request), why=form.why)
        return RedirectResponse(f"/exams/{newer}", 303)

    return app


def _session(request: Request) -> Session:
    return request.state.session or Session()


def _named(request: Request) -> str:
    """The reviewer's name; asks for one first."""
    reviewer = _session(request).reviewer
    if not reviewer:
        raise HTTPException(307, "who reviews?")
    return reviewer


def _row(store: Store, exam_id: str, item_id: str) -> Row:
    try:
        return store.exam(exam_id).item(item_id).row
    except (KeyError, ValidationError) as error:
        raise StoreError("the record has no such row; look again") from error


def _check(vocabulary: Vocabulary, form: RowForm) -> Row:
    try:
        row = Row.model_validate(form.fields())
    except ValidationError as error:
        what = "give a reason" if form.status == "not_examined" else "give a result"
        raise StoreError(f"the row is not complete: {what}") from error
    problem = vocabulary.problem(row)
    if problem:
        raise StoreError(problem)
    return row


def _sentence(text: str) -> str:
    text = text[:1].upper() + text[1:]
    return text if text.endswith((".", "?")) else f"{text}."
