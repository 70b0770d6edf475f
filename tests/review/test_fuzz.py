"""Schemathesis tries the application's own description of itself: whatever it sends, there is no server error."""

from __future__ import annotations

from pathlib import Path

import schemathesis
from hypothesis import HealthCheck, given, settings
from schemathesis.checks import not_a_server_error

from pipeline.record.model import ExamRecord
from pipeline.record.store import Store
from pipeline.review.access import COOKIE, Doorkeeper, Session
from pipeline.review.app import create_app
from tests.review import demo

HOST = "127.0.0.1:8741"
EXAMPLES = 25  # for each operation


def test_no_request_makes_a_server_error(store: Store, exam: str, tmp_path: Path) -> None:
    doorkeeper = Doorkeeper(tmp_path / "secret")
    app = create_app(store, doorkeeper, frozenset({HOST}))
    token = doorkeeper.token(Session("Dr Ada"))
    headers = {"Host": HOST, "Origin": f"http://{HOST}", "Cookie": f"{COOKIE}={token}"}
    signed = store.add(ExamRecord(rows=demo.demo().record.rows[:2]), title="Signed")
    store.sign(signed, name="Dr Ada", role="Neurologist", statement="Checked.", seen=1)
    # Real ids beside one that leads nowhere, so that the requests get past the first check.
    ids = {
        "exam_id": [exam, signed, "0" * 16],
        "item_id": ["row-9", "row-15", "unheard-1", "unplaced-1", "row-999"],
    }
    for path in app.openapi()["paths"].values():
        for operation in path.values():
            for parameter in operation.get("parameters", []):
                if parameter["name"] in ids:
                    parameter["schema"] = {"type": "string", "enum": ids[parameter["name"]]}
    schema = schemathesis.openapi.from_asgi("/openapi.json", app, headers=headers)
    seen: dict[int, int] = {}
    for found in schema.get_all_operations():

        @settings(max_examples=EXAMPLES, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck))
        @given(found.ok().as_strategy())
        def attempt(case: schemathesis.Case) -> None:
            answer = case.call(headers=headers)
            case.validate_response(answer, checks=[not_a_server_error])
            seen[answer.status_code] = seen.get(answer.status_code, 0) + 1

        attempt()
    assert {200, 303, 400, 404, 409, 422} <= set(seen), seen
    assert sum(seen.values()) > 200
    assert store.verify(exam) == store.verify(signed) == []
