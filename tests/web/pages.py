"""The addresses that the tests of the screen go to, and what their answers should say."""

import re
from html import unescape
from urllib.parse import urlencode

from calc import answer, catalogue, sheet
from calc.model import Choice, Notation, Number, Refused
from calc.run import convert

CALCULATIONS = tuple(catalogue())
REFUSED = "/c/fit?size=-5&hole=Q9"
NOWHERE = "/nowhere"
NO_CALCULATION = "/c/no_such_thing"
#: Every sort of page there is.
ALL = (
    *(f"/c/{name}" for name in CALCULATIONS),
    "/",
    "/?text=30+H7%2Fk6",
    "/?text=nothing+known",
    "/shop",
    REFUSED,
    NO_CALCULATION,
)
#: What the browser itself puts on the console when a page is answered with 422 or 404.
STATUS = r"console: Failed to load resource: the server responded with a status of (404|422)"


def another(name):
    """Inputs that differ from the defaults of a calculation in one field, and lead to another headline."""
    usual = sheet.parts(name, {})["headline"]
    for one in catalogue()[name].inputs:
        for text in _others(one):
            try:
                answer(name, {one.name: text})
            except Refused:
                continue
            if sheet.parts(name, {one.name: text})["headline"] != usual:
                return {one.name: text}
    raise AssertionError(f"no single input changes the headline of {name}")


def _others(one):
    match one:
        case Number() if one.default:
            number = float(convert(one, one.default))
            return [f"{number * factor:.6g}" for factor in (1.1, 0.9, 1.5, 0.5)]
        case Choice():
            return [key for key in one.options if key != one.default]
        case Notation():
            return [entry for entry in one.common if entry != one.default]
    return []


def link(name, typed):
    """The address of a calculation with these inputs."""
    return f"/c/{name}?{urlencode(typed)}" if typed else f"/c/{name}"


def shown(markup):
    """What a browser shows of finished markup, as plain text."""
    return unescape(re.sub(r"<[^>]*>", "", markup))


def headline(name, typed):
    """The text of the headline for these inputs."""
    return shown(sheet.parts(name, typed)["headline"])


#: Leaves something where the memory of an engine is kept; whether that is still there.
LEAVE_MEMORY = """
async () => {
  const file = await (await navigator.storage.getDirectory()).getFileHandle("swarfbook-memory", { create: true });
  const writing = await file.createWritable();
  await writing.write("old");
  await writing.close();
}
"""
OLD_MEMORY = """
async () => {
  for await (const file of (await navigator.storage.getDirectory()).values()) {
    if ((await (await file.getFile()).text()) === "old") return true;
  }
  return false;
}
"""
#: Looks for another version until it comes: what the browser had begun to fetch before may be the old one.
UPDATE = """
async () => {
  const registration = await navigator.serviceWorker.getRegistration();
  for (const end = performance.now() + 60_000; performance.now() < end; ) {
    await registration.update();
    if (registration.installing ?? registration.waiting) return;
    await new Promise((later) => setTimeout(later, 100));
  }
  throw new Error("no other version came");
}
"""
