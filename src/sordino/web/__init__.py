"""The local page: a project file that is worked on in a browser, on this machine only."""
