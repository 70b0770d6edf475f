"""The page in a real browser: by keyboard alone, by two at once, over reloads and restarts, for everybody."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect

from pipeline.record.model import ExamRecord
from pipeline.record.store import Store
from tests.review import demo
from tests.review.browsing import entering, follow, press, reviewing, selected
from tests.review.server import Server, start

# Rows of the demo examination.
EVERSION, KNEE_JERK, ANKLE_JERK = "row-15", "row-23", "row-24"
STATIC = Path("pipeline/review/static")
# The page itself notes that a clip played: a busy computer may look again only when it is over.
NOTE_PLAYING = """document.addEventListener("timeupdate", ({target}) => {
    if (target.currentTime > 0.2 && target.closest(".clip.playing")) document.body.setAttribute("data-played", "");
}, true)"""


@pytest.fixture(scope="module")
def standing(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Server, Store]]:
    """A server that the tests share which do not start, stop or enter it; each has an examination of its own."""
    home = tmp_path_factory.mktemp("standing")
    with Store.open(home) as store, start(home) as server:
        yield server, store


def test_by_keyboard_alone_from_the_stored_record_to_the_signature(
    browser: Browser, serve: Callable[..., Server], store: Store, exam: str
) -> None:
    with entering(browser, serve()) as page:
        page.keyboard.press("Tab")  # skip link
        for _ in range(6):
            if page.evaluate("document.activeElement.textContent") == demo.TITLE:
                break
            page.keyboard.press("Tab")
        follow(page)
        expect(page.get_by_role("heading", name="15 to decide")).to_be_visible()

        assert "Ankle jerk" in selected(page)
        page.evaluate(NOTE_PLAYING)
        page.keyboard.press("p")
        expect(page.locator("body[data-played]")).to_be_visible()
        page.keyboard.press("p")
        expect(page.locator(".clip.playing")).to_have_count(0)

        press(page, "1")  # the left side instead
        assert store.exam(exam).item(ANKLE_JERK).row.side == "left"
        assert "Ankle eversion" in selected(page)
        press(page, "x")
        press(page, "u")  # taken back
        assert "Ankle eversion" in selected(page)
        press(page, "c")
        assert "Knee jerk" in selected(page)
        page.keyboard.press("e")
        page.keyboard.press("Tab")
        assert page.evaluate("document.activeElement.name") == "side"
        for _ in range(3):
            page.keyboard.press("Tab")
        assert page.evaluate("document.activeElement.name") == "value"
        page.keyboard.press("Control+A")
        page.keyboard.type("3+")
        press(page, "Enter")
        row = store.exam(exam).item(KNEE_JERK).row
        assert (row.manoeuvre, row.value, row.confirm) == ("knee_jerk", "3+", False)
        while not page.locator(".group .card").count():
            before = selected(page)
            press(page, "c")
            assert selected(page) != before
        assert "6 inferred normals" in selected(page)

        # The group is no reflex: the key that confirms single rows does nothing here.
        page.keyboard.press("c")
        assert len(store.exam(exam).open_items) == 6
        for _ in range(20):
            page.keyboard.press("Tab")
            if page.evaluate("document.activeElement.textContent").startswith("Confirm the ticked"):
                break
        press(page, "Enter")
        expect(page.get_by_role("heading", name="Nothing left to decide")).to_be_visible()

        assert page.locator("#sign").get_attribute("open") is not None
        page.keyboard.press("Tab")
        page.keyboard.press("Tab")
        assert page.evaluate("document.activeElement.name") == "role"
        page.keyboard.type("Neurologist")
        press(page, "Enter")
        expect(page.get_by_role("heading", name="Signed")).to_be_visible()
    view = store.exam(exam)
    assert view.signature is not None and view.signature.role == "Neurologist"
    assert store.verify(exam) == [] and {entry.who for entry in store.entries(exam)[1:]} == {"Dr Ada"}


def test_the_second_reviewer_is_told_and_nothing_is_overwritten(
    browser: Browser, serve: Callable[..., Server], store: Store, exam: str
) -> None:
    first, second = serve(), serve()
    with entering(browser, first, "Dr Ada") as ada, entering(browser, second, "Dr Ben") as ben:
        ada.goto(f"{first.root}/exams/{exam}?item={KNEE_JERK}")
        ben.goto(f"{second.root}/exams/{exam}?item={KNEE_JERK}")
        press(ada, "1")
        expect(ben.locator("#news")).to_contain_text("Dr Ada changed 1 item")
        ben.keyboard.press("x")  # he acts on what he saw before
        expect(ben.get_by_role("alert")).to_contain_text("Dr Ada changed this after you looked: value brisk → 2+")
        assert "Knee jerk" in selected(ben) and "2+" in selected(ben)
        press(ben, "u")
        assert store.exam(exam).item(KNEE_JERK).row.value == "brisk"
    assert [entry.who for entry in store.entries(exam)[1:]] == ["Dr Ada", "Dr Ben"]
    assert store.verify(exam) == []


def test_reload_and_restart_lose_nothing(
    browser: Browser, serve: Callable[..., Server], store: Store, exam: str
) -> None:
    server = serve()
    with entering(browser, server) as page:
        page.goto(f"{server.root}/exams/{exam}")
        press(page, "c")
        after = selected(page)
        page.reload()
        assert selected(page) == after
        expect(page.locator(".done")).to_contain_text("Confirmed: Ankle jerk, right: 1+.")
        server.stop()
        page.keyboard.press("c")
        expect(page.locator("#news")).to_contain_text("The program does not answer")
        assert store.exam(exam).revision == 2
        serve(port=server.port)
        page.reload()  # the browser is still let in, under the same name
        assert selected(page) == after
        press(page, "u")
        assert "Ankle jerk" in selected(page)
    assert len(store.exam(exam).open_items) == 15


def test_gaps_are_heard_cleared_or_made_rows(browser: Browser, standing: tuple[Server, Store]) -> None:
    server, store = standing
    exam = demo.add(store)
    with reviewing(browser, server) as page:
        page.goto(f"{server.root}/exams/{exam}?item=unheard-1")
        assert "Speech without words" in selected(page) and page.locator("#selected audio").count() == 1
        press(page, "c")
        page.goto(f"{server.root}/exams/{exam}?item=unplaced-1")
        expect(page.locator("#selected")).to_contain_text("brisk there on that side")
        page.keyboard.press("e")
        page.get_by_label("Manoeuvre").first.select_option("adductor_jerk")
        page.locator("#edit").get_by_label("Side").select_option("left")
        page.locator("#edit").get_by_label("Result").fill("quick")
        page.keyboard.press("Enter")
        expect(page.get_by_role("alert")).to_contain_text("The result is one of 0, 1+")
        page.keyboard.press("e")
        page.locator("#edit").get_by_label("Manoeuvre").select_option("adductor_jerk")
        page.locator("#edit").get_by_label("Side").select_option("left")
        page.locator("#edit").get_by_label("Result").fill("brisk")
        press(page, "Enter")
    record = store.export_record(exam)
    assert record.unheard == [] and record.unplaced == []
    assert (record.rows[-1].manoeuvre, record.rows[-1].value) == ("adductor_jerk", "brisk")


def test_rows_of_the_same_words_are_confirmed_and_taken_back_by_one_key(
    browser: Browser, standing: tuple[Server, Store]
) -> None:
    server, store = standing
    said = [{"start": 1, "end": 2, "heard": "normal L3 to S1", "mended": "normal L3 to S1"}]
    levels = ("L3", "L4", "L5", "S1")
    rows = [demo.doubtful("pinprick", "left", "normal", 0.8, "low_audio", site=one, evidence=said) for one in levels]
    rows.append(demo.doubtful("knee_jerk", "left", "2+", 0.9, "low_audio"))
    exam = store.add(ExamRecord.model_validate({"rows": rows}), title="T")
    with reviewing(browser, server) as page:
        page.goto(f"{server.root}/exams/{exam}")
        listed = page.locator("#selected .together li").all_inner_texts()
        assert [re.sub(r"\s+", " ", one) for one in listed] == [f"Pinprick {one} left 80 %" for one in levels]
        press(page, "a")
        assert [item.id for item in store.exam(exam).open_items] == ["row-5"] and "Knee jerk" in selected(page)
        assert page.locator("#selected .together").count() == 0
        page.keyboard.press("a")  # does nothing here
        press(page, "u")
        assert len(store.exam(exam).open_items) == 5


def test_a_result_without_a_side_cannot_be_read_as_one_of_the_right(
    browser: Browser, standing: tuple[Server, Store]
) -> None:
    """Beside one of the left: it says that it has no side, and does not stand in the right column."""
    server, store = standing
    rows = [{"manoeuvre": "heel_walk", "side": side, "value": "impaired"} for side in ("midline", "left", "right")]
    exam = store.add(ExamRecord.model_validate({"rows": rows}), title="T")
    with reviewing(browser, server) as page:
        page.goto(f"{server.root}/exams/{exam}")
        grid = page.locator("table.record")
        whole, right = grid.locator("td.midline"), grid.locator("td:not(.midline)").first
        assert whole.inner_text().split() == ["impaired", "no", "side"]
        value, column = whole.locator(".value").bounding_box(), right.bounding_box()
        assert value is not None and column is not None and value["x"] > column["x"] + column["width"] / 2


def test_an_amendment_shows_what_it_changed(browser: Browser, standing: tuple[Server, Store]) -> None:
    server, store = standing
    record = demo.demo().record
    settled = record.model_copy(
        update={
            "rows": [row.model_copy(update={"confirm": False, "flags": []}) for row in record.rows],
            "unheard": [],
            "unplaced": [],
        }
    )
    signed = store.add(settled, title="Signed record")
    store.sign(signed, name="Dr Ada", role="Neurologist", statement="Checked.", seen=1)
    with reviewing(browser, server) as page:
        page.goto(f"{server.root}/exams/{signed}?item={ANKLE_JERK}")
        expect(page.get_by_text("Dr Ada, Neurologist")).to_be_visible()
        assert page.locator("#selected").get_by_role("button").count() == 0
        page.get_by_text("Amend this record").click()
        page.get_by_label("Why it is amended").fill("the side was typed wrongly")
        page.keyboard.press("Enter")
        expect(page.get_by_text("version 2")).to_be_visible()
        page.goto(f"{page.url.split('?')[0]}?item={ANKLE_JERK}")
        page.keyboard.press("e")
        page.locator("#edit").get_by_label("Side").select_option("left")
        page.get_by_role("button", name="Keep these values").click()
        differences = page.locator(".differences")
        expect(differences.locator("del")).to_have_text("Ankle jerk, right: 1+")
        expect(differences.locator("ins")).to_have_text("Ankle jerk, left: 1+")


def test_it_works_without_the_script(browser: Browser, standing: tuple[Server, Store]) -> None:
    server, store = standing
    exam = demo.add(store)
    with reviewing(browser, server, java_script_enabled=False) as page:
        page.goto(f"{server.root}/exams/{exam}")
        page.get_by_role("button", name="Confirm").first.click()
        expect(page.locator(".done")).to_contain_text("Confirmed: Ankle jerk")
        page.get_by_role("button", name="Side left").click()  # there is a left ankle eversion already
        expect(page.get_by_role("alert")).to_contain_text("already has a row for ankle eversion, left")
        page.locator(".queue").get_by_role("link", name="Knee jerk").click()
        page.get_by_role("button", name="Result 2+").click()
        expect(page.locator(".done")).to_contain_text("Alternative chosen: Knee jerk, right: 2+.")
        for pane in ("#pane-record", "#pane-body", "#pane-talk"):
            expect(page.locator(pane)).to_be_visible()
    assert store.exam(exam).revision == 3


def test_single_keys_can_be_turned_off(browser: Browser, standing: tuple[Server, Store]) -> None:
    server, store = standing
    exam = demo.add(store)
    with reviewing(browser, server) as page:
        page.goto(f"{server.root}/exams/{exam}")
        page.keyboard.press("?")
        page.get_by_label("Use single keys").uncheck()
        page.get_by_role("button", name="Close").click()
        page.keyboard.press("c")
        page.keyboard.press("x")
        page.reload()
        page.keyboard.press("c")
        page.wait_for_timeout(300)
    assert store.exam(exam).revision == 1


def test_rows_and_words_lead_to_each_other(browser: Browser, standing: tuple[Server, Store]) -> None:
    server, store = standing
    exam = demo.add(store)
    with reviewing(browser, server) as page:
        page.goto(f"{server.root}/exams/{exam}?item={EVERSION}")
        page.keyboard.press("r")
        page.keyboard.press("r")
        chosen = page.locator(".transcript a.chosen")
        expect(chosen).to_be_in_viewport()
        assert chosen.locator("del").inner_text() and chosen.locator("ins").inner_text()
        page.locator(".transcript").get_by_text("pinprick is absent").click()
        expect(page.locator("#selected-title")).to_contain_text("Pinprick L5")
        for kind in ("Result", "Instruction", "Teaching", "Aside", "Correction", "Spoken control"):
            assert page.locator(f".block .kind:text-is('{kind}')").count() >= 1
        page.get_by_role("tab", name="Body chart").click()
        chart = page.locator("svg.front")
        assert "4−" in (chart.text_content() or "")
        assert (
            chart.locator(".sense.absent title").text_content()
            == "Light touch L5, right: reduced; Pinprick L5, right: absent"
        )


@pytest.fixture(scope="session")
def axe(tmp_path_factory: pytest.TempPathFactory) -> str:
    """axe-core, as the lock file beside this test pins it."""
    here, folder = Path(__file__).parent, tmp_path_factory.mktemp("axe")
    for name in ("package.json", "package-lock.json"):
        shutil.copy(here / name, folder)
    subprocess.run(["npm", "ci", "--no-audit", "--no-fund", "--ignore-scripts"], cwd=folder, check=True, timeout=300)
    return (folder / "node_modules/axe-core/axe.min.js").read_text()


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing_serious(browser: Browser, standing: tuple[Server, Store], axe: str, scheme: str) -> None:
    server, store = standing
    exam = demo.add(store)
    signed = store.add(ExamRecord(rows=demo.demo().record.rows[:6]), title="Signed")
    store.sign(signed, name="Dr Ada", role="Neurologist", statement="Checked.", seen=1)
    with reviewing(browser, server, color_scheme=scheme) as page:
        places = ["/", "/reviewer", "/exams/0000000000000000", f"/exams/{signed}"]
        places += [f"/exams/{exam}?item={item}" for item in (EVERSION, "unplaced-1", "group", "sign", "row-1")]
        for place in places:
            page.goto(server.root + place)
            for tab in ("tab-record", "tab-body", "tab-talk"):
                if "/exams/" in place and page.locator(f"#{tab}").count():
                    page.locator(f"#{tab}").click()
                    if page.locator("#edit").count():
                        page.locator("#edit").evaluate("one => (one.open = true)")
                page.wait_for_timeout(200)  # colours fade in
                page.evaluate(axe)
                found = page.evaluate("axe.run(document, {resultTypes: ['violations']})")["violations"]
                grave = [
                    (one["id"], [node["html"][:200] for node in one["nodes"]])
                    for one in found
                    if one["impact"] in ("serious", "critical")
                ]
                assert grave == [], f"{place} {tab}: {json.dumps(grave, indent=1)}"


@pytest.mark.parametrize(("width", "height"), [(1280, 800), (800, 1280), (640, 400), (400, 800)])
def test_nothing_is_cut_off_on_a_tablet_or_at_twice_the_size(
    browser: Browser, standing: tuple[Server, Store], width: int, height: int
) -> None:
    """640 by 400 is what 1280 by 800 becomes at 200 %."""
    server, store = standing
    exam = demo.add(store)
    with reviewing(browser, server) as page:
        page.set_viewport_size({"width": width, "height": height})
        for item in (EVERSION, "group", "sign", "unheard-1"):
            page.goto(f"{server.root}/exams/{exam}?item={item}")
            if page.locator("#edit").count():
                page.keyboard.press("e")
            for tab in ("tab-record", "tab-body", "tab-talk"):
                page.locator(f"#{tab}").click()
                assert page.evaluate("document.documentElement.scrollWidth") <= width
            # Big enough for a finger: 44 by 44 CSS px, WCAG 2.2 target size (enhanced), from memory.
            small = page.evaluate(
                "[...document.querySelectorAll('#selected button')].filter(b => b.checkVisibility())"
                ".map(b => b.getBoundingClientRect()).filter(r => r.height < 44 || r.width < 44).length"
            )
            assert small == 0


def test_focus_is_always_seen_and_motion_can_be_off(browser: Browser, standing: tuple[Server, Store]) -> None:
    server, store = standing
    exam = demo.add(store)
    with reviewing(browser, server, reduced_motion="reduce") as page:
        page.goto(f"{server.root}/exams/{exam}")
        page.evaluate("document.activeElement.blur()")
        for _ in range(25):
            page.keyboard.press("Tab")
            ring = page.evaluate("(s => [s.outlineStyle, s.outlineWidth])(getComputedStyle(document.activeElement))")
            assert ring == ["solid", "3px"], page.evaluate("document.activeElement.outerHTML.slice(0, 200)")
        moving = page.evaluate(
            "[...document.querySelectorAll('*')].filter(e => getComputedStyle(e).transitionDuration !== '0s' "
            "|| getComputedStyle(e).animationName !== 'none').length"
        )
        assert moving == 0


def test_every_button_and_field_has_a_name(browser: Browser, standing: tuple[Server, Store]) -> None:
    server, store = standing
    exam = demo.add(store)
    with reviewing(browser, server) as page:
        page.goto(f"{server.root}/exams/{exam}?item={EVERSION}")
        page.keyboard.press("e")
        tree = page.locator("body").aria_snapshot()
        for role in ("button", "link", "textbox", "combobox", "checkbox", "img", "tab"):
            assert not re.search(rf"^\s*- {role}:?$", tree, re.MULTILINE), role
        assert 'button "Play the words at 0:31"' in tree
        page.keyboard.press("Escape")
        press(page, "c")
        expect(page.get_by_role("status")).to_contain_text("Confirmed: Ankle eversion, right: 4+.")


def test_a_record_of_400_rows_stays_quick_to_use(browser: Browser, standing: tuple[Server, Store]) -> None:
    """Without a clock: the page holds all rows, and one key still decides and moves on."""
    server, store = standing
    exam = store.add(demo.large(), title="400 rows")
    with reviewing(browser, server) as page:
        page.goto(f"{server.root}/exams/{exam}")
        assert page.locator(".record .cell").count() == 400
        left = len(store.exam(exam).open_items)
        for done in range(1, 6):
            press(page, "c")
            expect(page.locator("#work-title")).to_have_text(f"{left - done} to decide")
        page.keyboard.press("g")
        expect(page.locator(".ticks li")).to_have_count(80)


def test_the_scripts_are_small_and_from_here() -> None:
    scripts = list(STATIC.glob("*.js"))
    assert sum(script.stat().st_size for script in scripts) < 50_000
    for file in [*scripts, *STATIC.glob("*.css"), *Path("pipeline/review/templates").glob("*.html")]:
        assert not re.search(r"(src|href)=.https?:|@import|url\(|eval\(|innerHTML", file.read_text()), file
