"""One app for all tests of this folder: it keeps nothing between requests."""

import pytest

from server.app import create_app


@pytest.fixture(scope="session")
def app():
    return create_app()


@pytest.fixture
def client(app):
    return app.test_client()
