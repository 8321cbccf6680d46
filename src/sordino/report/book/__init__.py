"""The build book: what stands on each of its pages, and the files beside it."""
