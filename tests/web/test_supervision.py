"""An engine that does not come back, breaks or sleeps: ended, started again, and never in the way of an answer."""

import re

import pytest
from playwright.sync_api import expect

from tests.web.pages import headline
from tests.web.stand_in import LIMIT, App


@pytest.fixture
def app(page, watch):
    watch.allow("ERR_INTERNET_DISCONNECTED")  # the browser's own word for having no network
    return App(page)


def test_what_the_engine_does_not_come_back_from_is_answered_by_the_server(app):
    app.open()
    app.type("61")
    expect(app.page.locator(".behind").first).to_be_attached()
    app.pass_time(LIMIT)
    app.says(headline("fit", {"size": "61"}))
    expect(app.page.locator("#size")).to_have_value("61")
    app.restarted()
    app.type("32")
    app.says("engine 32")
    assert app.started == 2


def test_without_a_server_it_is_said_what_to_do_and_what_was_typed_is_kept(app):
    app.open()
    app.page.context.set_offline(True)
    app.type("61")
    app.pass_time(LIMIT)
    said = app.page.locator("#answer .verdict")
    expect(said).to_contain_text("more than 20 seconds, and the engine was started again. Change what is typed")
    expect(said).to_contain_text("What you typed is kept.")
    expect(app.page.locator("#spoken")).to_contain_text("more than 20 seconds")
    expect(app.page.locator("#size")).to_have_value("61")
    expect(app.page).to_have_url(re.compile("size=61"))
    app.type("32")
    app.says("engine 32")
    assert app.started == 2


def test_trying_again_asks_again(app):
    app.open()
    app.page.context.set_offline(True)
    app.type("61")
    app.pass_time(LIMIT)
    app.restarted()
    app.page.get_by_role("button", name="Try again").click()
    expect(app.page.locator(".behind").first).to_be_attached()
    app.page.context.set_offline(False)
    app.pass_time(LIMIT)
    app.says(headline("fit", {"size": "61"}))


def test_another_question_that_waited_is_answered_all_the_same(app):
    app.open()
    app.page.context.set_offline(True)
    app.type("61")
    app.page.get_by_role("button", name="QR code").click()
    app.pass_time(LIMIT)
    expect(app.page.locator("dialog title")).to_have_text("code")


def test_an_engine_that_broke_is_started_again(app):
    app.open()
    app.type("62")
    app.at("62")
    app.tell("break")
    app.says(headline("fit", {"size": "62"}))
    app.restarted()
    app.type("32")
    app.says("engine 32")
    assert app.started == 2


def test_a_phone_that_slept_does_not_blame_the_engine(app):
    app.open()
    app.type("62")
    app.at("62")
    app.page.clock.fast_forward(10 * LIMIT)
    app.tell("answer")
    app.says("held 62")
    assert app.started == 1


def test_a_sign_of_life_is_waited_on(app):
    app.open()
    app.type("62")
    app.at("62")
    for time in range(3):
        app.pass_time(LIMIT * 6 // 10)
        app.tell("alive")
        app.tell(f"better {time}")
        app.says(f"better {time} 62")
    app.tell("answer")
    app.says("held 62")
    assert app.started == 1
