"""From parts to saw cuts: boards on stock sheets, sticks from stock lengths."""
