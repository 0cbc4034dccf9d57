"""What the browser itself says when it is asked whether the app can be put on the home screen."""

import os

import pytest

from tests import chromium

#: Fetching the offline copy is not what is asked here, and a browser does not need it to install.
NO_COPY = "delete Navigator.prototype.serviceWorker"


@pytest.fixture(scope="session")
def executable(playwright):
    """A whole browser: one without windows installs nothing, and finds nothing in the way of it."""
    named = os.environ.get(chromium.WHOLE) or chromium.find(whole=True)
    return named or playwright.chromium.executable_path


@pytest.fixture
def asked(own_server, profile):
    """A function that opens the Bench of a server started with these arguments: what the browser finds in the way of
    installing it, and the manifest as it was read. Only a profile that is kept can install anything.
    """

    def ask(*arguments):
        own_server.start(*arguments)
        context = profile(own_server.address)
        context.add_init_script(NO_COPY)
        page = context.new_page()
        page.goto("/")
        devtools = context.new_cdp_session(page)
        errors = devtools.send("Page.getInstallabilityErrors")["installabilityErrors"]
        return [one["errorId"] for one in errors], devtools.send("Page.getAppManifest")

    return ask


def test_nothing_is_in_the_way_of_installing_it(asked, own_server):
    errors, manifest = asked()
    assert errors == []
    assert manifest["errors"] == []
    assert manifest["url"] == f"{own_server.address}/manifest.webmanifest"


def test_the_browser_would_say_so_if_something_were(asked, watch):
    watch.allow(r"console: ")
    errors, _ = asked("--lose", "/manifest.webmanifest")
    assert errors != []
