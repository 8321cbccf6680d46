"""The checked statement of a project: reading, its parts, and every mistake with its place and next step."""
