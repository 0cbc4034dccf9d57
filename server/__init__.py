"""The server: Swarfbook's pages, its JSON and the files of the app, over HTTP."""
