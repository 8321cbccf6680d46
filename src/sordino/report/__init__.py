"""What a person or a machine reads of an assessment. Nothing here works out a physical quantity."""
