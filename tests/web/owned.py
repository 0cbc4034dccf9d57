"""Entering things in the Shop, and finding them again on a page."""

import re

from playwright.sync_api import expect

HOSTILE = "<img src=x onerror=alert(1)>"


def own(page, sort, name, **typed):
    """Enter a thing of that sort in Shop and wait until it is kept."""
    section = page.locator(f"#own-{sort}")
    section.get_by_role("button", name=re.compile("Make it mine|Add another")).click()
    section.get_by_label("Name").fill(name)
    for field, text in typed.items():
        section.locator(f"#{field}").fill(text)
    section.get_by_role("button", name="Done").click()
    expect(section.locator("form")).to_be_hidden()
    expect(section.locator(".owned")).to_contain_text(name)
    return section


def edit(page, sort, name):
    section = page.locator(f"#own-{sort}")
    section.get_by_role("button", name=f"Edit {name}").click()
    expect(section.locator("form")).to_be_visible()
    return section


def fold(page, sort):
    return page.locator(f"#fold-{sort}")


def names(page, sort):
    """Whose figures the fold of that sort says it holds."""
    return fold(page, sort).locator("[data-thing-name]")


def step_aside(page, watch):
    """Go to an address of the app that has no page, where nothing of it runs and its storage can be prepared."""
    watch.allow(r"/favicon\.ico$")  # the browser asks for one where no page names another
    page.goto("/healthz")
