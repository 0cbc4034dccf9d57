"""The engine's archives, made of the vendored files with the browser's own Python: `python3 -m tests.engine`."""
