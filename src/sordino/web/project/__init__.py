"""The project as text: every state it has had, changes that keep all else as it was, variants, what was not saved."""
