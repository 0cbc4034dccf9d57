"""The JSON for programs, and the pieces that the page asks for while somebody types."""

from urllib.parse import urlencode
from xml.etree import ElementTree

import pytest

from calc import answer_json, catalogue, sheet
from calc.model import Choice, Notation, Number, Numbers
from calc.qr import LONGEST, qr
from calc.run import span

CALCULATIONS = tuple(catalogue())
every = pytest.mark.parametrize("name", CALCULATIONS)

TYPED = (
    {},
    {"size": "30,02", "shaft": "g6", "hole": ""},
    {"size": "1 3/16 in"},
    {"size": "Ø30 µm"},
    {"size": "-1", "hole": "?", "nothing": "x"},
)


@every
def test_defaults_are_answered_in_the_very_words_of_calc(client, name):
    reply = client.get(f"/api/{name}")
    assert (reply.status_code, reply.content_type) == (200, "application/json")
    assert reply.data == answer_json(name, {}).encode()


@pytest.mark.parametrize("typed", TYPED, ids=str)
def test_status_tells_an_answer_from_a_refusal(client, typed):
    reply = client.get(f"/api/fit?{urlencode(typed)}")
    assert reply.data == answer_json("fit", typed).encode()
    assert reply.status_code == (422 if "problems" in reply.json else 200)
    assert ("values" in reply.json) == (reply.status_code == 200)
    again = client.get(f"/api/fit?{urlencode(typed)}")
    assert (again.status_code, again.data) == (reply.status_code, reply.data)


def test_an_unencoded_address_is_read_as_utf_8(client):
    reply = client.get("/api/fit", environ_overrides={"QUERY_STRING": "size=Ø30".encode().decode("latin-1")})
    assert reply.data == answer_json("fit", {"size": "Ø30"}).encode()


@pytest.mark.parametrize("root", ["/api", "/part/sheet"])
def test_an_unknown_name_is_a_404_in_json(client, root):
    reply = client.get(f"{root}/taper_of_a_horn?size=30")
    assert (reply.status_code, reply.content_type) == (404, "application/json")
    assert reply.data == answer_json("taper_of_a_horn", {}).encode()
    assert "taper_of_a_horn" in reply.json["problems"][0]["message"]


def test_an_input_given_twice_is_one_problem_among_the_others(client):
    reply = client.get("/api/fit?size=30&shaft=zz9&size=30&what=1")
    assert reply.status_code == 422
    assert reply.json["name"] == "fit"
    assert [one["name"] for one in reply.json["problems"]] == ["size", "shaft", "what"]
    assert "more than once" in reply.json["problems"][0]["message"]
    part = client.get("/part/sheet/fit?size=30&shaft=zz9&size=30&what=1")
    assert (part.status_code, part.json["problems"]) == (200, reply.json["problems"])


def test_the_catalogue_carries_every_declaration(client):
    reply = client.get("/api")
    assert (reply.status_code, reply.content_type) == (200, "application/json")
    assert [one["name"] for one in reply.json["calculations"]] == list(CALCULATIONS)
    for said in reply.json["calculations"]:
        declared = catalogue()[said["name"]]
        assert (said["title"], said["question"]) == (declared.title, declared.question)
        assert set(said["sources"]) == set(declared.sources)
        assert all(said["sources"].values())
        assert client.get(said["page"]).status_code == client.get(said["answer"]).status_code == 200
        assert [one["name"] for one in said["inputs"]] == [one.name for one in declared.inputs]
        for one, said_of in zip(declared.inputs, said["inputs"], strict=True):
            assert said_of["default"] == one.default
            assert (said_of["label"], said_of["help"], said_of["optional"]) == (one.label, one.help, one.optional)
            match one:
                case Number() | Numbers():
                    assert said_of["kind"] == one.kind
                    assert said_of["unit"] in said_of["units"]
                    assert said_of["limits"] == {
                        "low": one.low, "high": one.high, "low_included": not one.above, "text": span(one)
                    }  # fmt: skip
                case Choice():
                    assert said_of["options"] == dict(one.options)
                case Notation():
                    assert said_of["common"] == list(one.common)


@every
def test_the_page_gets_the_pieces_that_the_browser_would_make(client, name):
    for typed in ({}, {catalogue()[name].inputs[0].name: "<b>"}):
        reply = client.get(f"/part/sheet/{name}?{urlencode(typed)}")
        assert (reply.status_code, reply.content_type) == (200, "application/json")
        assert reply.data == sheet.sheet(name, typed).encode()
        assert bool(reply.json["problems"]) == bool(typed)


@pytest.mark.parametrize("text", ["30 k6", "30 H", "<script>", "", "x" * 100])
def test_a_call_out_is_a_piece_of_a_page(client, text):
    reply = client.get(f"/part/callout?{urlencode({'text': text})}")
    assert (reply.status_code, reply.content_type) == (200, "text/html; charset=utf-8")
    assert reply.data == sheet.callout_sheet(text).encode()
    assert b"<script" not in reply.data


def test_a_link_is_drawn_as_a_code(client):
    link = "https://shop.example/c/fit?size=30+mm&shaft=k6"
    reply = client.get(f"/part/qr?{urlencode({'link': link})}")
    assert (reply.status_code, reply.content_type) == (200, "image/svg+xml")
    assert reply.data == qr(link).encode()
    assert ElementTree.fromstring(reply.data).tag == "{http://www.w3.org/2000/svg}svg"


@pytest.mark.parametrize("link", ["", " ", "x" * (LONGEST + 1)])
def test_a_link_that_cannot_be_drawn_is_refused_by_name(client, link):
    reply = client.get(f"/part/qr?{urlencode({'link': link})}")
    assert (reply.status_code, reply.content_type) == (422, "application/json")
    assert [one["name"] for one in reply.json["problems"]] == ["link"]


def test_symbols_travel_as_they_are(client):
    assert '"unit":"µm"'.encode() in client.get("/api/fit").data


def test_health_is_two_letters(client):
    reply = client.get("/healthz")
    assert (reply.status_code, reply.content_type, reply.data) == (200, "text/plain; charset=utf-8", b"ok")
